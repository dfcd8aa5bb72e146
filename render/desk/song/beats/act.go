package beats

import (
	"fmt"
	"slices"
	"strings"

	"emberbeat/render/desk/page"
	"emberbeat/timeline"
	"emberbeat/timeline/grid"
)

// Try tries one correction more. The strip opens for it.
func (s *Strip) Try(c grid.Correction) {
	s.show()
	before := len(s.tried)
	if c.Kind == grid.Tap && before > 0 && s.tried[before-1].Kind == grid.Tap {
		s.tried = s.tried[:before-1] // more taps say the same more exactly
	}
	s.tried = append(slices.Clone(s.tried), c)
	s.changed()
	if len(s.tried) > 0 {
		s.h.Log("tried %s", s.tried[len(s.tried)-1].String())
	}
}

// Back takes back what was tried last; where nothing is tried the strip closes.
func (s *Strip) Back() {
	switch {
	case len(s.tried) > 0:
		s.tried = s.tried[:len(s.tried)-1]
		s.taps = nil
	case s.locks != nil:
		s.locks = nil
	default:
		s.close()
		return
	}
	s.changed()
}

// Take tries a reading in the place of all that was tried, counted from 0.
func (s *Strip) Take(i int) {
	if i < 0 || i >= len(s.readings) {
		s.h.Tell(fmt.Sprintf("there are %s here", timeline.Counted(len(s.readings), "way")+" to hear it"))
		return
	}
	s.tried, s.taps = slices.Clone(s.readings[i].Corrections), nil
	s.changed()
	s.h.Log("reading %d", i+1)
}

// Step tries the next reading in a direction, and lets it be heard with a click.
func (s *Strip) Step(n int) {
	if len(s.readings) == 0 {
		return
	}
	at := 0
	for i := range s.readings {
		if s.Beats().Equal(s.readings[i].Beats) {
			at = i
		}
	}
	s.Take((at + n + len(s.readings)) % len(s.readings))
	s.h.Listen()
}

// tapEnd is after how long without a tap the next one begins a new row.
const tapEnd = 3 * timeline.Second

// Tap taps the beat where it is heard. From the fourth tap on they are tried.
func (s *Strip) Tap() {
	s.show()
	at := s.h.Tapped()
	if n := len(s.taps); n > 0 && (at <= s.taps[n-1] || at > s.taps[n-1]+tapEnd) {
		s.taps = nil
	}
	s.taps = append(s.taps, at)
	if len(s.taps) < grid.LeastTaps {
		s.changed()
		return
	}
	p, err := grid.Tapped(s.taps)
	if err != nil {
		s.h.Warn(err.Error())
		return
	}
	if h := s.heard(); h != nil {
		p = p.Refined(h.Attacks)
	}
	s.Try(grid.Correction{Kind: grid.Tap, Pulse: p})
}

// Lock locks what is right, or takes the lock away; it is kept with what is tried.
func (s *Strip) Lock(what grid.Lockable) {
	s.show()
	g := s.h.Work().Session.Show().Song(s.song)
	if g == nil {
		return
	}
	locks := s.locksNow(g)
	if locks.Has(what) {
		locks.Unlock(what)
	} else if err := locks.Lock(what, s.Beats(), s.stretch()); err != nil {
		s.h.Warn(err.Error())
		return
	}
	s.locks = &locks
	s.changed()
}

// stretch is what is locked as a stretch: the loop.
func (s *Strip) stretch() grid.Stretch {
	v := s.h.Work().View()
	return grid.Stretch{From: v.Loop.From, To: v.Loop.To}
}

// edits gives what keeping makes.
func (s *Strip) edits(confirm bool) (label string, edits []timeline.Edit) {
	var said []string
	if s.made != nil {
		edits = append(edits, s.made.Edit())
		said = append(said, grid.Said(s.tried))
	}
	if s.locks != nil {
		edits = append(edits, grid.SetLocks(s.song, *s.locks))
		said = append(said, "locks")
	}
	if confirm {
		edits = append(edits, grid.Confirm(s.song, true))
		said = append(said, "confirmed")
	}
	return "beats: " + strings.Join(said, ", "), edits
}

// Keep makes what was tried, as one step, and closes the strip. With confirm the grid is said to be right as well.
func (s *Strip) Keep(confirm bool) {
	label, edits := s.edits(confirm)
	if len(edits) == 0 {
		s.close()
		return
	}
	if why := page.NeedEdit(s.h); why != "" {
		s.h.Warn(why)
		return
	}
	if s.h.Do(label, edits...) {
		s.close()
	}
}

// LeaveAsItWas drops what was tried and closes the strip.
func (s *Strip) LeaveAsItWas() { s.close() }
