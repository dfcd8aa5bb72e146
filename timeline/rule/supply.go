package rule

import (
	"fmt"

	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:    "supply-reserve",
	Summary: "a supply falls below its reserve during the set",
	Reason: "level = fill x usable - sum(use per hit + use per second x open time). Below the reserve pressure and height fade: swap before the hit that would " +
		"reach it. A night's weighed fill replaces the supply's, and so does what was weighed after the night before; a planned refill that surely happens starts anew. Of alternatives " +
		"the one that uses most counts, and keys of the operator's plan with all their presses, before anything else in their song.",
	Scope:    WholeSet,
	Severity: Warning,
	Settings: []Setting{
		{Name: "fill", Unit: "kg", Field: "supply fill", Mark: timeline.CommonPractice, Source: "the supply's own", Help: "in one full unit; a night's weighed fill replaces it"},
		{Name: "reserve", Field: "supply reserve", Mark: timeline.Judgement, Source: "our judgement: 0.15", Help: "part of the usable fill below which it should be swapped"},
		{Name: "usable", Field: "supply usable", Mark: timeline.CommonPractice, Source: "the supply's own", Help: "part of the fill that can be drawn"},
	},
	set: func(r *setRun) { r.checkSupplies(true) },
})

var _ = enter(Rule{
	Name:     "supply-empty",
	Summary:  "a supply is empty before the set is over",
	Reason:   "The same sum as for supply-reserve, compared with nothing left. What is commanded from there on does not come.",
	Scope:    WholeSet,
	Severity: Error,
	Settings: []Setting{
		{Name: "fill", Unit: "kg", Field: "supply fill", Mark: timeline.CommonPractice, Source: "the supply's own", Help: "in one full unit; a night's weighed fill replaces it"},
		{Name: "usable", Field: "supply usable", Mark: timeline.CommonPractice, Source: "the supply's own", Help: "part of the fill that can be drawn"},
		inRecord("supply reserve", "", "part of what can be drawn that is kept"),
	},
	set: func(r *setRun) { r.checkSupplies(false) },
})

// checkSupplies reports, for each supply, the first command that takes it
// below its reserve, or below nothing; after each refill anew.
func (r *setRun) checkSupplies(reserve bool) {
	for i, s := range r.plan.Show.Rig.Supplies {
		drawn := make([]int64, len(r.results))
		for j := range r.results {
			drawn[j] = r.results[j].sum.drawn[i]
		}
		c := &supplyCheck{setRun: r, supply: i, of: s, run: r.plan.Run(s, drawn), reserve: reserve}
		for j := range r.plan.Songs {
			c.song(j, drawn[j])
		}
	}
}

// supplyCheck is one supply on its way through the set.
type supplyCheck struct {
	*setRun
	supply  int
	of      *timeline.Supply
	run     *timeline.SupplyRun
	reserve bool // its reserve is the limit, not nothing
	limit   int64

	told bool // it fell short, and has not been refilled since
	last *timeline.PlannedRefill
}

// song looks at one song, of which timecode draws so much.
func (c *supplyCheck) song(j int, drawn int64) {
	stage := c.run.Stage(j)
	if stage.Refill != c.last {
		c.last, c.told = stage.Refill, false
	}
	c.limit = 0
	if c.reserve {
		c.limit = stage.Reserve
	}
	if c.told || stage.Usable == 0 && c.reserve {
		return // nothing is given; supply-empty tells if it is used
	}
	switch left := c.run.Before(j); {
	case left < c.limit && c.run.ByHand(j)+c.run.ByHand(-1) > 0:
		c.keysTakeIt(j, left)
		c.told = true
	case left-drawn < c.limit:
		c.told = c.runsShort(j, left)
	}
}

// keysTakeIt reports that keys alone may take the supply below the limit.
func (c *supplyCheck) keysTakeIt(j int, left int64) {
	ps := c.setRun.song(j)
	f := Finding{Ref: rigRef("supply", c.of.ID), Song: ps.Song.ID, Number: ps.Number}
	takes := c.run.ByHand(j) + c.run.ByHand(-1)
	f.Text = fmt.Sprintf("%s: keys of the operator's plan may take %s by the start of this song, which leaves %s", c.name(c.of), c.kilograms(takes), c.kilograms(left))
	f.Values = []Value{measure("left", float64(left)/1e6, "kg"), measure("takes", float64(takes)/1e6, "kg")}
	for i := range c.plan.Keys {
		if k := &c.plan.Keys[i]; k.Song < 0 || k.Song == j {
			f.Others = append(f.Others, rigRef("handcue", k.Cue.ID))
		}
	}
	c.tell(j, c.settings.at(ps.Song, nil, nil), f)
}

// tell adds what every finding about a level says.
func (c *supplyCheck) tell(j int, t *tuning, f Finding) {
	if c.reserve {
		f.Text += ", below its reserve of " + c.kilograms(c.limit)
	}
	f.Values = append(f.Values, measure("limit", float64(c.limit)/1e6, "kg"))
	f.Grounds = []Ground{ofRecord(f.Ref, "usable", share(c.of.Usable), timeline.CommonPractice), ofRecord(f.Ref, "reserve", share(c.of.Reserve), timeline.Judgement)}
	f.Help = "swap or refill it before, join more units, or use less"
	if refill, ok := c.plan.ProposeRefill(c.of, j); ok && c.refillHelps(j) {
		f.Fix = &Fix{Label: "plan a refill after song " + songName(c.setRun.song(j-1)), On: c.plan.RefillsOf(), Field: "refills", Edits: []timeline.Edit{c.plan.PlanRefill(refill)}}
	}
	c.add(t, j, "", f)
}

// refillHelps reports whether a full supply holds more than there is when song
// j starts.
func (c *supplyCheck) refillHelps(j int) bool {
	return float64(c.run.Before(j))/1e6 < c.of.Fill*float64(c.of.Units)*c.of.Usable
}

// runsShort finds the command of song j that takes the supply below the limit.
func (c *supplyCheck) runsShort(j int, left int64) bool {
	ps := c.setRun.song(j)
	for i := range ps.Commands {
		cmd := &ps.Commands[i]
		if !c.feeds.Feed(c.supply, cmd) {
			continue
		}
		d := cmd.Draw()
		if left-d >= c.limit {
			left -= d
			continue
		}
		f := about(ps.SongPlan, cmd.Cue, cmd.Hit)
		f.Ref, f.Others = rigRef("supply", c.of.ID), []timeline.Ref{cueRef(ps.SongPlan, cmd.Cue)}
		f.Text = fmt.Sprintf("%s has %s left and this hit takes %s", c.name(c.of), c.kilograms(left), c.kilograms(d))
		f.Values = []Value{measure("left", float64(left)/1e6, "kg"), measure("takes", float64(d)/1e6, "kg")}
		c.tell(j, c.tune(j, cmd.Unit, cmd.Article), f)
		return true
	}
	return false
}

// kilograms writes a mass to the gram.
func (e *env) kilograms(mg int64) string { return e.key.told.Say("kg", float64(mg)/1e6, 3) }
