package song

import (
	"cmp"
	"slices"

	"emberbeat/timeline"
)

// grids are the steps of the beat grid, in beats, coarsest first; a step of a whole bar is 0.
var grids = []gridStep{
	{"bar", timeline.Rat{}},
	{"1/2 bar", timeline.NewRat(2, 1)},
	{"beat", timeline.NewRat(1, 1)},
	{"1/2 beat", timeline.NewRat(1, 2)},
	{"1/3 beat", timeline.NewRat(1, 3)},
	{"1/4 beat", timeline.NewRat(1, 4)},
	{"1/8 beat", timeline.NewRat(1, 8)},
}

// gridStep is a step of the beat grid.
type gridStep struct {
	name string
	step timeline.Rat
}

// caught is a place in a song that a time was drawn to.
type caught struct {
	at   timeline.Time
	bar  timeline.BarBeat
	on   bool   // at is exactly bar
	name string // "" where nothing was caught
}

// moment gives the anchor of a cue at the place: a beat for one that stands on beats, else a time.
func (c caught) moment(beats *timeline.BeatMap, onBeat bool) timeline.Moment {
	switch {
	case !onBeat || beats.Empty():
		return timeline.AtTime(c.at)
	case c.on:
		return timeline.AtBar(c.bar)
	}
	return timeline.AtBar(beats.Locate(c.at))
}

// place is something in a song that times are drawn to.
type place struct {
	at   timeline.Time
	rank int // grid, marker or section, other cue, playhead
	name string
	bar  timeline.BarBeat
	on   bool
}

// snapping draws times to what stands near them. All edits and the playhead use it, so that a place means the same everywhere.
type snapping struct {
	beats  *timeline.BeatMap
	step   timeline.Rat
	places []place // by time; without the grid
}

// newSnapping gathers what a song offers: its sections and markers, the cues that are not in without, and the playhead.
func newSnapping(song *timeline.Song, step timeline.Rat, playhead timeline.Time, without map[timeline.ID]bool) *snapping {
	s := &snapping{beats: song.Beats, step: step}
	for _, c := range song.Sections {
		s.add(c.At, 1, c.Name)
	}
	for _, m := range song.Markers {
		s.add(m.At, 1, m.Name)
	}
	for _, c := range song.Cues {
		if !without[c.ID] {
			s.add(c.At, 2, "cue")
		}
	}
	s.places = append(s.places, place{at: playhead, rank: 3, name: "playhead"})
	slices.SortFunc(s.places, func(a, b place) int { return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(a.rank, b.rank)) })
	return s
}

func (s *snapping) add(m timeline.Moment, rank int, name string) {
	if at, ok := m.In(s.beats); ok {
		s.places = append(s.places, place{at, rank, name, m.Bar, m.OnBeat})
	}
}

// near draws a time to what stands within a radius of it: the first in rank, the nearest of those. Without anything near, the time is
// kept, rounded as edits are.
func (s *snapping) near(t, radius timeline.Time) caught {
	best, found := place{}, false
	consider := func(p place) {
		if d := apart(p.at, t); d > radius {
			return
		} else if !found || p.rank < best.rank || p.rank == best.rank && d < apart(best.at, t) {
			best, found = p, true
		}
	}
	if !s.beats.Empty() {
		bar := s.beats.Snap(t, s.step)
		consider(place{s.beats.At(bar), 0, "bar " + bar.String(), bar, true})
	}
	first, _ := slices.BinarySearchFunc(s.places, t-radius, func(p place, t timeline.Time) int { return cmp.Compare(p.at, t) })
	for _, p := range s.places[first:] {
		if p.at > t+radius {
			break
		}
		consider(p)
	}
	if !found {
		return caught{at: t.RoundTo(timeline.EntryStep)}
	}
	return caught{best.at, best.bar, best.on, best.name}
}

func apart(a, b timeline.Time) timeline.Time { return max(a-b, b-a) }
