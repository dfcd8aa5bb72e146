package timeline

import (
	"cmp"
	"slices"
	"strings"
)

// Window is the time in which a slot of a device is on: an arm, condition or
// warm-up cue. Up is rounded to the frame at or before, down to the frame at
// or after, so that rounding never shortens it.
type Window struct {
	Cue                    *Cue // the one that raises it
	Lane                   *Lane
	Role                   SlotRole
	Device                 *Device
	Type                   *DeviceType
	Slots                  []Slot
	Up                     Time
	Down                   Time // Up when nothing closes it
	UpFrame, DownFrame     int64
	UpRounded, DownRounded Time

	First, Last *Window // of SongPlan.Windows: what raises it and what lowers it, of SongPlan.Asked
}

// Closes reports whether the window has an end.
func (w *Window) Closes() bool { return w.Down > w.Up }

// Raised is one window on a line of time, which need not be that of its song.
type Raised struct {
	Up, Down Time // Down counts where the window closes
	Window   *Window
}

// lowersAfter reports whether a window lowers its slot later than another, which
// does so at down; in one frame its exact time decides.
func (r Raised) lowersAfter(down Time, other *Window) bool {
	return r.Down > down || r.Down == down && r.Window.Down > other.Down
}

// Stretch is a time in which something is on without a break.
type Stretch struct {
	Raised           // Down counts where Last closes
	Last     *Window // lowers it
	From, To int     // which of the joined windows it is made of, To excluded
}

// Join makes stretches of windows in the order they are raised: those that
// overlap or touch are one. A window without an end of its own lasts until
// something else lowers the slot next: the end of what it lies in, or of the next
// that has one. It is the one answer to when a slot is on; what is printed, drawn
// and checked comes from it.
func Join(windows []Raised) []Stretch {
	ended := make([]Raised, 0, len(windows)) // those with an end, as stretches
	for _, w := range windows {
		if !w.Window.Closes() {
			continue
		}
		if n := len(ended); n > 0 && w.Up <= ended[n-1].Down {
			if w.lowersAfter(ended[n-1].Down, ended[n-1].Window) {
				ended[n-1].Down, ended[n-1].Window = w.Down, w.Window
			}
			continue
		}
		ended = append(ended, w)
	}
	var all []Stretch
	next := 0 // first of ended that ends after the window is raised
	for i, w := range windows {
		for next < len(ended) && ended[next].Down <= w.Up {
			next++
		}
		down, last := w.Down, w.Window
		if !w.Window.Closes() {
			if down = endless; next < len(ended) {
				down, last = ended[next].Down, ended[next].Window
			}
		}
		if n := len(all); n > 0 && w.Up <= all[n-1].Down {
			s := &all[n-1]
			if s.To = i + 1; !last.Closes() || (Raised{w.Up, down, last}).lowersAfter(s.Down, s.Last) {
				s.Down, s.Last = down, last
			}
			continue
		}
		all = append(all, Stretch{Raised{w.Up, down, w.Window}, last, i, i + 1})
	}
	return all
}

// windowKey is what slots share that are up as one window.
type windowKey struct {
	device      *Device
	role        SlotRole
	first, last *Window
}

// windows makes of what the song's cues ask for what its slots do. Windows of
// one slot are joined as they are printed, on frames: a gap that rounding closes
// is none.
func (p *SongPlan) windows() []Window {
	if len(p.Asked) == 0 {
		return nil
	}
	type part struct {
		window *Window
		slot   Slot
	}
	lines := map[SlotPlace][]part{}
	var order []SlotPlace
	for i := range p.Asked {
		w := &p.Asked[i]
		for _, s := range w.Slots {
			at := w.Device.PlaceOf(s)
			if lines[at] == nil {
				order = append(order, at)
			}
			lines[at] = append(lines[at], part{w, s})
		}
	}
	var all []Window
	places := map[windowKey]int{}
	for _, at := range order {
		parts := lines[at]
		raised := make([]Raised, len(parts))
		for i, x := range parts {
			raised[i] = Raised{x.window.UpRounded, x.window.DownRounded, x.window}
		}
		for _, s := range Join(raised) {
			for _, x := range parts[s.From:s.To] { // of several devices at one address each has its own
				key := windowKey{x.window.Device, x.window.Role, s.Window, s.Last}
				k, known := places[key]
				if !known {
					k = len(all)
					places[key] = k
					all = append(all, s.of(p, x.window))
				}
				if !slices.ContainsFunc(all[k].Slots, func(o Slot) bool { return o == x.slot }) {
					all[k].Slots = append(all[k].Slots, x.slot)
				}
			}
		}
	}
	slices.SortFunc(all, compareWindows)
	return all
}

// of gives the window of a stretch for a device, without its slots.
func (s *Stretch) of(p *SongPlan, w *Window) Window {
	x := *s.Window
	x.Device, x.Type, x.Role, x.Slots = w.Device, w.Type, w.Role, nil
	x.First, x.Last = s.Window, s.Last
	x.Down = x.Up
	if s.Last.Closes() {
		x.Down = s.Last.Down
	}
	x.DownFrame = p.Rate.Ceil(p.base() + x.Down)
	x.DownRounded = p.TimeOf(x.DownFrame)
	return x
}

func compareWindows(a, b Window) int {
	return cmp.Or(cmp.Compare(a.Up, b.Up), strings.Compare(string(a.Cue.ID), string(b.Cue.ID)), strings.Compare(string(a.Device.ID), string(b.Device.ID)))
}
