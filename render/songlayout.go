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

	laneHeight, scroll int
}

// Logical heights of the rows, and width of the gutter.
const (
	titleHeight    = 38
	stripHeight    = 30
	sectionHeight  = 22
	markerHeight   = 20
	timecodeHeight = 20
	barsHeight     = 21
	waveHeight     = 76
	energyHeight   = 34
	tickHeight     = 11 // of the ticks of beats below the waveform
	densityHeight  = 46
	findingHeight  = 26
	listRowHeight  = 24
	legendHeight   = 34
	footHeight     = 26
	gutterWidth    = 240
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
		laneHeight: scale.Px(v.laneHeight())}
	l.Right = max(l.Right, l.Left+1)
	if v.Fit {
		l.fit(v, scale)
	} else {
		l.stack(v, scale)
	}
	l.scroll = min(max(v.Scroll, 0), max(l.lanesHeight(v.Data)-l.Lanes.Dy(), 0))
	return l
}

// stack places the parts of a picture below each other: what is not lanes has its height, and lanes the rest.
func (l *SongLayout) stack(v *SongView, scale Scale) {
	down := rows{v.Area, scale}
	l.Title = down.take(titleHeight)
	l.Transport = down.take(v.Transport)
	l.Strip = down.takeIf(v.Strip, stripHeight)
	if v.Beats != nil {
		l.layBeats(v, scale, &down)
		return
	}
	l.Sections = down.takeIf(len(v.Data.sections) > 0, sectionHeight)
	l.Markers = down.takeIf(len(v.Data.markers) > 0, markerHeight)
	l.Timecode = down.take(timecodeHeight)
	l.Bars = down.takeIf(!v.Data.Plan.Song.Beats.Empty(), barsHeight)
	l.Wave = down.take(waveHeight)
	l.Energy = down.take(energyHeight)
	l.fromBelow(v, scale, &down)
	l.Lanes = down.left
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

// fit places the parts of a page of the window, whose free height waveform, lanes and density share. A page too low for the least of them goes
// without the whole song, then density, sections and findings, and the waveform has what is left above lanes. Markers stand in the upper edge of
// the waveform, so that the first one moves nothing.
func (l *SongLayout) fit(v *SongView, scale Scale) {
	bars, sections := !v.Data.Plan.Song.Beats.Empty(), len(v.Data.sections) > 0
	high := v.Area.Dy() * 100 / int(scale)
	fixed := func(on bool, h int) int { return b2i(on) * h }
	strip, density, findings := v.Strip, true, true
	free := func() int {
		return high - v.Transport - fixed(strip, stripHeight) - fixed(sections, sectionHeight) - timecodeHeight - fixed(bars, barsHeight) - fixed(findings, findingHeight)
	}
	lane := v.LaneHeight
	if lane > 0 {
		lane = max(lane, MinLaneHeight)
	}
	low := func() bool { return free() < leastHeights.Wave+minLanesHeight+fixed(density, leastHeights.Density) }
	for _, part := range []*bool{&strip, &density, &sections, &findings} {
		if low() {
			*part = false
		}
	}
	h := FreeHeight(free(), len(v.Data.Lanes), lane)
	if low() {
		h.Wave = max(free()-minLanesHeight, 0)
	}
	l.laneHeight = scale.Px(h.Lane)
	down := rows{v.Area, scale}
	l.Transport = down.take(v.Transport)
	l.Strip = down.takeIf(strip, stripHeight)
	l.caution(v, scale)
	if v.Beats != nil {
		l.layBeats(v, scale, &down)
		return
	}
	l.Sections = down.takeIf(sections, sectionHeight)
	l.Timecode = down.take(timecodeHeight)
	l.Bars = down.takeIf(bars, barsHeight)
	l.Energy = down.take(h.Wave)
	l.Wave = l.Energy
	l.Energy.Min.Y = max(l.Energy.Max.Y-scale.Px(energyHeight), l.Energy.Min.Y)
	l.Wave.Max.Y = l.Energy.Min.Y
	if len(v.Data.markers) > 0 {
		l.Markers = l.Wave
		l.Markers.Max.Y = min(l.Markers.Min.Y+scale.Px(markerHeight), l.Wave.Max.Y)
	}
	up := rows{down.left, scale}
	up.left.Max.Y = max(up.left.Max.Y-v.Under, up.left.Min.Y)
	l.Findings = up.bottomIf(findings, findingHeight)
	l.Density = up.bottomIf(density, h.Density)
	l.Lanes = up.left
}

// caution gives its line a place in the head, below the buttons.
func (l *SongLayout) caution(v *SongView, scale Scale) {
	if v.Foot != "" {
		l.Foot = image.Rect(min(v.Area.Min.X+scale.Px(footLeft), v.Area.Max.X), l.Transport.Max.Y-min(scale.Px(footLow), l.Transport.Dy()), v.Area.Max.X, l.Transport.Max.Y)
	}
}

// Logical place of the line of caution in the head of a page: from its left, and from its bottom.
const (
	footLeft = 322
	footLow  = 18
)

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

// lanesHeight gives the height of all lanes.
func (l *SongLayout) lanesHeight(d *SongData) int { return l.laneHeight * len(d.Lanes) }

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
	if i := (y - l.Lanes.Min.Y + l.scroll) / l.laneHeight; i < len(d.Lanes) {
		return i
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
