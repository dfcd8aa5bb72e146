package widget

import (
	"image"
	"time"

	"emberbeat/render"
)

// tipDelay is how long a pointer rests before a tip is shown.
const tipDelay = 500 * time.Millisecond

// tipWidth is the logical width at which a tip breaks into lines.
const tipWidth = 320

// tip is what shows beside the control that is pointed at, or that the focus rests on.
type tip struct {
	area       image.Rectangle
	text, keys string
	since      time.Duration
	on         bool
}

// Tip gives the control called last a tip, with the keys that do the same. It shows after the pointer, or the focus brought there by a key,
// has rested on it. The reason of an unusable control comes before any other tip.
func (u *UI) Tip(text, keys string) {
	switch {
	case text == "" || u.last.id == 0:
	case u.last.off != "" && text != u.last.off:
	case u.last.hot:
		u.tip = tip{u.last.area, text, keys, u.hovered, true}
	case u.last.focus && u.byKey && !u.tip.on:
		u.tip = tip{u.last.area, text, keys, u.focusAt + tipDelay, true}
	}
}

// TipAt gives a part of a Canvas a tip, while the pointer is there.
func (u *UI) TipAt(area image.Rectangle, text string) {
	if u.in.Pointer.In(area) && u.layer == u.height {
		u.offerTip(area, text, "")
	}
}

// offerTip shows a tip for an area that is no control.
func (u *UI) offerTip(area image.Rectangle, text, keys string) {
	u.tip = tip{area, text, keys, u.hovered, true}
}

// drawTip draws the tip that controls asked for, once its time has come.
func (u *UI) drawTip() {
	t := u.tip
	u.tip = tip{}
	if !t.on || u.in.Down != 0 {
		return
	}
	if due := t.since + tipDelay; u.in.Time < due {
		u.wakeAt(due)
		return
	}
	u.float(t.area, t.text, t.keys, false)
}

// note shows at once, below an area, what is wrong there.
func (u *UI) note(area image.Rectangle, text string) { u.float(area, text, "", true) }

// float draws a small panel with text below an area, above it where there is no room.
func (u *UI) float(area image.Rectangle, text, keys string, bad bool) {
	was := u.layer
	u.layer = layerTip
	defer func() { u.layer = was }()
	s := u.Scene()
	side, top := u.Px(8), u.Px(6)
	lead := 0
	if bad {
		lead = u.Px(render.BadgeSize + 6)
	}
	w, h := wrap(s, image.Rectangle{Max: image.Pt(u.Px(tipWidth), 1)}, render.TypeSmall, 0, text, false)
	if keys != "" {
		w += u.Px(12) + u.keyWidth(keys)
	}
	r := u.beside(area, image.Pt(w+lead+2*side, h+2*top))
	panel(s, r)
	in := image.Rect(r.Min.X+side+lead, r.Min.Y+top, r.Max.X-side, r.Max.Y-top)
	if bad {
		s.Badge(image.Pt(r.Min.X+side, (r.Min.Y+r.Max.Y-u.Px(render.BadgeSize))/2), render.SevError)
	}
	if keys != "" {
		u.keyCap(image.Rect(in.Min.X, in.Min.Y, in.Max.X, in.Min.Y+s.Face(render.TypeSmall).Height()), keys)
		in.Max.X -= u.Px(12) + u.keyWidth(keys)
	}
	wrap(s, in, render.TypeSmall, render.InkText, text, true)
}

// panel draws what floats: a ground with an edge and a shadow line.
func panel(s *render.Scene, r image.Rectangle) {
	body(s, r.Add(image.Pt(0, s.Px(3))).Inset(-s.Px(1)), render.InkBlack, 90)
	body(s, r, render.InkPanel, 255)
	outline(s, r, s.Px(1), render.InkBar)
}

// beside gives a place of a size below an area, above it or at a side of it, inside the window: the first of these that covers no control, else
// the one that covers fewest, and the control after the area last of all.
func (u *UI) beside(area image.Rectangle, size image.Point) image.Rectangle {
	gap := u.Px(5)
	best, least := u.below(area, size), -1
	for _, p := range [...]image.Point{{area.Min.X, area.Max.Y + gap}, {area.Min.X, area.Min.Y - gap - size.Y}, {area.Max.X + gap, area.Min.Y}, {area.Min.X - gap - size.X, area.Min.Y}} {
		r := u.inside(p, size)
		if r.Overlaps(area) {
			continue
		}
		if n := u.covers(r, area); least < 0 || n < least {
			best, least = r, n
		}
	}
	return best
}

// below gives a place of a size below an area, or above it, inside the window.
func (u *UI) below(area image.Rectangle, size image.Point) image.Rectangle {
	all, gap := u.Bounds(), u.Px(5)
	p := image.Pt(area.Min.X, area.Max.Y+gap)
	if p.Y+size.Y > all.Max.Y && area.Min.Y-gap-size.Y >= all.Min.Y {
		p.Y = area.Min.Y - gap - size.Y
	}
	return u.inside(p, size)
}

// inside gives the place of a size at a point, moved so that it is inside the window.
func (u *UI) inside(p, size image.Point) image.Rectangle {
	all := u.Bounds()
	p.X = max(min(p.X, all.Max.X-size.X-u.Px(5)), all.Min.X)
	p.Y = max(min(p.Y, all.Max.Y-size.Y), all.Min.Y)
	return image.Rectangle{Min: p, Max: p.Add(size)}
}

// covers counts the controls that a rectangle beside one would lie over, of those that were seen last; the one after it counts for many.
func (u *UI) covers(r, own image.Rectangle) int {
	n, after := 0, false
	for i := range u.seen {
		z := &u.seen[i]
		if z.layer < u.floor() || z.ground && own.Overlaps(z.area) {
			continue
		}
		if z.area == own {
			after = true
			continue
		}
		if z.area.Overlaps(r) {
			if n++; after {
				n += 1000
			}
		}
		after = after && z.reach == reachNone
	}
	return n
}

// keyWidth gives the device pixels of a key as keyCap draws it.
func (u *UI) keyWidth(keys string) int {
	return u.Scene().Face(render.TypeSmall).Measure(keys) + u.Px(10)
}

// keyCap draws the name of a key at the right of r.
func (u *UI) keyCap(r image.Rectangle, keys string) {
	s := u.Scene()
	mid := (r.Min.Y + r.Max.Y) / 2
	cap := image.Rect(r.Max.X-u.keyWidth(keys), mid-s.Px(9), r.Max.X, mid+s.Px(9))
	body(s, cap, render.InkBeat, 255)
	s.TextIn(cap, render.Middle, render.TypeSmall, render.InkSecondary, keys)
}
