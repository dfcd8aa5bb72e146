package carry

import (
	"cmp"
	"slices"

	"emberbeat/timeline"
)

// place finds where a moment stands that one spot of the map leads to. The music
// itself is followed where it is the same; else a place between the beats stays
// that place, a cue that stood on a sound stands on the same kind of sound, and what
// has neither goes where the map leads. next is the next best place, nil for none.
func (c *carrier) place(was timeline.Moment, old timeline.Time, s spot) (at Place, next *Place) {
	r := c.m.Runs[s.run]
	path := Place{s.at, timeline.AtTime(s.at), s.run, r.Sure, ByPath}
	if c.passages[s.passage].Exact {
		path.By = ByOffset
		if m, ok := c.still(was, s.at); ok {
			path.Moment = m
		}
		return path, nil
	}
	var found []Place
	if p, ok := c.onBeat(was, old); ok {
		q := near(c.beats, s.at, fraction(p.Beat))
		if t := c.beats.At(q); apart(t, s.at) <= sameBeat {
			m := timeline.AtTime(t)
			if was.OnBeat {
				m = timeline.AtBar(q)
			}
			found = append(found, Place{t, m, s.run, r.Sure, ByBeat})
		}
	}
	if t, ok := c.sameSound(old, s.at); ok && !was.OnBeat {
		found = append(found, Place{t, timeline.AtTime(t), s.run, r.Sure, BySound})
	}
	found = append(found, path)
	if len(found) > 1 && apart(found[1].At, found[0].At) > instant {
		next = &found[1]
	}
	return found[0], next
}

// still gives a moment at a place to which the music itself leads: the same place
// between the beats, where that is the very instant.
func (c *carrier) still(was timeline.Moment, at timeline.Time) (timeline.Moment, bool) {
	if !was.OnBeat {
		return timeline.AtTime(at), true
	}
	if c.beats.Empty() {
		return timeline.Moment{}, false
	}
	if t, _ := was.In(c.beats); apart(t, at) <= instant {
		return was, true
	}
	q := near(c.beats, at, fraction(was.Bar.Beat))
	return timeline.AtBar(q), apart(c.beats.At(q), at) <= instant
}

// instant is what two times may lie apart and be one: half of what is entered.
const instant = timeline.EntryStep / 2

// onBeat gives the place between the beats that a moment was meant for: its own, or
// the half beat that its time is close to.
func (c *carrier) onBeat(was timeline.Moment, old timeline.Time) (timeline.BarBeat, bool) {
	switch {
	case c.song.Beats.Empty() || c.beats.Empty():
		return timeline.BarBeat{}, false
	case was.OnBeat:
		return was.Bar, true
	}
	p := c.song.Beats.Snap(old, timeline.NewRat(1, 2))
	return p, apart(c.song.Beats.At(p), old) <= onGrid
}

// fraction is what a place has beyond whole beats.
func fraction(beat timeline.Rat) timeline.Rat { return beat.Sub(timeline.NewRat(beat.Floor(), 1)) }

// near gives the place nearest to a time that lies so much of a beat after one.
func near(b *timeline.BeatMap, at timeline.Time, rest timeline.Rat) timeline.BarBeat {
	loc := b.Locate(at)
	var best timeline.BarBeat
	for k := loc.Beat.Floor() - 1; k <= loc.Beat.Floor()+1; k++ {
		bar, beat := loc.Bar, k
		if beat < 0 {
			bar--
			beat += int64(b.MetreAt(bar).Num)
		} else if n := int64(b.MetreAt(bar).Num); beat >= n {
			bar, beat = bar+1, beat-n
		}
		p := timeline.BarBeat{Bar: bar, Beat: timeline.NewRat(beat, 1).Add(rest)}
		if k == loc.Beat.Floor()-1 || apart(b.At(p), at) < apart(b.At(best), at) {
			best = p
		}
	}
	return best
}

// sameSound gives the sound in the new recording of the kind that a cue stood on in
// the old one, as far beside it.
func (c *carrier) sameSound(old, path timeline.Time) (timeline.Time, bool) {
	was, ok := nearest(c.was.Hits, old, sameHeld, func(Hit) bool { return true })
	if !ok {
		return 0, false
	}
	is, ok := nearest(c.heard.Hits, path-(old-was.At), sameHit, func(h Hit) bool { return h.Label == was.Label })
	return is.At + old - was.At, ok
}

// nearest gives the hit nearest to an instant, no farther than so much.
func nearest(hits []Hit, at, far timeline.Time, fits func(Hit) bool) (best Hit, found bool) {
	i, _ := slices.BinarySearchFunc(hits, at-far, func(h Hit, t timeline.Time) int { return cmp.Compare(h.At, t) })
	for ; i < len(hits) && hits[i].At <= at+far; i++ {
		if fits(hits[i]) && (!found || apart(hits[i].At, at) < apart(best.At, at)) {
			best, found = hits[i], true
		}
	}
	return best, found
}
