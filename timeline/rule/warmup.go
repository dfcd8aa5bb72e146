package rule

import (
	"fmt"
	"slices"

	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:    "warm-up",
	Summary: "a unit is commanded before it has warmed up",
	Reason: "A heater needs its time. Where the device has a warm-up slot, the slot must be on, without a break, from warm-up before the command until the effect ends; " +
		"it may be switched on in an earlier song. Exact times. Units without such a slot: see warm-up-by-hand.",
	Scope:    WholeSet,
	Severity: Error,
	Settings: []Setting{
		{Name: "warm-up", Unit: "s", Field: "article warm-up", Mark: timeline.CommonPractice, Source: "the article's own mark and source", Help: "from switching on to the first command"},
	},
	set: checkWarmUp,
})

// warmNeed is a warm-up slot of a unit.
type warmNeed struct {
	device *timeline.Device
	slot   timeline.Slot
}

func warmNeeds(u *timeline.Unit) []warmNeed {
	var needs []warmNeed
	for _, d := range u.Drives {
		if d.Dead || d.DeviceType == nil {
			continue
		}
		for _, s := range d.DeviceType.Find(timeline.WarmUpSlot, d.Wire.Output) {
			needs = append(needs, warmNeed{d.Device, s})
		}
	}
	return needs
}

func checkWarmUp(r *setRun) {
	r.eachWarm(func(j int, u *timeline.UnitUse, needs []warmNeed) {
		for _, n := range needs {
			r.warmInSong(j, u, n)
		}
	})
}

// eachWarm goes through the uses of units that must warm up, in the order of
// the set.
func (r *setRun) eachWarm(do func(song int, u *timeline.UnitUse, needs []warmNeed)) {
	for j := range r.plan.Songs {
		for _, i := range r.results[j].sum.warm {
			u := &r.song(j).Uses[i]
			if r.units[u.Unit.Index].live {
				do(j, u, warmNeeds(u.Unit))
			}
		}
	}
}

var _ = enter(Rule{
	Name:     "warm-up-by-hand",
	Summary:  "a unit must warm up, and no slot of its device does it",
	Reason:   "Nothing in the plan can switch it on, so somebody must, in time for the first song that needs it.",
	Scope:    WholeSet,
	Severity: Note,
	Settings: []Setting{
		inRecord("article warm-up", "s", "how long it must warm up"),
	},
	set: func(r *setRun) {
		seen := map[*timeline.Unit]bool{}
		r.eachWarm(func(j int, u *timeline.UnitUse, needs []warmNeed) {
			if len(needs) == 0 && !seen[u.Unit] {
				seen[u.Unit] = true
				r.warmByHand(j, u)
			}
		})
	},
})

// warmByHand notes the first command of a unit.
func (r *setRun) warmByHand(j int, u *timeline.UnitUse) {
	ps := r.song(j)
	for _, k := range u.Commands {
		c := &ps.Commands[k]
		if c.Article.WarmUp == 0 {
			continue
		}
		f := about(ps.SongPlan, c.Cue, c.Hit)
		f.Ref, f.Others = rigRef("article", c.Article.ID), []timeline.Ref{rigRef("placed", c.Unit.Placed.ID)}
		f.Text = fmt.Sprintf("no slot warms it up; %s needs %s before its first command", r.name(c.Article), span(c.Article.WarmUp))
		f.Values = []Value{seconds("warm-up", c.Article.WarmUp)}
		f.Grounds = []Ground{ofArticle(c.Article, "warm-up", span(c.Article.WarmUp))}
		f.Help = "switch it on by hand in time, and write that down for the crew"
		r.add(r.tune(j, c.Unit, c.Article), j, c.Unit.Name, f)
		return
	}
}

// warmInSong reports the first command of a unit in a song that comes before
// it is warm.
func (r *setRun) warmInSong(j int, u *timeline.UnitUse, n warmNeed) {
	ps := r.song(j)
	on := r.warmTimes(j, n)
	for _, k := range u.Commands {
		c := &ps.Commands[k]
		if c.Article.WarmUp == 0 {
			continue
		}
		g := gapAround(on, c.At, c.Article.WarmUp, c.End())
		if !g.fails() {
			continue
		}
		f := about(ps.SongPlan, c.Cue, c.Hit)
		switch {
		case g.off:
			f.Text = "its warm-up slot is off at the command"
		case g.late > 0:
			f.Text = fmt.Sprintf("warmed up for %s; %s needs %s", span(c.Article.WarmUp-g.late), r.name(c.Article), span(c.Article.WarmUp))
		default:
			f.Text = "its warm-up slot goes off " + span(g.early) + " before the effect ends"
		}
		f.Values = []Value{seconds("warm-up", c.Article.WarmUp), seconds("late", g.late), seconds("early", g.early)}
		f.Spans = []Span{{"warm-up needed", c.At - c.Article.WarmUp, c.At}, {"open", c.At, c.End()}}
		if g.by != nil {
			f.Spans = append(f.Spans, Span{"warm-up on", g.by.from, min(g.by.to, c.End())})
		}
		f.Grounds = []Ground{ofArticle(c.Article, "warm-up", span(c.Article.WarmUp))}
		f.Help = "switch the warm-up slot on " + span(c.Article.WarmUp) + " before this command or earlier, and off after the last effect"
		r.add(r.tune(j, c.Unit, c.Article), j, c.Unit.Name+" ("+r.slotName(n.device, n.slot)+")", f)
		return
	}
}

// warmTimes says when a warm-up slot is on, up to song j, counted from its
// start. Songs that may be left out for an alternative do not count.
func (r *setRun) warmTimes(j int, n warmNeed) []onTime {
	var all []timeline.Raised
	place := n.device.PlaceOf(n.slot)
	for i := 0; i <= j; i++ {
		if i < j && !r.order.surely(i) {
			continue
		}
		ps := r.song(i)
		apart := timeline.Time(0)
		if i < j {
			apart = r.order.between(i, j)
		}
		for k := range ps.Windows {
			w := &ps.Windows[k]
			if w.Role == timeline.WarmUpSlot && slices.ContainsFunc(w.Slots, func(s timeline.Slot) bool { return w.Device.PlaceOf(s) == place }) {
				all = append(all, timeline.Raised{Up: w.Up - apart, Down: w.Down - apart, Window: w})
			}
		}
	}
	return onTimes(all)
}

// onTimes joins windows of several songs.
func onTimes(windows []timeline.Raised) []onTime {
	var times []onTime
	for _, s := range timeline.Join(windows) {
		on := onTime{s.Up, s.Down, s.Window, s.Last}
		if !s.Last.Closes() {
			on.to = never
		}
		times = append(times, on)
	}
	return times
}
