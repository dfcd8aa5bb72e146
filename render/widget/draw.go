package widget

import (
	"image"

	"emberbeat/render"
)

// Sizes in logical pixels that all controls share.
const (
	RowHeight  = 28 // of a control in a form
	LineHeight = 24 // of a row in a list
	Gap        = 8
	Pad        = 10
	ringOut    = 3
)

// Covers of the light that lies over a control when it is pointed at or pressed.
const (
	coverHot  = 18
	coverHeld = 40
	coverText = 58 // of the focus ink, over selected text
)

// body fills r with its four corners taken off, which looks softer than a square.
func body(s *render.Scene, r image.Rectangle, ink render.Ink, cover uint8) {
	c := s.Px(1)
	s.Tint(image.Rect(r.Min.X+c, r.Min.Y, r.Max.X-c, r.Min.Y+c), ink, cover)
	s.Tint(image.Rect(r.Min.X, r.Min.Y+c, r.Max.X, r.Max.Y-c), ink, cover)
	s.Tint(image.Rect(r.Min.X+c, r.Max.Y-c, r.Max.X-c, r.Max.Y), ink, cover)
}

// outline draws the edge of a body, w device pixels thick.
func outline(s *render.Scene, r image.Rectangle, w int, ink render.Ink) {
	c := s.Px(1)
	s.Rect(image.Rect(r.Min.X+c, r.Min.Y, r.Max.X-c, r.Min.Y+w), ink)
	s.Rect(image.Rect(r.Min.X+c, r.Max.Y-w, r.Max.X-c, r.Max.Y), ink)
	s.Rect(image.Rect(r.Min.X, r.Min.Y+c, r.Min.X+w, r.Max.Y-c), ink)
	s.Rect(image.Rect(r.Max.X-w, r.Min.Y+c, r.Max.X, r.Max.Y-c), ink)
}

// ring draws the focus around r, or inside it where there is no room around.
func (u *UI) ring(r image.Rectangle) {
	s := u.Scene()
	if out := r.Inset(-s.Px(ringOut)); out.In(s.Clip()) {
		r = out
	}
	outline(s, r, s.Px(2), render.InkFocus)
}

// well draws what text is typed into or chosen from.
func (u *UI) well(c control) {
	s := u.Scene()
	edge := render.InkEdge
	if c.off != "" {
		edge = render.InkBar
	}
	body(s, c.area, render.InkLane, 255)
	u.glow(c)
	outline(s, c.area, s.Px(1), edge)
	if c.focus {
		u.ring(c.area)
	}
}

// lent draws the ground of a field whose value something else gives: no well, a thin edge.
func (u *UI) lent(c control) {
	s := u.Scene()
	edge := render.InkBar
	if c.hot && c.off == "" {
		edge = render.InkEdge
	}
	outline(s, c.area, s.Px(1), edge)
	if c.focus {
		u.ring(c.area)
	}
}

// glow lays light over a control that is pointed at or held.
func (u *UI) glow(c control) {
	switch {
	case c.off != "":
	case c.held && c.hot:
		body(u.Scene(), c.area, render.InkText, coverHeld)
	case c.hot:
		body(u.Scene(), c.area, render.InkText, coverHot)
	}
}

// words gives the ink for the label of a control.
func (c control) words() render.Ink {
	if c.off != "" {
		return render.InkFaint
	}
	return render.InkText
}

// Label sets a line of text at the left of r, cut where it does not fit; the whole is then in its tip.
func (u *UI) Label(r image.Rectangle, t render.Type, ink render.Ink, text string) {
	if u.low(r, t) {
		return
	}
	u.Scene().TextCut(r, t, ink, text)
	u.tipIfCut(r, t, text)
}

// low reports whether a box has no room for a line of a type: what does not fit on a page is left out, and does not lie over something else.
func (u *UI) low(r image.Rectangle, t render.Type) bool {
	return r.Dy() < u.Scene().Face(t).Height()*2/3
}

// tipIfCut shows the whole of a text that does not fit into r as the tip of r.
func (u *UI) tipIfCut(r image.Rectangle, t render.Type, text string) {
	if u.in.Pointer.In(r) && u.onGround && u.layer == u.height && u.Scene().Face(t).Measure(text) > r.Dx() {
		u.offerTip(r, text, "")
	}
}

// Chevrons point where something opens.
const (
	pointDown = iota
	pointRight
	pointUp
	pointLeft
)

// chevron draws a small arrow head in the middle of r.
func chevron(s *render.Scene, r image.Rectangle, to int, ink render.Ink) {
	x, y := float32(r.Min.X+r.Max.X)/2, float32(r.Min.Y+r.Max.Y)/2
	a, b := s.Scale.Pxf(4), s.Scale.Pxf(2)
	w := s.Scale.Pxf(1.6)
	switch to {
	case pointDown:
		s.Line(w, ink, 255, render.Point{X: x - a, Y: y - b}, render.Point{X: x, Y: y + b}, render.Point{X: x + a, Y: y - b})
	case pointUp:
		s.Line(w, ink, 255, render.Point{X: x - a, Y: y + b}, render.Point{X: x, Y: y - b}, render.Point{X: x + a, Y: y + b})
	case pointRight:
		s.Line(w, ink, 255, render.Point{X: x - b, Y: y - a}, render.Point{X: x + b, Y: y}, render.Point{X: x - b, Y: y + a})
	case pointLeft:
		s.Line(w, ink, 255, render.Point{X: x + b, Y: y - a}, render.Point{X: x - b, Y: y}, render.Point{X: x + b, Y: y + a})
	}
}

// tick draws a check mark in r.
func tick(s *render.Scene, r image.Rectangle, ink render.Ink) {
	w, h := float32(r.Dx()), float32(r.Dy())
	at := func(x, y float32) render.Point {
		return render.Point{X: float32(r.Min.X) + x*w, Y: float32(r.Min.Y) + y*h}
	}
	s.Line(s.Scale.Pxf(2), ink, 255, at(0.22, 0.52), at(0.42, 0.72), at(0.78, 0.28))
}
