package widget

import (
	"image"

	"emberbeat/render"
)

// Tabs draws titles side by side and gives which is chosen after this frame. Tab visits them once; the arrow keys choose.
func (u *UI) Tabs(key string, r image.Rectangle, titles []string, at int) int {
	c := u.control("tabs", key, r, reachKey)
	s := u.Scene()
	if c.focus {
		for u.take(KeyLeft, 0) {
			at = (at + len(titles) - 1) % len(titles)
		}
		for u.take(KeyRight, 0) {
			at = (at + 1) % len(titles)
		}
	}
	s.Rect(image.Rect(r.Min.X, r.Max.Y-s.Px(1), r.Max.X, r.Max.Y), render.InkBar)
	x := r.Min.X
	for i, title := range titles {
		area := image.Rect(x, r.Min.Y, min(x+u.tabWidth(titles, title, r.Dx()), r.Max.X), r.Max.Y)
		x = area.Max.X
		over := c.hot && u.in.Pointer.In(area)
		if c.click && over {
			at = i
		}
		u.tab(c, area, title, i == at, over)
	}
	return at
}

// tabWidth gives the device pixels of a title; where not all fit each gets the same share.
func (u *UI) tabWidth(titles []string, title string, room int) int {
	f, sum := u.Scene().Face(render.TypeStrong), 0
	for _, t := range titles {
		sum += f.Measure(t) + 2*u.Px(12)
	}
	if sum > room {
		return room / len(titles)
	}
	return f.Measure(title) + 2*u.Px(12)
}

func (u *UI) tab(c control, r image.Rectangle, title string, on, over bool) {
	s := u.Scene()
	typ, ink := render.TypeLabel, render.InkSecondary
	if on {
		typ, ink = render.TypeStrong, render.InkText
		s.Rect(image.Rect(r.Min.X+s.Px(6), r.Max.Y-s.Px(3), r.Max.X-s.Px(6), r.Max.Y), render.InkText)
	} else if over {
		s.Tint(r, render.InkText, coverHot)
	}
	if c.focus && on {
		outline(s, vInset(r, s.Px(2)), s.Px(2), render.InkFocus)
	}
	u.centred(r, typ, ink, title)
}

// Segment draws one of several choices that stand side by side, of which one is on, and says whether it was used.
func (u *UI) Segment(key string, r image.Rectangle, label string, on bool) bool {
	c := u.control("segment", key, r, reachKey)
	s := u.Scene()
	typ, ink, edge := render.TypeLabel, c.words(), render.InkEdge
	if c.hot {
		edge = render.InkText
	}
	if on {
		s.Rect(r, render.InkText)
		typ, ink = render.TypeStrong, render.InkLane
	} else {
		s.Rect(r, render.InkRaised)
		s.Frame(r, s.Px(1), edge)
	}
	if c.focus {
		outline(s, r, s.Px(2), render.InkFocus)
	}
	u.centred(r, typ, ink, label)
	return u.worked(c)
}
