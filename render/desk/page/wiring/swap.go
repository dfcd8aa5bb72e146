package wiring

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"emberbeat/render/desk/page"
	"emberbeat/shows/report"
	"emberbeat/shows/report/load"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// askSwap asks which bank takes which one's place.
func (p *wiring) askSwap() {
	var from timeline.ID
	if drivers := p.chosenDrivers(); len(drivers) > 0 {
		from = drivers[0]
	}
	banks := slices.Clone(p.h.Show().Rig.Banks)
	for _, b := range banks {
		if from == "" && b.Dead {
			from = b.ID
		}
	}
	name := func(b *timeline.Bank) string { return p.h.Show().Called(b) }
	slices.SortFunc(banks, func(x, y *timeline.Bank) int { return strings.Compare(name(x), name(y)) }) // as the form lists them
	if !slices.ContainsFunc(banks, func(b *timeline.Bank) bool { return b.ID == from }) {
		from = banks[0].ID
	}
	next := banks[0].ID
	if next == from {
		next = banks[1].ID
	}
	p.h.AskFor(operation.Find("swap-bank", ""), timeline.Ref{}, page.Form{Given: map[string]string{"old": string(from), "new": string(next)}, Caution: load.CircuitCaution + " " + report.Caution,
		Off:  map[string]func(any) string{"tonight": func(any) string { return page.NeedNight(p.h, "the night that it is for") }},
		Show: func(args any) (page.Outcome, error) { return p.swapped(args.(*operation.SwapBank)) }})
}

// swapped is what a swap comes to: rewire list, what finds no place, differences, retest list.
func (p *wiring) swapped(banks *operation.SwapBank) (page.Outcome, error) {
	swap, err := banks.Propose(p.h.Plan())
	if err != nil {
		return page.Outcome{}, err
	}
	r := load.NewRewire(p.h.Show(), swap)
	out := page.Outcome{Columns: []string{"Effects", "From output", "To output", "Test, ohm"}}
	for _, m := range r.Moves {
		out.Rows = append(out.Rows, []string{m.Effects, strconv.Itoa(m.From), strconv.Itoa(m.To), retestOhms(r, m.To)})
	}
	for _, m := range r.Homeless {
		out.Rows = append(out.Rows, []string{m.Effects, strconv.Itoa(m.From), "no place", ""})
		out.Lines = append(out.Lines, fmt.Sprintf("No place: output %d, %s: %s. It stays on %s.", m.From, m.Effects, m.Why, r.OldName))
	}
	for _, text := range r.Warnings {
		out.Lines = append(out.Lines, "Warning: "+text+".")
	}
	out.Lines = append(out.Lines, fmt.Sprintf("%s is taken out of service. No cue changes. Test every output of %s that is listed again.", r.OldName, r.NewName))
	return out, nil
}

func retestOhms(r *load.Rewire, output int) string {
	for _, x := range r.Retest {
		if x.Output == output && x.Expect > 0 {
			return strconv.FormatFloat(x.Expect, 'f', 2, 64)
		}
	}
	return "not given"
}
