package rule

import (
	"math"
	"slices"

	"emberbeat/timeline"
)

// coverage says when each arm, condition and warm-up slot of a song is on.
type coverage struct {
	plan  *timeline.SongPlan
	slots map[slotKey]*slotLine
	order []slotKey // by first window
}

type slotKey struct {
	device *timeline.Device
	block  int
	number int
}

// slotLine is one slot over a song.
type slotLine struct {
	windows        []*timeline.Window // by start
	exact, rounded []onTime           // when it is on; they neither touch nor overlap
}

// onTime is a time in which a slot is on, both ends included.
type onTime struct {
	from, to    timeline.Time
	first, last *timeline.Window // the window that raises it, and the one that lowers it
}

// never stands for the end of what is never closed.
const never = timeline.Time(math.MaxInt64)

func newCoverage(p *timeline.SongPlan) *coverage {
	c := &coverage{plan: p}
	if len(p.Windows) == 0 {
		return c
	}
	c.slots = make(map[slotKey]*slotLine, len(p.Windows))
	for i := range p.Windows {
		w := &p.Windows[i]
		for _, s := range w.Slots {
			k := slotKey{w.Device, s.Block, s.Number}
			if c.slots[k] == nil {
				c.slots[k] = &slotLine{}
				c.order = append(c.order, k)
			}
			c.slots[k].windows = append(c.slots[k].windows, w)
		}
	}
	for _, l := range c.slots {
		exact, rounded := make([]raised, len(l.windows)), make([]raised, len(l.windows))
		for i, w := range l.windows {
			exact[i], rounded[i] = raised{w.Up, w.Down, w}, raised{w.UpRounded, w.DownRounded, w}
		}
		l.exact, l.rounded = join(exact), join(rounded)
	}
	return c
}

// line gives a slot's line, or nil where no window raises it.
func (c *coverage) line(d *timeline.Device, s timeline.Slot) *slotLine {
	return c.slots[slotKey{d, s.Block, s.Number}]
}

// raised is one window on a line of time.
type raised struct {
	up, down timeline.Time
	window   *timeline.Window
}

// join makes times of windows in the order they are raised. A window that is
// never closed lasts until the next one that is; times that touch are one.
func join(windows []raised) []onTime {
	times := make([]onTime, 0, len(windows))
	for i, w := range windows {
		to, closer := w.down, w.window
		if !w.window.Closes() {
			to = never
			if k := slices.IndexFunc(windows[i:], func(r raised) bool { return r.window.Closes() }); k >= 0 {
				to, closer = windows[i+k].down, windows[i+k].window
			}
		}
		if n := len(times); n > 0 && w.up <= times[n-1].to {
			if to > times[n-1].to {
				times[n-1].to, times[n-1].last = to, closer
			}
			continue
		}
		times = append(times, onTime{w.up, to, w.window, closer})
	}
	return times
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
