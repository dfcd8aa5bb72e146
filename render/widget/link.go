package widget

import (
	"image"

	"emberbeat/render"
)

// Link is a line of words that leads somewhere: underlined while it is pointed at or has the focus.
func (u *UI) Link(key string, r image.Rectangle, text string) bool {
	c := u.control("link", key, r, reachKey)
	s := u.Scene()
	ink := render.InkSecondary
	if c.hot || c.focus {
		ink = render.InkText
		f := s.Face(render.TypeSmall)
		y := (r.Min.Y+r.Max.Y+f.Height())/2 + s.Px(1)
		s.Rect(image.Rect(r.Min.X, y, min(r.Min.X+f.Measure(text), r.Max.X), y+s.Px(1)), ink)
	}
	if c.focus {
		u.ring(r)
	}
	u.Label(r, render.TypeSmall, ink, text)
	u.last = c
	return u.worked(c)
}
