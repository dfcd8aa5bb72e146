package rule

import (
	"math"
	"slices"

	"emberbeat/timeline"
)

// coverage says when each arm, condition and warm-up slot of a song is on, as
// the plan's windows have it.
type coverage struct {
	plan  *timeline.SongPlan
	slots map[timeline.SlotPlace]*slotLine
	order []timeline.SlotPlace // by first window
}

// slotLine is one slot over a song.
type slotLine struct {
	role           timeline.SlotRole
	device         *timeline.Device // that is aimed at first, of those at its address
	slot           timeline.Slot
	exact, rounded []onTime // when it is on; they neither touch nor overlap
}

// onTime is a time in which a slot is on, both ends included.
type onTime struct {
	from, to    timeline.Time
	first, last *timeline.Window // what raises it, and what lowers it; of SongPlan.Asked
}

// never stands for the end of what is never closed.
const never = timeline.Time(math.MaxInt64)

func newCoverage(p *timeline.SongPlan) *coverage {
	c := &coverage{plan: p}
	if len(p.Windows) == 0 {
		return c
	}
	c.slots = make(map[timeline.SlotPlace]*slotLine, len(p.Windows))
	for i := range p.Windows {
		w := &p.Windows[i]
		for _, s := range w.Slots {
			at := w.Device.PlaceOf(s)
			l := c.slots[at]
			if l == nil {
				l = &slotLine{role: w.Role, device: w.Device, slot: s}
				c.slots[at], c.order = l, append(c.order, at)
			}
			if n := len(l.exact); n > 0 && l.exact[n-1].first == w.First {
				continue // of another device at the same address
			}
			l.exact = append(l.exact, onFrom(w, w.Up, w.Down))
			l.rounded = append(l.rounded, onFrom(w, w.UpRounded, w.DownRounded))
		}
	}
	return c
}

func onFrom(w *timeline.Window, up, down timeline.Time) onTime {
	if !w.Closes() {
		down = never
	}
	return onTime{up, down, w.First, w.Last}
}

// line gives a slot's line, or nil where no window raises it.
func (c *coverage) line(d *timeline.Device, s timeline.Slot) *slotLine {
	return c.slots[d.PlaceOf(s)]
}

// gap is how a slot fails to be on around a command. Zero means that it does
// not fail.
type gap struct {
	off   bool          // it is not on at the command at all
	late  timeline.Time // it comes on so much too late
	early timeline.Time // it goes off so long before the effect ends
	by    *onTime       // the time it is on at the command, or the nearest before
}

func (g gap) fails() bool { return g.off || g.late > 0 || g.early > 0 }

// gapAround compares a slot with a command that needs it from lead before at
// until end.
func gapAround(on []onTime, at, lead, end timeline.Time) gap {
	i, _ := slices.BinarySearchFunc(on, at, func(o onTime, t timeline.Time) int {
		if o.from <= t {
			return -1
		}
		return 1
	})
	if i == 0 {
		return gap{off: true}
	}
	o := &on[i-1]
	if o.to < at {
		return gap{off: true, by: o}
	}
	return gap{late: max(0, o.from-(at-lead)), early: max(0, end-o.to), by: o}
}
