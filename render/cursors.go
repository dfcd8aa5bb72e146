package render

import "image"

// DrawCursors adds what moves over a view that Draw has drawn with the same scale and area: pointer, snap target, loop, playhead and the
// position that is heard. It adds few shapes, so that they can be drawn each frame over a kept picture of the rest.
func (p *SongDrawer) DrawCursors(s *Scene, th *Theme, v *SongView) {
	p.begin(s, th, v)
	bottom := max(p.Density.Max.Y, p.Lanes.Max.Y)
	row := image.Rect(p.Left, p.Timecode.Min.Y, p.Right, bottom)
	s.PushClip(row)
	if v.Loop.To > v.Loop.From {
		box := p.stretch(row, v.Loop.From, v.Loop.To)
		s.Tint(box, InkFocus, 24)
		p.upright(box.Min.X, row, p.px(2), InkFocus)
		p.upright(box.Max.X-p.px(2), row, p.px(2), InkFocus)
	}
	if v.Hover.On {
		s.Tint(image.Rect(p.X(v.Hover.At), row.Min.Y, p.X(v.Hover.At)+p.px(1), row.Max.Y), InkText, 110)
	}
	if v.Snap.On {
		p.snap(row)
	}
	if v.Playhead.On {
		p.playhead(p.X(v.Playhead.At), row, InkPlayhead)
	}
	if v.Heard.On {
		p.upright(p.X(v.Heard.At), row, p.px(2), InkPlayhead)
	}
	s.PopClip()
}

// playhead draws a line with a head in the ruler.
func (p *SongDrawer) playhead(x int, row image.Rectangle, ink Ink) {
	p.upright(x, row, p.px(1), ink)
	mid, y, w := float32(x)+float32(p.px(1))/2, float32(row.Min.Y), p.s.Scale.Pxf(7)
	p.s.Poly(ink, 255, Point{mid - w, y}, Point{mid + w, y}, Point{mid + w, y + w}, Point{mid, y + 2*w}, Point{mid - w, y + w})
}

// snap draws what a drag has caught, dashed, with its name.
func (p *SongDrawer) snap(row image.Rectangle) {
	x := p.X(p.v.Snap.At)
	for y := row.Min.Y; y < row.Max.Y; y += p.px(7) {
		p.s.Rect(image.Rect(x, y, x+p.px(1), min(y+p.px(4), row.Max.Y)), InkFocus)
	}
	if p.v.Snap.Name == "" {
		return
	}
	w := p.s.Face(TypeSmall).Measure(p.v.Snap.Name) + p.px(10)
	box := image.Rect(x+p.px(4), p.Lanes.Min.Y+p.px(4), x+p.px(4)+w, p.Lanes.Min.Y+p.px(22))
	p.s.Rect(box, InkPanel)
	p.s.Frame(box, p.px(1), InkFocus)
	p.s.TextIn(box, Middle, TypeSmall, InkText, p.v.Snap.Name)
}
