package rule

import (
	"fmt"

	"emberbeat/timeline"
)

var supplyReserveRule = Rule{
	Name:    "supply-reserve",
	Summary: "a supply falls below its reserve during the set",
	Reason: "level = fill x usable - sum(use per hit + use per second x open time). Below the reserve pressure and height fade: swap before the hit that would " +
		"reach it. A night's weighed fill replaces the supply's; of alternatives the one that uses most counts; refills during the set are not planned yet.",
	Scope:    WholeSet,
	Severity: Warning,
	Settings: []Setting{
		{Name: "reserve", Field: "supply reserve", Mark: timeline.Judgement, Source: "our judgement: 0.15", Help: "part of the usable fill below which it should be swapped"},
		{Name: "usable", Field: "supply usable", Mark: timeline.CommonPractice, Source: "the supply's own", Help: "part of the fill that can be drawn"},
	},
	set: func(r *setRun) { r.checkSupplies(true) },
}

var supplyEmptyRule = Rule{
	Name:     "supply-empty",
	Summary:  "a supply is empty before the set is over",
	Reason:   "The same sum as for supply-reserve, compared with nothing left. What is commanded from there on does not come.",
	Scope:    WholeSet,
	Severity: Error,
	set:      func(r *setRun) { r.checkSupplies(false) },
}

// checkSupplies reports, for each supply, the first command that takes it
// below its reserve, or below nothing.
func (r *setRun) checkSupplies(reserve bool) {
	for i, s := range r.plan.Show.Rig.Supplies {
		usable, limit := r.plan.Usable(s)
		if !reserve {
			limit = 0
		}
		if usable == 0 && reserve {
			continue // nothing is given; supply-empty tells if it is used
		}
		drawn := make([]int64, len(r.results))
		for j := range r.results {
			drawn[j] = r.results[j].sum.drawn[i]
		}
		for j := range r.plan.Songs {
			before := timeline.WorstBefore(r.order.alt, drawn, j)
			if usable-before-drawn[j] < limit && r.runsShort(i, j, usable, before, limit, reserve) {
				break
			}
		}
	}
}

// runsShort finds the command of song j that takes a supply below a limit.
func (r *setRun) runsShort(supply, j int, usable, before, limit int64, reserve bool) bool {
	ps, s := r.song(j), r.plan.Show.Rig.Supplies[supply]
	left := usable - before
	for i := range ps.Commands {
		c := &ps.Commands[i]
		if !r.feeds.Feed(supply, c) {
			continue
		}
		d := c.Draw()
		if left-d >= limit {
			left -= d
			continue
		}
		f := about(ps.SongPlan, c.Cue, c.Hit)
		f.Ref, f.Others = rigRef("supply", s.ID), []timeline.Ref{cueRef(ps.SongPlan, c.Cue)}
		f.Text = fmt.Sprintf("%s has %s left and this hit takes %s", s.Name, kilograms(left), kilograms(d))
		if reserve {
			f.Text += ", below its reserve of " + kilograms(limit)
		}
		f.Values = []Value{measure("left", float64(left)/1e6, "kg"), measure("takes", float64(d)/1e6, "kg"), measure("limit", float64(limit)/1e6, "kg")}
		f.Grounds = []Ground{ofRecord(f.Ref, "usable", share(s.Usable), timeline.CommonPractice), ofRecord(f.Ref, "reserve", share(s.Reserve), timeline.Judgement)}
		f.Help = "swap or refill it before this hit, join more units, or use less"
		r.add(r.tune(j, c.Unit, c.Article), j, "", f)
		return true
	}
	return false
}

// kilograms writes a mass to the gram.
func kilograms(mg int64) string { return trimZeros(fmt.Sprintf("%.3f", float64(mg)/1e6)) + " kg" }
