package timeline

import (
	"errors"
	"fmt"
	"slices"
	"sort"
)

// BeatMap ties bars and beats to the time from the start of a song. It is a
// list of anchors; between two anchors the tempo is even, and before the first
// and after the last it goes on as in the neighbouring stretch. A BeatMap
// never changes. A nil *BeatMap is an empty map, for a song whose beats are
// not known.
type BeatMap struct {
	anchors   []Anchor
	stretches []stretch // one from each anchor; the last repeats the tempo before it
}

// Slowest and fastest tempo that a map may hold, in beats per minute.
const (
	minTempo = 10
	maxTempo = 1000
)

// maxBarReach bounds the bars that At calculates with, far beyond what text can
// give, so that products stay within 64 bits.
const maxBarReach = 1_000_000_000

// defaultMetre is the metre of a map whose first anchor gives none.
var defaultMetre = Metre{4, 4}

// locateGrain is the number of parts of a beat that Locate tells apart.
const locateGrain = 960

// NewBeatMap returns the map of the anchors, in order. There must be none,
// which gives the empty map nil, or at least two, strictly increasing in
// bar.beat and in time. Each anchor lies inside its bar; a metre may change
// only at the start of a bar; the first anchor's metre is 4/4 if not given.
// The tempo must stay between 10 and 1,000 beats per minute. The error names
// the anchors at fault.
func NewBeatMap(anchors []Anchor) (*BeatMap, error) {
	switch len(anchors) {
	case 0:
		return nil, nil
	case 1:
		return nil, errors.New("beat map has one anchor: it needs two or more, or none")
	}
	m := &BeatMap{slices.Clone(anchors), make([]stretch, len(anchors))}
	if m.anchors[0].Metre.IsZero() {
		m.anchors[0].Metre = defaultMetre
	}
	metre := Metre{}
	for i, a := range m.anchors {
		if !a.Metre.IsZero() {
			metre = a.Metre
		}
		if err := a.check(metre, i == 0); err != nil {
			return nil, err
		}
		m.stretches[i].metre = metre
	}
	if err := m.measure(); err != nil {
		return nil, err
	}
	return m, nil
}

// check looks at one anchor by itself, under the metre in force.
func (a Anchor) check(metre Metre, isFirst bool) error {
	if err := a.Place().Check(); err != nil {
		return fmt.Errorf("anchor %s: %w", a, err)
	}
	if err := metre.Check(); err != nil {
		return fmt.Errorf("anchor %s: %w", a, err)
	}
	if a.At < -maxTime || a.At > maxTime {
		return fmt.Errorf("anchor %s: time is out of range: at most %d hours", a, maxHours)
	}
	if a.Beat.Floor() >= int64(metre.Num) {
		return fmt.Errorf("anchor %s: a bar of %s has beats 1 to %d", a, metre, metre.Num)
	}
	if !isFirst && !a.Metre.IsZero() && !a.Beat.IsZero() {
		return fmt.Errorf("anchor %s: the metre may change only at the start of a bar, such as %s", a, BarBeat{Bar: a.Bar + 1})
	}
	return nil
}

// measure fills in the stretches and checks their tempo.
func (m *BeatMap) measure() error {
	last := len(m.anchors) - 1
	for i, a := range m.anchors[:last] {
		b := m.anchors[i+1]
		if b.Place().Cmp(a.Place()) <= 0 {
			return fmt.Errorf("anchor %s does not come after anchor %s in bars and beats", b, a)
		}
		if b.At <= a.At {
			return fmt.Errorf("anchor %s does not come after anchor %s in time", b, a)
		}
		s := &m.stretches[i]
		s.start(a)
		s.ticks = int64(b.At - a.At)
		s.beats = s.fromAnchor(b.Place())
		if err := s.checkTempo(a, b); err != nil {
			return err
		}
	}
	m.stretches[last].continueFrom(m.stretches[last-1], m.anchors[last])
	return nil
}

// Empty reports whether the map has no anchors, and so no beats.
func (m *BeatMap) Empty() bool { return m == nil || len(m.anchors) == 0 }

// Anchors returns a copy of the anchors. The first has its metre.
func (m *BeatMap) Anchors() []Anchor {
	if m.Empty() {
		return nil
	}
	return slices.Clone(m.anchors)
}

// At returns the time of a place, to the nearest unit, halves away from zero
// counted from the anchor before it. A beat past the end of its bar runs on in
// the same straight line, even past the next anchor, so that a cue may be told
// as "nine beats after bar 17". Bars beyond 1,000,000,000 either way count as
// that bar; an empty map gives 0.
func (m *BeatMap) At(p BarBeat) Time {
	if m.Empty() {
		return 0
	}
	p.Bar = max(-maxBarReach, min(p.Bar, maxBarReach))
	i := sort.Search(len(m.anchors), func(i int) bool {
		return m.anchors[i].Place().Cmp(p) > 0
	})
	return m.stretches[max(0, i-1)].at(p)
}

// BarStart returns the time at which a bar starts.
func (m *BeatMap) BarStart(bar int) Time { return m.At(BarBeat{Bar: bar}) }

// Locate returns the place that a time falls on, to the nearest 1/960 of a
// beat counted from the start of the bar, always inside its bar. An empty map
// gives bar 1.
func (m *BeatMap) Locate(t Time) BarBeat {
	if m.Empty() {
		return BarBeat{Bar: 1}
	}
	return m.stretchAt(t).locate(t)
}

// Named gives the place that a time is called by: that of Locate, and a beat for
// what lies within 1/960 of one, so that a place that rounding has moved off its
// bar is still that bar. Whatever is printed or counted in bars goes by it; edits
// keep the finer place.
func (m *BeatMap) Named(t Time) BarBeat {
	p := m.Locate(t)
	if m.Empty() {
		return p
	}
	whole := p.Beat.Floor()
	switch grain := NewRat(1, locateGrain); p.Beat.Sub(NewRat(whole, 1)) {
	case grain:
		p.Beat = NewRat(whole, 1)
	case NewRat(1, 1).Sub(grain):
		if p.Beat = NewRat(whole+1, 1); whole+1 >= int64(m.MetreAt(p.Bar).Num) {
			p = BarBeat{Bar: p.Bar + 1}
		}
	}
	return p
}

// stretchAt returns the stretch that a time lies in.
func (m *BeatMap) stretchAt(t Time) *stretch {
	i := sort.Search(len(m.anchors), func(i int) bool { return m.anchors[i].At > t })
	return &m.stretches[max(0, i-1)]
}

// MetreAt returns the metre of a bar; the empty map gives the unset metre.
func (m *BeatMap) MetreAt(bar int) Metre {
	if m.Empty() {
		return Metre{}
	}
	i := sort.Search(len(m.anchors), func(i int) bool { return m.anchors[i].Bar > bar })
	// A bar's metre is that of its start; only the first anchor may bring one
	// inside its bar, and that holds for the whole bar.
	return m.stretches[max(0, i-1)].metre
}

// BPM returns the tempo at a time in beats per minute, for display only. A
// beat is one Den-th of the metre there. An empty map gives 0.
func (m *BeatMap) BPM(t Time) float64 {
	if m.Empty() {
		return 0
	}
	return m.stretchAt(t).bpm()
}

// Shift returns the map moved later by d, earlier if d is negative. The
// anchors stop at 1,000 hours from the start of the song.
func (m *BeatMap) Shift(d Time) *BeatMap {
	if m.Empty() || d == 0 {
		return m
	}
	last := len(m.anchors) - 1
	d = max(-maxTime-m.anchors[0].At, min(d, maxTime-m.anchors[last].At))
	moved := &BeatMap{anchors: slices.Clone(m.anchors), stretches: slices.Clone(m.stretches)}
	for i := range moved.anchors {
		moved.anchors[i].At += d
		moved.stretches[i].from += d
	}
	return moved
}

// Equal reports whether both maps have the same anchors.
func (m *BeatMap) Equal(other *BeatMap) bool {
	if m.Empty() || other.Empty() {
		return m.Empty() && other.Empty()
	}
	return slices.Equal(m.anchors, other.anchors)
}

// SteadyBeatMap returns a map of even tempo: bar 1 starts at bar1, a beat lasts
// beatTicks, and the second anchor stands after the given number of bars, at
// least one. The unset metre means 4/4. Values that make no legal map (see
// NewBeatMap) give the empty map.
func SteadyBeatMap(bar1, beatTicks Time, metre Metre, bars int) *BeatMap {
	if metre.IsZero() {
		metre = defaultMetre
	}
	bars = max(1, min(bars, maxRatNumber-1))
	length, ok := mulRoundDiv(int64(bars)*int64(metre.Num), int64(beatTicks), 1)
	if !ok || length > int64(2*maxTime) {
		return nil
	}
	m, err := NewBeatMap([]Anchor{
		{Bar: 1, At: bar1, Metre: metre},
		{Bar: 1 + bars, At: bar1 + Time(length)},
	})
	if err != nil {
		return nil
	}
	return m
}
