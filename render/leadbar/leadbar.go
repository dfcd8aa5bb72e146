package leadbar

import (
	"image"

	"emberbeat/render"
	"emberbeat/timeline"
)

// Height is the logical height of a lead bar.
const Height = 80

// Bar shows a cue to scale in time: command, lead and its spread, hit, how long it is open, recovery, and the next use of the same unit. All times
// are of the song.
type Bar struct {
	Area     image.Rectangle
	Look     render.Look
	Command  timeline.Time
	Hit      timeline.Time
	Spread   timeline.Time
	Open     timeline.Time
	Recovery timeline.Time
	Next     render.Instant // hit of the next use

	// Words below and above: what does not fit beside what is more important is left out.
	Lead, Recovers, AtHit, AtCommand, NextText, LastText string
}

// Heights of the parts of a lead bar in logical pixels from its top.
const (
	barTop  = 18 // of the figure of the effect
	barBase = 42
	barWord = 45 // of the first line below
	barLine = 16
)

// Draw adds the bar to a scene, its figure as covered as the theme has glyphs.
func (b *Bar) Draw(s *render.Scene, th *render.Theme) {
	s.PushClip(b.Area)
	defer s.PopClip()
	base := b.Area.Min.Y + s.Px(barBase)
	s.Rect(image.Rect(b.Area.Min.X, base, b.Area.Max.X, base+s.Px(1)), render.InkEdge)
	b.parts(s, th, base)
	b.above(s)
	line := func(n int) image.Rectangle {
		top := b.Area.Min.Y + s.Px(barWord+barLine*n)
		return image.Rect(b.Area.Min.X, top, b.Area.Max.X, top+s.Px(barLine))
	}
	b.below(s, line(0), b.AtHit, b.NextText)
	b.below(s, line(1), b.AtCommand, b.LastText)
}

// span gives the time at the left end of the bar and at its right end: the next use is drawn where it does not make all else small.
func (b *Bar) span() (from, to timeline.Time) {
	from = min(b.Command, b.Hit-b.Spread)
	to = max(b.end()+b.Recovery, b.Hit+b.Spread, from+timeline.Second/5)
	if length := to - from; b.Next.On && b.Next.At > to && b.Next.At <= to+length {
		to = b.Next.At
	}
	room := (to - from) / 20
	return from - room, to + room
}

func (b *Bar) end() timeline.Time { return b.Hit + b.Open }

// X gives the column of a time.
func (b *Bar) X(t timeline.Time) int {
	from, to := b.span()
	return b.Area.Min.X + int(float64(t-from)/float64(to-from)*float64(b.Area.Dx()))
}

func (b *Bar) parts(s *render.Scene, th *render.Theme, base int) {
	top := b.Area.Min.Y + s.Px(barTop)
	command, hit := b.X(b.Command), b.X(b.Hit)
	if b.Recovery > 0 {
		s.Frame(image.Rect(b.X(b.end()), base-s.Px(7), b.X(b.end()+b.Recovery), base), s.Px(1), render.InkEdge)
	}
	open := max(b.X(b.end()), hit+s.Px(2))
	fall := hit + (open-hit)*2/3
	if s.Scale.Px(12) > open-hit { // too short to be told apart
		fall = open
	}
	y, low := float32(top), float32(base)
	rise := min(float32(s.Px(3)), float32(fall-hit))
	body := []render.Point{{X: float32(hit), Y: low}, {X: float32(hit) + rise, Y: y}, {X: float32(fall), Y: y}, {X: float32(open), Y: low}}
	if !b.Look.Hollow {
		s.Poly(b.Look.Ink, th.GlyphFill, body...)
	}
	switch {
	case b.Look.Hollow || th.GlyphFill < 255:
		s.Line(s.Scale.Pxf(1.5), b.Look.Ink, th.GlyphEdge, body...)
	case th.Outline > 0:
		s.Line(s.Scale.Pxf(float32(th.Outline)), render.InkOutline, 255, body...)
	}
	if command < hit {
		s.Rect(image.Rect(command, base-s.Px(4), hit, base), render.InkText)
	}
	if b.Spread > 0 {
		b.hatch(s, image.Rect(b.X(b.Hit-b.Spread), base-s.Px(12), max(b.X(b.Hit+b.Spread), hit+s.Px(1)), base))
	}
	s.Rect(image.Rect(command, top-s.Px(2), command+s.Px(2), base+s.Px(3)), render.InkText)
	if b.Next.On {
		if x := b.X(b.Next.At); x < b.Area.Max.X-s.Px(4) {
			s.Rect(image.Rect(x, top, x+s.Px(3), base), b.Look.Ink)
		}
	}
}

// hatch draws the spread of the lead about the hit.
func (b *Bar) hatch(s *render.Scene, r image.Rectangle) {
	s.PushClip(r)
	for x := r.Min.X - r.Dy(); x < r.Max.X; x += s.Px(4) {
		s.Line(s.Scale.Pxf(1), render.InkText, 160, render.Point{X: float32(x), Y: float32(r.Max.Y)}, render.Point{X: float32(x + r.Dy()), Y: float32(r.Min.Y)})
	}
	s.PopClip()
}

// above says where the command is, how long the lead is, and until when the unit recovers.
func (b *Bar) above(s *render.Scene) {
	row := image.Rect(b.Area.Min.X, b.Area.Min.Y, b.Area.Max.X, b.Area.Min.Y+s.Px(barLine))
	x := row.Min.X
	set := func(at int, text string, ink render.Ink) {
		w := s.Face(render.TypeSmall).Measure(text)
		at = max(min(at, row.Max.X-w), x)
		if text != "" && s.TextIn(image.Rect(at, row.Min.Y, row.Max.X, row.Max.Y), render.Left, render.TypeSmall, ink, text) {
			x = at + w + s.Px(12)
		}
	}
	set(b.X(b.Command), "command", render.InkSecondary)
	set(x, b.Lead, render.InkText)
	set(b.X(b.end()), b.Recovers, render.InkSecondary)
}

// below sets one text at the left and another at the right, which gives way.
func (b *Bar) below(s *render.Scene, row image.Rectangle, left, right string) {
	end := s.TextCut(row, render.TypeSmall, render.InkText, left)
	row.Min.X = end + s.Px(8)
	s.TextIn(row, render.Right, render.TypeSmall, render.InkSecondary, right)
}
