package main

import (
	"errors"
	"fmt"

	"emberbeat/render/sheet"
	"emberbeat/shows/report/load"
	"emberbeat/timeline"
)

// exportNights writes the order list of several nights.
func (t *talk) exportNights(dir string, e sheetExport, names, by []string) error {
	err := e.settle(t)
	switch {
	case err != nil:
		return usage(err)
	case e.kind != "order-list":
		return usage(fmt.Errorf("--nights and --by are of order-list; %s is of one night", e.kind))
	case len(names) == 0:
		return hint(usage(errors.New("--by is of several nights, and none is chosen")), "add --nights A,B,C, or --nights all")
	case e.pick.night != "" || e.pick.song != "" || e.pick.bars != "" || e.mark || e.rate != "":
		return usage(errors.New("--nights is of whole nights; leave --night, --song, --bars, --rate and --mark out"))
	}
	l, err := t.load(dir)
	if err != nil {
		return err
	}
	nights, err := nightsNamed(l.Show, names)
	if err != nil {
		return usage(err)
	}
	o, err := load.NewNightsOrder(l.Show, nights, by, func(n *timeline.Night) *timeline.Plan {
		return timeline.Compile(l.Show.AsPlayed(n))
	})
	if err != nil {
		return usage(err)
	}
	return t.writeOut(e.out, e.writer(l.Show, sheet.NightsOrder(o)))
}

// nightsNamed finds nights; all is each that has a date.
func nightsNamed(s *timeline.Show, names []string) (list []*timeline.Night, err error) {
	if len(names) == 1 && names[0] == "all" {
		for _, n := range s.NightsInOrder() {
			if n.Date != "" {
				list = append(list, n)
			}
		}
		return list, nil
	}
	for _, name := range names {
		n, err := s.FindNight(name)
		if err != nil {
			return nil, err
		}
		list = append(list, n)
	}
	return list, nil
}
