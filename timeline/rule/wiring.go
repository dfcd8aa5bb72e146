package rule

import (
	"fmt"

	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:     "unwired",
	Summary:  "a unit is commanded and no output drives it",
	Reason:   "A placed effect without a wire, or with all its banks and devices dead, does nothing. What a night has taken out with a reason is on the cut list instead. One finding for each unit that the set plays.",
	Scope:    WholeSet,
	Severity: Error,
	set:      checkUnwired,
})

var _ = enter(Rule{
	Name:     "no-output",
	Summary:  "a wire names an output that its bank or device does not have",
	Reason:   "A bank has as many outputs as its type, a device as many heads as its type has effect slots for. A wire beyond them leads nowhere.",
	Scope:    WholeSet,
	Severity: Error,
	rig:      checkNoOutput,
})

func checkUnwired(r *setRun) {
	for _, uses := range r.merged {
		if len(uses) == 0 || r.units[uses[0].unit.Index].live {
			continue
		}
		if uses[0].unit.LeftOut != "" {
			continue // the night says why: it is cut
		}
		first, total, presses := &uses[0], 0, 0
		for i := range uses {
			total, presses = total+uses[i].cues, presses+uses[i].presses
			if uint(uses[i].song) < uint(first.song) {
				first = &uses[i]
			}
		}
		u := first.unit
		f := r.firstUse(rigRef("placed", u.Placed.ID), first)
		f.Text = u.Name + ": nothing is wired to it; " + often(total, presses) + " of the set would do nothing"
		f.Help = "wire it to a free output"
		for _, d := range u.Drives {
			f.Text = u.Name + ": " + d.Label(timeline.EffectSlot) + " is dead; " + often(total, presses) + " of the set would do nothing"
			f.Help = "wire it to an output that works"
			f.Others = append(f.Others, rigRef("wire", d.Wire.ID))
		}
		f.Values = append([]Value{word("outputs", u.OutputsText())}, withPresses(presses, count("commands", total))...)
		r.add(r.tune(first.song, u, first.article), first.song, "", f)
	}
}

func checkNoOutput(r *rigRun) {
	for _, u := range r.plan.Units.All {
		for _, d := range u.Drives {
			has, what, name := outputsOf(d)
			if has < 0 || d.Wire.Output <= has && d.Wire.Output > 0 {
				continue
			}
			f := Finding{Ref: rigRef("wire", d.Wire.ID), Others: []timeline.Ref{rigRef("placed", u.Placed.ID)}}
			f.Text = fmt.Sprintf("%s is wired to %s %d of %s, which has %s", u.Name, what, d.Wire.Output, name, timeline.Counted(has, what))
			f.Values = []Value{count("output", d.Wire.Output), count("has", has)}
			f.Help = fmt.Sprintf("wire it to an output from 1 to %d", has)
			r.add(r.tune(u, u.Article), "", f)
		}
	}
}

// outputsOf says how many outputs the bank or device of a drive has; -1 where
// its type is lost.
func outputsOf(d timeline.Drive) (n int, what, name string) {
	switch {
	case d.BankType != nil:
		return d.BankType.Outputs, "output", d.Name
	case d.DeviceType != nil:
		return d.DeviceType.Heads(), "head", d.Name
	}
	return -1, "", ""
}
