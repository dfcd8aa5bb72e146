package shows

import (
	"embed"
	"io/fs"
	"sync"

	"emberbeat/timeline"
)

//go:embed starter
var starterFiles embed.FS

// starterShow reads the embedded folder once.
var starterShow = sync.OnceValues(func() (*timeline.Show, error) {
	folder, err := fs.Sub(starterFiles, "starter")
	if err != nil {
		return nil, err
	}
	l, err := LoadFrom(FS(folder))
	if err != nil {
		return nil, err
	}
	return l.Show, nil
})

// Starter gives a stock to begin with: an article of every family and some
// device and bank types, all invented and marked so. It stands as text in the
// folder starter beside this file.
func Starter() (*timeline.Stock, error) {
	s, err := starterShow()
	if err != nil {
		return nil, err
	}
	return s.Stock, nil
}

// WithStarterRig gives a new show the starter stock and a small rig of it to begin
// with, invented as the stock is: positions, effects in groups, banks, wires and a
// supply, from the same folder.
func WithStarterRig(s *timeline.Show) (*timeline.Show, error) {
	from, err := starterShow()
	if err != nil {
		return nil, err
	}
	return s.Edit(timeline.AddStock(from.Stock), func(d *timeline.Draft) error {
		r := from.Rig
		putAll(d, r.Positions)
		putAll(d, r.Placed)
		putAll(d, r.Groups)
		putAll(d, r.Banks)
		putAll(d, r.Wires)
		putAll(d, r.Supplies)
		return nil
	})
}

func putAll[R timeline.Record](d *timeline.Draft, list []R) {
	for _, r := range list {
		d.Put("", r)
	}
}

// starterSource is what articles of the starter stock say of where they come from.
const starterSource = "invented starter stock"

// StarterLanes gives the lanes that a new song begins with where the rig is that of
// WithStarterRig: one for each group, called after what it aims at. There are none
// where anything else is placed: whoever has a rig of their own says what they want
// of it.
func StarterLanes(s *timeline.Show) []*timeline.Lane {
	for _, p := range s.Rig.Placed {
		if a := s.Stock.Article(p.Article); a == nil || a.Mark != timeline.Invented || a.Source != starterSource {
			return nil
		}
	}
	var lanes []*timeline.Lane
	for _, g := range s.Rig.Groups {
		lane := timeline.KindOf("lane").New(NewID()).(*timeline.Lane)
		lane.Target = g.ID
		lanes = append(lanes, lane)
	}
	return lanes
}
