package app

import (
	"fmt"
	"strconv"

	"emberbeat/shows/sheet"
	"emberbeat/timeline"
)

// askSwap asks which bank takes which one's place.
func (a *App) askSwap() {
	from := timeline.ID("")
	if units := a.chosenUnits(); len(units) > 0 {
		from = units[0]
	}
	for _, b := range a.work.shown.Rig.Banks {
		if from == "" && b.Dead {
			from = b.ID
		}
	}
	old, olds := a.choiceOf("id", "Dead bank", "bank", from, false)
	next, news := a.choiceOf("new", "Takes over", "bank", "", false)
	if next.at == old.at {
		next.at = (old.at + 1) % len(news)
	}
	old.help, next.help = "the bank whose wires move; it is taken out of service", "the bank that they move to; outputs keep their number where it is free there"
	d := &asking{title: "Swap a bank", verb: "Swap", caution: sheet.CircuitCaution + " " + sheet.Caution, fields: []*ask{old, next}}
	d.work = func(a *App, d *asking) outcome { return a.swapped(olds[old.at], news[next.at]) }
	d.show(a)
}

// swapped is what a swap comes to: rewire list, what finds no place, differences, retest list.
func (a *App) swapped(from, to timeline.ID) outcome {
	s := a.work.s.Show()
	p, err := s.ProposeBankSwap(from, to)
	if err != nil {
		return outcome{err: err}
	}
	r := sheet.NewRewire(s, p)
	out := outcome{change: change{"swap " + r.OldName + " for " + r.NewName, []timeline.Edit{p.Edit()}}, head: []string{"Effects", "From output", "To output", "Test, ohm"}}
	for _, m := range r.Moves {
		out.rows = append(out.rows, []string{m.Effects, strconv.Itoa(m.From), strconv.Itoa(m.To), retestOhms(r, m.To)})
	}
	for _, m := range r.Homeless {
		out.rows = append(out.rows, []string{m.Effects, strconv.Itoa(m.From), "no place", ""})
		out.lines = append(out.lines, fmt.Sprintf("No place: output %d, %s: %s. It stays on %s.", m.From, m.Effects, m.Why, r.OldName))
	}
	for _, text := range r.Warnings {
		out.lines = append(out.lines, "Warning: "+text+".")
	}
	out.lines = append(out.lines, fmt.Sprintf("%s is taken out of service. No cue changes. Test every output of %s that is listed again.", r.OldName, r.NewName))
	return out
}

func retestOhms(r *sheet.Rewire, output int) string {
	for _, x := range r.Retest {
		if x.Output == output && x.Expect > 0 {
			return strconv.FormatFloat(x.Expect, 'f', 2, 64)
		}
	}
	return "not given"
}
