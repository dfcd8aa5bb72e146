package render

import (
	"image"
	"slices"

	"emberbeat/timeline"
)

func (p *SongDrawer) sectionRow() {
	if p.Sections.Empty() {
		return
	}
	row := p.axis(p.Sections)
	p.caption(p.Sections, "Sections")
	p.s.PushClip(row)
	for i := range p.d.sections {
		c := &p.d.sections[i]
		box := p.stretch(row, c.from, c.to)
		if !box.Overlaps(row) {
			continue
		}
		p.s.Rect(image.Rect(box.Min.X, box.Min.Y, box.Max.X-p.px(1), box.Max.Y-p.px(2)), InkBeat)
		p.s.Rect(image.Rect(box.Min.X, box.Min.Y, box.Min.X+p.px(2), box.Max.Y-p.px(2)), InkEdge)
		p.s.Ground(HitSection, c.id, box)
		p.sectionName(c, inset(box.Intersect(row), p.px(8), 0))
	}
	if p.v.Fit {
		p.sectionEdges(row)
	}
	p.s.PopClip()
}

// gripWidth is the logical width of the edge of a section as a thing to be taken.
const gripWidth = 6

// sectionEdges lets the edges of sections be taken; where one begins as another ends, that edge stands for both.
func (p *SongDrawer) sectionEdges(row image.Rectangle) {
	half := p.px(gripWidth) / 2
	edge := func(kind HitKind, id string, at timeline.Time) {
		p.s.Hit(kind, id, image.Rect(p.X(at)-half, row.Min.Y, p.X(at)+half, row.Max.Y))
	}
	for i := range p.d.sections {
		c := &p.d.sections[i]
		edge(HitSectionStart, c.id, c.from)
		if c.given && !slices.ContainsFunc(p.d.sections, func(o sectionData) bool { return o.from == c.to }) {
			edge(HitSectionEnd, c.id, c.to)
		}
	}
}

// sectionName sets a section's name where it fits, and its energy where that fits as well.
func (p *SongDrawer) sectionName(c *sectionData, box image.Rectangle) {
	if !p.s.TextIn(box, Left, TypeLabel, InkText, c.name) || c.energy == 0 {
		return
	}
	box.Min.X += p.s.Face(TypeLabel).Measure(c.name) + p.px(12)
	p.text = append(append(p.text[:0], "energy "...), p.id(c.energy)...)
	p.s.BytesIn(box, Right, TypeSmall, InkSecondary, append(p.text, " %"...))
}

func (p *SongDrawer) markerRow() {
	if p.Markers.Empty() {
		return
	}
	row := p.axis(p.Markers)
	if !p.v.Fit {
		p.caption(p.Markers, "Markers")
	}
	p.s.PushClip(row)
	for i := range p.d.markers {
		m := &p.d.markers[i]
		box := p.stretch(row, m.at, m.at)
		box.Max.X = row.Max.X
		if i+1 < len(p.d.markers) {
			box.Max.X = p.X(p.d.markers[i+1].at)
		}
		if !box.Overlaps(row) {
			continue
		}
		ink, kind := InkSecondary, HitMarker
		if m.note {
			kind = HitNote
			if ink = InkText; m.done {
				ink = InkFaint
			}
		}
		p.upright(box.Min.X, row, p.px(1), ink)
		p.flag(m, image.Pt(box.Min.X, row.Min.Y+p.px(3)), ink)
		p.s.TextIn(image.Rect(box.Min.X+p.px(15), box.Min.Y, box.Max.X-p.px(4), box.Max.Y), Left, TypeSmall, ink, m.name)
		p.s.Hit(kind, m.id, image.Rect(box.Min.X, row.Min.Y, box.Min.X+p.px(12), row.Max.Y))
	}
	p.s.PopClip()
}

// flag draws what a marker is known by: a pennant, and for a note a square, which is
// filled while the note is open.
func (p *SongDrawer) flag(m *markerData, at image.Point, ink Ink) {
	size := p.px(10)
	square := image.Rectangle{at, at.Add(image.Pt(size, size))}
	switch x, y, h := float32(at.X), float32(at.Y), float32(size); {
	case !m.note:
		p.s.Poly(ink, 255, Point{x, y}, Point{x + h, y + h/2}, Point{x, y + h})
	case m.done:
		p.s.Frame(square, p.px(1), ink)
	default:
		p.s.Rect(square, ink)
	}
}

// labelGap is the least logical distance of two labels of a ruler of timecode, and barGap that of bar numbers.
const (
	labelGap = 112
	barGap   = 44
)

// timecodeSteps are the distances of labels in seconds.
var timecodeSteps = [...]int64{1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 1200, 1800, 3600}

func (p *SongDrawer) timecodeRow() {
	p.s.Rect(p.Timecode, InkPanel)
	plan := p.d.Plan
	p.text = append(append(p.text[:0], "Timecode "...), plan.Rate.String()...)
	p.captionBytes(p.Timecode)
	p.s.Ground(HitTimecode, "", p.axis(p.Timecode))
	p.s.PushClip(p.axis(p.Timecode))
	if plan.Rate == timeline.RateUnset || plan.StartErr != nil {
		p.s.TextIn(inset(p.axis(p.Timecode), p.px(6), 0), Left, TypeSmall, InkFaint, "the song has no timecode")
	} else {
		p.timecodeLabels()
	}
	p.s.PopClip()
	p.rule(p.Timecode, InkBeat)
}

func (p *SongDrawer) captionBytes(row image.Rectangle) {
	box := p.gutter(row)
	box.Min.X += p.px(12)
	p.s.BytesIn(box, Left, TypeSmall, InkFaint, p.text)
}

// timecodeLabels sets labels at whole seconds of timecode, or at every so many frames where there is room for those.
func (p *SongDrawer) timecodeLabels() {
	rate := p.d.Plan.Rate
	room := p.Show.To - p.Show.From
	gap := timeline.Time(scaled(int64(room), int64(p.px(labelGap)), int64(p.Right-p.Left)))
	first, last := p.d.Plan.FrameAt(p.Show.From)-1, p.d.Plan.FrameAt(p.Show.To)
	if gap <= timeline.Second/2 {
		p.frameLabels(first, last, gap)
		return
	}
	step := timecodeSteps[len(timecodeSteps)-1]
	for i := len(timecodeSteps) - 1; i >= 0 && timeline.Time(timecodeSteps[i])*timeline.Second >= gap; i-- {
		step = timecodeSteps[i]
	}
	tc, err := rate.Timecode(min(max(first, 0), rate.DayFrames()-1))
	if err != nil {
		return
	}
	for n := seconds(tc) / step * step; n < 24*3600; n += step {
		frame, err := rate.Frame(wholeSecond(rate, n))
		if err != nil || frame > last {
			return
		}
		p.timecodeLabel(frame)
	}
}

// frameLabels sets labels at least gap apart at every so many frames.
func (p *SongDrawer) frameLabels(first, last int64, gap timeline.Time) {
	step := int64(1)
	for _, n := range [...]int64{2, 5, 10, 15} {
		if timeline.Time(step)*p.d.Plan.Rate.FrameTicks() < gap {
			step = n
		}
	}
	for frame := max(first, 0) / step * step; frame <= last; frame += step {
		p.timecodeLabel(frame)
	}
}

func (p *SongDrawer) timecodeLabel(frame int64) {
	tc, err := p.d.Plan.Rate.Timecode(frame)
	if err != nil {
		return
	}
	x := p.X(p.d.Plan.TimeOf(frame))
	if x < p.Left {
		return
	}
	p.upright(x, p.Timecode, p.px(1), InkEdge)
	p.text = appendTimecode(p.text[:0], tc, p.d.Plan.Rate.Drop())
	p.s.BytesIn(image.Rect(x+p.px(5), p.Timecode.Min.Y, p.Right, p.Timecode.Max.Y), Left, TypeSmall, InkText, p.text)
}

func seconds(tc timeline.Timecode) int64 {
	return int64(tc.H)*3600 + int64(tc.M)*60 + int64(tc.S)
}

// wholeSecond gives the first label of a second from midnight: frame 0, or 2 where drop-frame leaves out the first two.
func wholeSecond(rate timeline.Rate, n int64) timeline.Timecode {
	tc := timeline.Timecode{H: uint8(n / 3600), M: uint8(n / 60 % 60), S: uint8(n % 60)}
	if rate.Drop() && tc.S == 0 && tc.M%10 != 0 {
		tc.F = 2
	}
	return tc
}

// appendTimecode writes a label as timeline.Rate.Label does, without making a string.
func appendTimecode(b []byte, tc timeline.Timecode, drop bool) []byte {
	two := func(n uint8, end byte) {
		b = append(b, '0'+n/10, '0'+n%10, end)
	}
	two(tc.H, ':')
	two(tc.M, ':')
	if drop {
		two(tc.S, ';')
	} else {
		two(tc.S, ':')
	}
	return append(b, '0'+tc.F/10, '0'+tc.F%10)
}
