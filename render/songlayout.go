package render

import (
	"image"

	"emberbeat/timeline"
)

// SongLayout says where the parts of a song's view stand, in device pixels. All parts are as wide as the view; the time axis takes what
// is right of the gutter. A part that is not shown is empty.
type SongLayout struct {
	Title, Transport, Strip, Sections, Markers, Timecode, Bars, Wave, Energy, Lanes, Density, Findings, List, Legend, Foot image.Rectangle
	Doubt, Tools, Readings, Keep                                                                                           image.Rectangle // of the beat strip

	Left, Right int // ends of the time axis
	Show        Span

	laneHeight, headHeight int
	scroll                 int
}

// Logical heights of the rows, and width of the gutter.
const (
	titleHeight    = 38
	stripHeight    = 40
	sectionHeight  = 24
	markerHeight   = 20
	rulerHeight    = 24
	waveHeight     = 76
	energyHeight   = 34
	headHeight     = 22
	densityHeight  = 46
	findingHeight  = 28
	listRowHeight  = 24
	legendHeight   = 34
	footHeight     = 26
	gutterWidth    = 196
	narrowGutter   = 112
	narrowView     = 640
	rightMargin    = 12
	minLanesHeight = 48
)

// Layout finds where the parts of a song's view stand at a scale.
func Layout(v *SongView, scale Scale) SongLayout {
	gutter := gutterWidth
	if v.Area.Dx() < scale.Px(narrowView) {
		gutter = narrowGutter
	}
	l := SongLayout{Left: v.Area.Min.X + scale.Px(gutter), Right: v.Area.Max.X - scale.Px(rightMargin), Show: v.shown(),
		laneHeight: scale.Px(v.laneHeight()), headHeight: scale.Px(headHeight)}
	l.Right = max(l.Right, l.Left+1)

	down := rows{v.Area, scale}
	l.Title = down.take(titleHeight)
	l.Transport = down.take(v.Transport)
	l.Strip = down.takeIf(v.Strip, stripHeight)
	if v.Beats != nil {
		l.layBeats(v, scale, &down)
		return l
	}
	l.Sections = down.takeIf(len(v.Data.sections) > 0, sectionHeight)
	l.Markers = down.takeIf(len(v.Data.markers) > 0, markerHeight)
	l.Timecode = down.take(rulerHeight)
	l.Bars = down.takeIf(!v.Data.Plan.Song.Beats.Empty(), rulerHeight)
	l.Wave = down.take(waveHeight)
	l.Energy = down.take(energyHeight)

	l.fromBelow(v, scale, &down)
	l.Lanes = down.left
	l.scroll = min(max(v.Scroll, 0), max(l.lanesHeight(v.Data)-l.Lanes.Dy(), 0))
	return l
}

// fromBelow places the parts under the lanes. A view too low for them goes without, so that lanes are always seen.
func (l *SongLayout) fromBelow(v *SongView, scale Scale, down *rows) {
	up := rows{down.left, scale}
	foot := up.bottomIf(v.Foot != "", footHeight)
	legend := up.bottomIf(v.List && len(v.Data.used) > 0, legendHeight*legendRows(v, scale))
	list := up.bottomIf(v.List, listRowHeight*listRows(v))
	findings := up.bottomIf(true, findingHeight)
	density := up.bottomIf(true, densityHeight)
	if up.left.Dy() < scale.Px(minLanesHeight) && !v.List {
		return
	}
	l.Foot, l.Legend, l.List, l.Findings, l.Density = foot, legend, list, findings, density
	down.left = up.left
}

// rows hands out the rows of an area from its top or bottom.
type rows struct {
	left  image.Rectangle
	scale Scale
}

func (r *rows) take(height int) image.Rectangle {
	row := r.left
	row.Max.Y = min(row.Min.Y+r.scale.Px(height), row.Max.Y)
	r.left.Min.Y = row.Max.Y
	return row
}

func (r *rows) takeIf(shown bool, height int) image.Rectangle {
	if !shown {
		return image.Rectangle{}
	}
	return r.take(height)
}

func (r *rows) bottomIf(shown bool, height int) image.Rectangle {
	if !shown {
		return image.Rectangle{}
	}
	row := r.left
	row.Min.Y = max(row.Max.Y-r.scale.Px(height), row.Min.Y)
	r.left.Max.Y = row.Min.Y
	return row
}

// lanesHeight gives the height of all lanes with their headings.
func (l *SongLayout) lanesHeight(d *SongData) int {
	h := 0
	for i := range d.Lanes {
		h += l.laneHeight
		if d.Lanes[i].Place != "" {
			h += l.headHeight
		}
	}
	return h
}

// SongHeight gives the height in device pixels at which a view of its width shows all its lanes without scrolling.
func SongHeight(v *SongView, scale Scale) int {
	tall := *v
	const ample = 1 << 24
	tall.Area.Max.Y = tall.Area.Min.Y + ample
	l := Layout(&tall, scale)
	return ample - l.Lanes.Dy() + max(l.lanesHeight(v.Data), scale.Px(minLanesHeight))
}

// X gives the column in which a song time lies; times out of view give columns out of view.
func (l *SongLayout) X(t timeline.Time) int {
	return l.Left + int(scaled(int64(t-l.Show.From), int64(l.Right-l.Left), int64(l.Show.To-l.Show.From)))
}

// TimeAt gives the song time at the left edge of a column. TimeAt and X undo each other in columns.
func (l *SongLayout) TimeAt(x int) timeline.Time {
	width, span := int64(l.Right-l.Left), int64(l.Show.To-l.Show.From)
	return l.Show.From + timeline.Time(-scaled(-int64(x-l.Left), span, width))
}

// scaled gives n*to/from rounded down; from is positive. Products beyond int64 stop at its ends: they lie far out of any view.
func scaled(n, to, from int64) int64 {
	const limit = 1 << 62
	if a := max(n, -n); a > limit/max(to, 1) {
		n = n / a * (limit / max(to, 1))
	}
	q := n * to / from
	if n*to%from < 0 {
		q--
	}
	return q
}

// LaneAt gives the index of the lane under a height of the view, or -1.
func (l *SongLayout) LaneAt(d *SongData, y int) int {
	if y < l.Lanes.Min.Y || y >= l.Lanes.Max.Y {
		return -1
	}
	top := l.Lanes.Min.Y - l.scroll
	for i := range d.Lanes {
		if d.Lanes[i].Place != "" {
			top += l.headHeight
		}
		if y >= top && y < top+l.laneHeight {
			return i
		}
		top += l.laneHeight
	}
	return -1
}

// axis gives the part of a row that lies on the time axis.
func (l *SongLayout) axis(row image.Rectangle) image.Rectangle {
	return image.Rect(l.Left, row.Min.Y, l.Right, row.Max.Y).Intersect(row)
}

// gutter gives the part of a row left of the time axis.
func (l *SongLayout) gutter(row image.Rectangle) image.Rectangle {
	return image.Rect(row.Min.X, row.Min.Y, min(l.Left, row.Max.X), row.Max.Y)
}
