package render

import (
	"image"

	"emberbeat/timeline"
)

// Kinds of areas in the beat strip.
const (
	HitReading HitKind = "reading"  // index of the reading as a decimal number, from 0
	HitBarLine HitKind = "bar-line" // number of the bar
	HitDoubt   HitKind = "doubt"    // index of the doubt
)

// BeatStrip is what the song's view shows while its grid is put right, in the place of what is below the strip of the whole song. The data of
// the view are then those of the song as it is tried. It does not change once it is shown.
type BeatStrip struct {
	Old      *timeline.BeatMap // as it stands; the same as the song's where nothing is tried
	OldHits  map[timeline.ID]timeline.Time
	Attacks  []timeline.Time // strong ones that are heard, in order
	Doubts   []BeatDoubt
	Readings []BeatReading
	Sits     int // percent, -1 while it is not known
	Before   int // as it stands, likewise
	Locked   []string
	Quiet    string // why nothing is heard yet, or cannot be
	Tried    string // what was tried, "" for nothing
	Comes    string // what comes of it
	Drag     *BeatDrag
	Taps     string // how many taps there are, and what they tell
}

// BeatDoubt is a stretch in which the ear is not sure of the beats.
type BeatDoubt struct {
	Span
	Share float64 // 0 sure .. 1 no idea
}

// Unsure gives the stretches in which the ear is not sure, by time: those that are hatched.
func (b *BeatStrip) Unsure() []BeatDoubt {
	var list []BeatDoubt
	for _, d := range b.Doubts {
		if d.Share >= gridDoubt {
			list = append(list, d)
		}
	}
	return list
}

// BeatReading is a grid that may be meant.
type BeatReading struct {
	Name   string
	Detail string // what is another in it
	Foot   string // what comes of it
	Sits   int    // percent, -1 where it is not known
	Beats  *timeline.BeatMap
	On     bool // it is what is tried now
}

// BeatDrag is a bar line that is being moved.
type BeatDrag struct {
	Bar   int
	At    timeline.Time
	Head  string   // by how much
	Lines []string // what goes with it, what stays
	Keys  string   // what held keys change
}

// Logical heights of the rows of the strip.
const (
	doubtHeight   = 16
	toolsHeight   = 48
	readingHeight = 118
	keepHeight    = 52
	keepNarrow    = 88 // where the buttons stand below what is said
	stripLane     = 28
	stripLanes    = 5
	stripWave     = 96 // at least
)

// NarrowKeep is the logical width under which the foot has a line of its own for the buttons.
const NarrowKeep = 760

// gridDoubt is from how much doubt on a stretch is hatched.
const gridDoubt = 0.5

// layBeats finds where the parts of the strip stand. What does not fit is left out from below: lanes first, then the readings.
func (l *SongLayout) layBeats(v *SongView, scale Scale, down *rows) {
	l.Doubt = down.take(doubtHeight)
	l.Tools = down.take(toolsHeight)
	l.Timecode = down.take(timecodeHeight)
	l.Bars = down.take(barsHeight)
	up := rows{down.left, scale}
	keep := keepHeight
	if v.Area.Dx() < scale.Px(NarrowKeep) {
		keep = keepNarrow
	}
	l.Keep = up.bottomIf(true, keep)
	room := up.left.Dy() - scale.Px(stripWave)
	lanes := min(len(v.Data.Lanes), stripLanes) * scale.Px(stripLane)
	shown := len(v.Beats.Readings) > 0 || v.Beats.Quiet != ""
	if shown {
		lanes = min(lanes, room-scale.Px(readingHeight))
	}
	if lanes = min(lanes, room); lanes >= scale.Px(stripLane) {
		l.Lanes = up.left
		l.Lanes.Min.Y = l.Lanes.Max.Y - lanes
		up.left.Max.Y = l.Lanes.Min.Y
		room -= lanes
	} else {
		l.Lanes = image.Rect(up.left.Min.X, up.left.Max.Y, up.left.Max.X, up.left.Max.Y)
	}
	l.Readings = up.bottomIf(shown && room >= scale.Px(readingHeight), readingHeight)
	l.Wave = up.left
	l.laneHeight = scale.Px(stripLane)
	l.Density = image.Rect(l.Lanes.Min.X, l.Lanes.Max.Y, l.Lanes.Max.X, l.Lanes.Max.Y)
	l.scroll = min(max(v.Scroll, 0), max(l.lanesHeight(v.Data)-l.Lanes.Dy(), 0))
}

// ReadingAt gives the card of a reading.
func (l *SongLayout) ReadingAt(i int, scale Scale) image.Rectangle {
	const most = 4
	row := l.axis(l.Readings)
	gap := scale.Px(8)
	w := (row.Dx() - (most-1)*gap) / most
	x := row.Min.X + i*(w+gap)
	return image.Rect(x, row.Min.Y+scale.Px(8), x+w, row.Max.Y-scale.Px(8))
}
