package widget

import (
	"image"

	"emberbeat/render"
)

// Button draws a button and says whether it was used. A press leaves the focus where it is.
func (u *UI) Button(key string, r image.Rectangle, label string) bool {
	return u.button(key, r, label, plainButton)
}

// OnButton is Button for what can be on: then it is filled with the ink of bars, or where text is not read on that, has a line of text ink.
func (u *UI) OnButton(key string, r image.Rectangle, label string, on bool) bool {
	if on {
		return u.button(key, r, label, onButton)
	}
	return u.button(key, r, label, plainButton)
}

// buttonLook is how a button is drawn while it can be used.
type buttonLook uint8

const (
	plainButton buttonLook = iota
	onButton
	mainButton
)

// MainButton is Button for the one thing that a panel is for.
func (u *UI) MainButton(key string, r image.Rectangle, label string) bool {
	return u.button(key, r, label, mainButton)
}

func (u *UI) button(key string, r image.Rectangle, label string, look buttonLook) bool {
	c := u.control("button", key, r, reachKey)
	ink := u.buttonBody(c, look)
	if c.focus {
		u.ring(r)
	}
	u.centred(r, render.TypeLabel, ink, label)
	return u.worked(c)
}

// buttonBody draws the ground of a button and gives the ink for its words.
func (u *UI) buttonBody(c control, look buttonLook) render.Ink {
	s, r, edge := u.Scene(), c.area, render.InkEdge
	if c.hot {
		edge = render.InkText
	}
	switch {
	case c.off != "":
		outline(s, r, s.Px(1), render.InkBar)
		return render.InkFaint
	case look == mainButton:
		body(s, r, render.InkText, 255)
		if c.hot {
			outline(s, r.Inset(s.Px(2)), s.Px(1), render.InkLane)
		}
		return render.InkLane
	case look == onButton && u.theme.BarHolds():
		body(s, r, render.InkBar, 255)
		outline(s, r, s.Px(1), edge)
	case look == onButton:
		body(s, r, render.InkRaised, 255)
		outline(s, r, s.Px(2), render.InkText)
	default:
		body(s, r, render.InkRaised, 255)
		outline(s, r, s.Px(1), edge)
	}
	if c.held && c.hot {
		outline(s, r, s.Px(2), render.InkText)
	}
	return render.InkText
}

// worked says whether a control was used by pointer or by Enter.
func (u *UI) worked(c control) bool {
	return c.click || c.focus && u.take(KeyEnter, 0)
}

// centred sets a label in the middle of r, cut where it does not fit.
func (u *UI) centred(r image.Rectangle, t render.Type, ink render.Ink, label string) {
	if u.low(r, t) {
		return
	}
	in := r.Inset(u.Px(4))
	in.Min.Y, in.Max.Y = r.Min.Y, r.Max.Y
	if !u.Scene().TextIn(in, render.Middle, t, ink, label) {
		u.Scene().TextCut(in, t, ink, label)
		if u.last.hot {
			u.offerTip(r, label, "")
		}
	}
}

// ButtonWidth gives the logical width that a button needs for its label.
func (u *UI) ButtonWidth(label string) int {
	w := u.Scene().Face(render.TypeLabel).Measure(label)
	return max(w*100/int(u.Scene().Scale)+2*14, 64)
}

// IconButton is a small button with a sign of one or two letters; name is its tip and says what it does.
func (u *UI) IconButton(key string, r image.Rectangle, sign, name, keys string) bool {
	c := u.control("button", key, r, reachKey)
	u.glow(c)
	if c.focus {
		u.ring(r)
	}
	u.Scene().TextIn(r, render.Middle, render.TypeLabel, c.words(), sign)
	used := u.worked(c)
	if c.off == "" {
		u.Tip(name, keys)
	}
	return used
}

// Toggle draws a switch with its label and gives whether it is on after this frame. On and off differ by place and by word.
func (u *UI) Toggle(key string, r image.Rectangle, label string, on bool) bool {
	c := u.control("toggle", key, r, reachKey)
	s := u.Scene()
	if u.worked(c) {
		on = !on
	}
	word := "off"
	if on {
		word = "on"
	}
	u.glow(c)
	row := u.Stack(r, Gap)
	box := row.Left(34)
	mid := (r.Min.Y + r.Max.Y) / 2
	box.Min.Y, box.Max.Y = mid-s.Px(9), mid+s.Px(9)
	u.switchBox(c, box, on)
	if c.focus {
		u.ring(r)
	}
	end := s.TextCut(row.Rest(), render.TypeLabel, c.words(), label)
	u.tipIfCut(row.Rest(), render.TypeLabel, label)
	rest := row.Rest()
	rest.Min.X = end + s.Px(6)
	s.TextIn(rest, render.Left, render.TypeSmall, render.InkFaint, word)
	return on
}

// switchBox draws the slot of a switch with its knob at the left (off) or right (on).
func (u *UI) switchBox(c control, box image.Rectangle, on bool) {
	s := u.Scene()
	edge := render.InkEdge
	if c.off != "" {
		edge = render.InkBar
	}
	body(s, box, render.InkLane, 255)
	outline(s, box, s.Px(1), edge)
	knob := box.Inset(s.Px(3))
	knob.Max.X = knob.Min.X + knob.Dx()/2 - s.Px(1)
	ink := edge
	if on {
		knob = knob.Add(image.Pt(box.Max.X-s.Px(3)-knob.Max.X, 0))
		ink = c.words()
	}
	body(s, knob, ink, 255)
}

// Checkbox draws a box that is checked or not and gives which after this frame.
func (u *UI) Checkbox(key string, r image.Rectangle, label string, on bool) bool {
	c := u.control("checkbox", key, r, reachKey)
	if u.worked(c) {
		on = !on
	}
	u.glow(c)
	if c.focus {
		u.ring(r)
	}
	row := u.Stack(r, Gap)
	u.checkBox(row.Left(18), c, on)
	u.Label(row.Rest(), render.TypeLabel, c.words(), label)
	return on
}

// checkBox draws a box with or without its tick in the middle of r.
func (u *UI) checkBox(r image.Rectangle, c control, on bool) {
	s := u.Scene()
	mid := (r.Min.Y + r.Max.Y) / 2
	box := image.Rect(r.Min.X, mid-s.Px(8), r.Min.X+s.Px(16), mid+s.Px(8))
	edge := render.InkEdge
	if c.off != "" {
		edge = render.InkBar
	}
	body(s, box, render.InkLane, 255)
	outline(s, box, s.Px(1), edge)
	if on {
		tick(s, box, c.words())
	}
}
