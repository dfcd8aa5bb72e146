package widget

import (
	"image"

	"emberbeat/render"
)

// SplitSpec says how an area is divided in two. Sizes are logical pixels.
type SplitSpec struct {
	Below      bool // one part stands below the other, else beside it
	Last       bool // At is the size of the second part: it keeps it when the window grows
	At         int
	MinA, MinB int
	Home       int // what a double click brings back; 0 for nothing
}

// splitBar is the logical width of the bar between two parts; it is found in a wider area.
const splitBar = 5

// Split divides r by a bar that can be dragged, or moved with the arrow keys, and gives both parts and the size that At becomes.
func (u *UI) Split(key string, r image.Rectangle, spec SplitSpec) (a, b image.Rectangle, at int) {
	s := u.Scene()
	length, pos := r.Dx(), u.in.Pointer.X-r.Min.X
	if spec.Below {
		length, pos = r.Dy(), u.in.Pointer.Y-r.Min.Y
	}
	at = spec.At
	c := u.control("split", key, spec.bar(s, r, spec.cut(s, length, at)), reachKey)
	switch {
	case c.press && u.in.Clicks == 2 && spec.Home > 0:
		at = spec.Home
	case c.held && u.in.Down&Primary != 0 && u.in.Pressed == 0:
		px := pos
		if spec.Last {
			px = length - pos
		}
		at = (px*100 + int(s.Scale)/2) / int(s.Scale)
	case c.focus:
		at += u.splitKeys(spec)
	}
	cut := spec.cut(s, length, at)
	if at != spec.At {
		at = spec.size(s, length, cut)
	}
	bar := spec.bar(s, r, cut)
	u.drawSplit(c, spec, bar)
	if spec.Below {
		return image.Rect(r.Min.X, r.Min.Y, r.Max.X, bar.Min.Y), image.Rect(r.Min.X, bar.Max.Y, r.Max.X, r.Max.Y), at
	}
	return image.Rect(r.Min.X, r.Min.Y, bar.Min.X, r.Max.Y), image.Rect(bar.Max.X, r.Min.Y, r.Max.X, r.Max.Y), at
}

// cut gives where the bar begins, in device pixels, with both parts at least as large as they must be.
func (spec SplitSpec) cut(s *render.Scene, length, at int) int {
	room := length - s.Px(splitBar)
	cut := s.Px(at)
	if spec.Last {
		cut = room - cut
	}
	return max(min(cut, room-s.Px(spec.MinB)), min(s.Px(spec.MinA), room), 0)
}

// size is the other way of cut.
func (spec SplitSpec) size(s *render.Scene, length, cut int) int {
	if spec.Last {
		cut = length - s.Px(splitBar) - cut
	}
	return (cut*100 + int(s.Scale)/2) / int(s.Scale)
}

func (spec SplitSpec) bar(s *render.Scene, r image.Rectangle, cut int) image.Rectangle {
	if spec.Below {
		return image.Rect(r.Min.X, r.Min.Y+cut, r.Max.X, r.Min.Y+cut+s.Px(splitBar))
	}
	return image.Rect(r.Min.X+cut, r.Min.Y, r.Min.X+cut+s.Px(splitBar), r.Max.Y)
}

// splitKeys gives how far the arrow keys move the bar.
func (u *UI) splitKeys(spec SplitSpec) int {
	less, more := KeyLeft, KeyRight
	if spec.Below {
		less, more = KeyUp, KeyDown
	}
	by := 0
	for u.take(less, 0) {
		by -= 16
	}
	for u.take(more, 0) {
		by += 16
	}
	if spec.Last {
		by = -by
	}
	return by
}

// drawSplit draws the bar with a grip in its middle.
func (u *UI) drawSplit(c control, spec SplitSpec, bar image.Rectangle) {
	s := u.Scene()
	line, ink := bar.Inset(s.Px(2)), render.InkBeat
	grip := s.Px(14)
	x, y := (bar.Min.X+bar.Max.X)/2, (bar.Min.Y+bar.Max.Y)/2
	handle := image.Rect(bar.Min.X+s.Px(1), y-grip, bar.Max.X-s.Px(1), y+grip)
	if spec.Below {
		line = image.Rect(bar.Min.X, line.Min.Y, bar.Max.X, line.Max.Y)
		handle = image.Rect(x-grip, bar.Min.Y+s.Px(1), x+grip, bar.Max.Y-s.Px(1))
	} else {
		line = image.Rect(line.Min.X, bar.Min.Y, line.Max.X, bar.Max.Y)
	}
	switch {
	case c.focus:
		ink = render.InkFocus
	case c.hot || c.held:
		ink = render.InkEdge
	}
	s.Rect(line, ink)
	if c.focus || c.hot || c.held {
		s.Rect(handle, ink)
	} else {
		s.Rect(handle, render.InkBar)
	}
}
