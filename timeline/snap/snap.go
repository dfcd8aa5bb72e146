package snap

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"emberbeat/timeline"
	"emberbeat/timeline/grid"
)

// To says what times are drawn to, beside marks, cues and the playhead.
type To string

// What there is to be drawn to.
const (
	Off   To = "off"
	Beats To = "beats" // the steps of the grid
	Hits  To = "hits"  // what is heard to begin
	Both  To = "both"
)

// Tos lists them, in the order of menus.
func Tos() []To { return []To{Off, Beats, Hits, Both} }

// Grid and Heard report whether steps of the grid catch, and hits.
func (t To) Grid() bool  { return t == Beats || t == Both }
func (t To) Heard() bool { return t == Hits || t == Both }

// Strength is a class of hits by their rank within the song, and the weakest that may catch.
type Strength string

// The classes, strongest first.
const (
	Strong Strength = "strong"
	Middle Strength = "middle"
	Weak   Strength = "weak"
)

// Strengths lists them.
func Strengths() []Strength { return []Strength{Strong, Middle, Weak} }

// middleFrom is the rank from which a hit is no weak one: of a song's hits the lower two fifths are mostly what sounds between the beats. A
// judgement, no source.
const middleFrom = 0.4

// Of gives the class of a hit of a rank, 0 to 1.
func Of(rank float64) Strength {
	switch {
	case rank >= grid.StrongFrom:
		return Strong
	case rank >= middleFrom:
		return Middle
	}
	return Weak
}

// Within is how far a hit may lie from what is put onto it where nobody sees it move: farther away it is another hit. A sixteenth at 150
// beats a minute is as long. A judgement, no source.
const Within = 100 * timeline.Millisecond

// Caught is a place in a song that a time was drawn to.
type Caught struct {
	At   timeline.Time
	Bar  timeline.BarBeat
	On   bool   // At is exactly Bar
	Hit  bool   // it is where something is heard
	Name string // "" where nothing was caught
}

// Moment gives the anchor of a cue at the place: the time of a hit, which no correction of the grid moves; else a beat for one that stands on
// beats, and a time for others.
func (c Caught) Moment(beats *timeline.BeatMap, onBeat bool) timeline.Moment {
	switch {
	case c.Hit || !onBeat || beats.Empty():
		return timeline.AtTime(c.At)
	case c.On:
		return timeline.AtBar(c.Bar)
	}
	return timeline.AtBar(beats.Locate(c.At))
}

// Targets are what times of a song are drawn to.
type Targets struct {
	beats  *timeline.BeatMap
	step   timeline.Rat
	grid   bool
	hits   []hit          // by time
	places []place        // by time
	head   *timeline.Time // of the playhead, nil for none
}

// hit is one that may catch.
type hit struct {
	at    timeline.Time
	class Strength
}

// place is a mark or a cue.
type place struct {
	at   timeline.Time
	rank int // marker or section, cue
	name string
	bar  timeline.BarBeat
	on   bool
}

// New gathers the grid of a song with a step in beats, 0 for bars, and its hits that are at least as strong as weakest. attacks, in any order,
// are what is heard; to says which of the two catch.
func New(beats *timeline.BeatMap, to To, step timeline.Rat, attacks []grid.Attack, weakest Strength) *Targets {
	x := &Targets{beats: beats, step: step, grid: to.Grid() && !beats.Empty()}
	if !to.Heard() {
		return x
	}
	least := slices.Index(Strengths(), weakest)
	for _, a := range attacks {
		if class := Of(a.Strength); slices.Index(Strengths(), class) <= least {
			x.hits = append(x.hits, hit{a.At.RoundTo(timeline.EntryStep), class})
		}
	}
	slices.SortStableFunc(x.hits, func(a, b hit) int { return cmp.Compare(a.at, b.at) })
	return x
}

// Mark adds what stands in a song: sections and markers, and cues that are not in without. They catch where neither grid nor hits do.
func (x *Targets) Mark(song *timeline.Song, without map[timeline.ID]bool) *Targets {
	add := func(m timeline.Moment, rank int, name string) {
		if at, ok := m.In(x.beats); ok {
			x.places = append(x.places, place{at, rank, name, m.Bar, m.OnBeat})
		}
	}
	for _, c := range song.Sections {
		add(c.At, 1, c.Name)
	}
	for _, m := range song.Markers {
		add(m.At, 1, m.Name)
	}
	for _, c := range song.Cues {
		if !without[c.ID] {
			add(c.At, 2, "cue")
			if at, ok := c.At.In(x.beats); ok && c.Open > 0 {
				add(timeline.AtTime(at+c.Open), 2, "cue end")
			}
		}
	}
	slices.SortStableFunc(x.places, func(a, b place) int { return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(a.rank, b.rank)) })
	return x
}

// Play adds the playhead, in the place of where it was: it catches where nothing else does.
func (x *Targets) Play(head timeline.Time) *Targets {
	x.head = &head
	return x
}

// weight is how much farther than a strong hit anything of a class seems to be: the stronger one draws from farther.
var weight = map[Strength]timeline.Time{Strong: 1, Middle: 2, Weak: 4}

// gridWeight is that of the grid.
const gridWeight = 2

// Near draws a time to what stands within a radius of it: to a step of the grid or a hit, whichever is nearest, where a strong hit counts
// half as far as a step or a middle one and a weak one twice as far; else to a marker or section, else to a cue, else to the playhead, the
// nearest of those. Without anything near, the time is kept, rounded as edits are.
func (x *Targets) Near(t, radius timeline.Time) Caught {
	if c, ok := x.nearest(t, radius, radius); ok {
		return c
	}
	best, found := place{}, false
	first, _ := slices.BinarySearchFunc(x.places, t-radius, func(p place, t timeline.Time) int { return cmp.Compare(p.at, t) })
	for _, p := range x.places[first:] {
		if p.at > t+radius {
			break
		}
		if !found || p.rank < best.rank || p.rank == best.rank && apart(p.at, t) < apart(best.at, t) {
			best, found = p, true
		}
	}
	switch {
	case !found && x.head != nil && apart(*x.head, t) <= radius:
		return Caught{At: *x.head, Name: "playhead"}
	case !found:
		return Caught{At: t.RoundTo(timeline.EntryStep)}
	}
	return Caught{At: best.at, Bar: best.bar, On: best.on, Name: best.name}
}

// Put draws a time to the nearest step of the grid, however far that is, or to a hit within a distance, as Near weighs them; false where there
// is neither.
func (x *Targets) Put(t, within timeline.Time) (Caught, bool) {
	return x.nearest(t, math.MaxInt64, within)
}

// nearest finds the step of the grid or the hit that draws most.
func (x *Targets) nearest(t, ofGrid, ofHits timeline.Time) (best Caught, found bool) {
	far, class := timeline.Time(0), Strength("")
	if x.grid {
		bar := x.beats.Snap(t, x.step)
		at := x.beats.At(bar)
		if d := apart(at, t); d <= ofGrid {
			best, found, far = Caught{At: at, Bar: bar, On: true, Name: "bar " + bar.String()}, true, d*gridWeight
		}
	}
	first, _ := slices.BinarySearchFunc(x.hits, t-ofHits, func(h hit, t timeline.Time) int { return cmp.Compare(h.at, t) })
	for _, h := range x.hits[first:] {
		if h.at > t+ofHits {
			break
		}
		if d := apart(h.at, t) * weight[h.class]; !found || d < far {
			best, found, far, class = Caught{At: h.at, Hit: true}, true, d, h.class
		}
	}
	if best.Hit {
		best.Name = x.hitName(best.At, class)
	}
	return best, found
}

// spokenStep is the part of a beat that hits are named by.
var spokenStep = timeline.NewRat(1, 4)

// hitName says where a hit is: by the quarter of a beat next to it, and how far from that.
func (x *Targets) hitName(at timeline.Time, class Strength) string {
	if x.beats.Empty() {
		return fmt.Sprintf("hit %s, %s", at.Clock(3), class)
	}
	beat := x.beats.Snap(at, spokenStep)
	off := int(math.Round(1000 * (at - x.beats.At(beat)).Seconds()))
	switch {
	case off < 0:
		return fmt.Sprintf("hit %s −%d ms, %s", beat, -off, class)
	case off > 0:
		return fmt.Sprintf("hit %s +%d ms, %s", beat, off, class)
	}
	return fmt.Sprintf("hit on %s, %s", beat, class)
}

func apart(a, b timeline.Time) timeline.Time { return max(a-b, b-a) }
