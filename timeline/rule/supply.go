package rule

import (
	"fmt"
	"math"
	"slices"

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

// milligrams counts masses in whole milligrams, so that the order of adding
// them does not matter.
func milligrams(kg float64) int64 { return int64(math.Round(kg * 1e6)) }

// draw is what one command takes from each supply that feeds its unit and holds
// what it needs.
func draw(c *timeline.Command) int64 {
	return milligrams(c.Article.UseEach + c.Article.UseRate*c.Open.Seconds())
}

// feeding lists, for each unit, the supplies that feed it, by their place in
// the rig.
func feeding(p *timeline.Plan) [][]int {
	feeds := make([][]int, len(p.Units.All))
	for i, s := range p.Show.Rig.Supplies {
		for _, id := range s.Feeds {
			if u := p.Units.Of(id); u != nil {
				feeds[u.Index] = append(feeds[u.Index], i)
			}
		}
	}
	return feeds
}

// drawn adds up what a song takes from each supply.
func drawn(p *timeline.SongPlan, feeds [][]int, supplies []*timeline.Supply) []int64 {
	sum := make([]int64, len(supplies))
	for i := range p.Commands {
		c := &p.Commands[i]
		for _, s := range feeds[c.Unit.Index] {
			if supplies[s].Holds(c.Article) {
				sum[s] += draw(c)
			}
		}
	}
	return sum
}

// usable gives what can be drawn from a supply tonight, and its reserve.
func (r *setRun) usable(s *timeline.Supply) (usable, reserve int64) {
	fill := s.Fill * float64(s.Units)
	if r.plan.Night != nil {
		for _, f := range r.plan.Night.Fills {
			if f.Supply == s.ID {
				fill = f.Kg
			}
		}
	}
	return milligrams(fill * s.Usable), milligrams(fill * s.Usable * s.Reserve)
}

// checkSupplies reports, for each supply, the first command that takes it
// below its reserve, or below nothing.
func (r *setRun) checkSupplies(reserve bool) {
	for i, s := range r.plan.Show.Rig.Supplies {
		usable, limit := r.usable(s)
		if !reserve {
			limit = 0
		}
		if usable == 0 && reserve {
			continue // nothing is given; supply-empty tells if it is used
		}
		for j := range r.plan.Songs {
			before := r.drawnBefore(i, j)
			if usable-before-r.results[j].sum.drawn[i] < limit && r.runsShort(i, j, usable, before, limit, reserve) {
				break
			}
		}
	}
}

// drawnBefore adds up what all songs that may be played before song j take
// from a supply.
func (r *setRun) drawnBefore(supply, j int) int64 {
	var sum int64
	most := map[string]int64{}
	for i := range j {
		d := r.results[i].sum.drawn[supply]
		switch {
		case r.order.surely(i):
			sum += d
		case r.order.both(i, j):
			most[r.order.alt[i]] = max(most[r.order.alt[i]], d)
		}
	}
	for _, d := range most {
		sum += d
	}
	return sum
}

// runsShort finds the command of song j that takes a supply below a limit.
func (r *setRun) runsShort(supply, j int, usable, before, limit int64, reserve bool) bool {
	ps, s := r.song(j), r.plan.Show.Rig.Supplies[supply]
	left := usable - before
	for i := range ps.Commands {
		c := &ps.Commands[i]
		if !slices.Contains(r.feeds[c.Unit.Index], supply) || !s.Holds(c.Article) {
			continue
		}
		d := draw(c)
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
