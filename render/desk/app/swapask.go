package app

import (
	"fmt"
	"slices"
	"strconv"

	"emberbeat/render/desk/page"
	"emberbeat/shows/report"
	"emberbeat/shows/report/load"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// askSwap asks which bank takes which one's place.
func (a *App) askSwap(o *operation.Operation) {
	from := timeline.ID("")
	if units := a.chosenUnits(); len(units) > 0 {
		from = units[0]
	}
	banks := a.work.shown.Rig.Banks
	for _, b := range banks {
		if from == "" && b.Dead {
			from = b.ID
		}
	}
	ids, _ := a.recordChoices("bank")
	if !slices.Contains(ids, string(from)) {
		from = timeline.ID(ids[0])
	}
	next := ids[0]
	if next == string(from) {
		next = ids[1]
	}
	a.askOperation(o, timeline.Ref{}, formSpec{given: map[string]string{"old": string(from), "new": next}, caution: load.CircuitCaution + " " + report.Caution,
		off:  map[string]func(any) string{"tonight": func(any) string { return page.NeedNight(a, "the night that it is for") }},
		show: func(a *App, args any) outcome { return a.swapped(args.(*operation.SwapBank)) }})
}

// swapped is what a swap comes to: rewire list, what finds no place, differences, retest list.
func (a *App) swapped(banks *operation.SwapBank) outcome {
	p, err := banks.Propose(a.work.plan)
	if err != nil {
		return outcome{err: err}
	}
	s := a.work.s.Show()
	r := load.NewRewire(s, p)
	out := outcome{head: []string{"Effects", "From output", "To output", "Test, ohm"}}
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

func retestOhms(r *load.Rewire, output int) string {
	for _, x := range r.Retest {
		if x.Output == output && x.Expect > 0 {
			return strconv.FormatFloat(x.Expect, 'f', 2, 64)
		}
	}
	return "not given"
}
