package widget

import (
	"image"
	"time"

	"emberbeat/render"
)

// blink is how long the caret is seen, and then not seen.
const blink = 530 * time.Millisecond

// inner gives where the text of a field stands: its area without margins and unit.
func (u *UI) inner(c control, unit string) image.Rectangle {
	r := c.area
	r.Min.X += u.Px(8)
	r.Max.X -= u.Px(8)
	if unit != "" {
		r.Max.X -= u.Scene().Face(render.TypeSmall).Measure(unit) + u.Px(6)
	}
	return r
}

// pointText selects by the pointer: a press puts the caret, a double press takes a word, a third all; moving while held extends.
func (u *UI) pointText(t *textState, c control) {
	switch {
	case c.press:
		at := u.runeAt(t, c)
		t.words = u.in.Clicks == 2
		switch {
		case u.in.Clicks >= 3:
			t.SelectAll()
			t.drag = -1
			return
		case t.words:
			t.SelectWord(at)
			t.drag, t.dragTo = t.Selection()
		case u.in.Mods&Shift != 0:
			t.Select(t.mark, at)
			t.drag = t.mark
		default:
			t.Select(at, at)
			t.drag = at
		}
	case c.held && u.in.Down&Primary != 0 && t.drag >= 0:
		u.dragText(t, u.runeAt(t, c))
	}
}

// dragText extends the selection from where it began to a place, by whole words where it began with one.
func (u *UI) dragText(t *textState, at int) {
	if !t.words {
		t.Select(t.drag, at)
		return
	}
	from, to := t.drag, t.dragTo
	t.SelectWord(at)
	lo, hi := t.Selection()
	if at < from {
		t.Select(to, lo)
	} else {
		t.Select(from, max(hi, to))
	}
	t.drag, t.dragTo = from, to
}

// runeAt gives the place in the text nearest to the pointer.
func (u *UI) runeAt(t *textState, c control) int {
	f := u.Scene().Face(render.TypeLabel)
	x := u.in.Pointer.X - c.area.Min.X - u.Px(8) + t.scroll
	best, off := 0, 1<<30
	for i := 0; ; i = t.next(i) {
		d := x - t.width(f, i)
		if d < 0 {
			d = -d
		}
		if d < off {
			best, off = i, d
		}
		if i == t.Len() {
			return best
		}
	}
}

// drawField draws a field with its text, selection, caret, unit and error.
func (u *UI) drawField(t *textState, c control, spec *TextSpec) {
	s := u.Scene()
	if spec.From != "" && t.Len() == 0 {
		u.lent(c)
	} else {
		u.well(c)
	}
	in := u.inner(c, spec.Unit)
	if spec.Unit != "" {
		unit := image.Rect(in.Max.X, c.area.Min.Y, c.area.Max.X-s.Px(8), c.area.Max.Y)
		s.TextIn(unit, render.Right, render.TypeSmall, render.InkFaint, spec.Unit)
	}
	bad := t.bad
	if bad == "" {
		bad = spec.Error
	}
	if bad != "" {
		outline(s, c.area.Inset(s.Px(1)), s.Px(1), c.words())
		at := image.Pt(in.Max.X-s.Px(render.BadgeSize), (c.area.Min.Y+c.area.Max.Y-s.Px(render.BadgeSize))/2)
		s.Badge(at, render.SevError)
		in.Max.X -= s.Px(render.BadgeSize + 4)
	}
	s.PushClip(in.Inset(-s.Px(2)))
	if spec.From != "" && t.Len() == 0 {
		s.TextCut(in, render.TypeLabel, render.InkSecondary, spec.From)
	}
	u.drawLine(t, c, in, spec)
	s.PopClip()
	if bad != "" && (c.focus || c.hot) {
		u.note(c.area, bad)
	}
}

// drawLine draws the text of a field into in, moved so that the caret is seen.
func (u *UI) drawLine(t *textState, c control, in image.Rectangle, spec *TextSpec) {
	s := u.Scene()
	f := s.Face(render.TypeLabel)
	top := (in.Min.Y + in.Max.Y - f.Height()) / 2
	if t.Len() == 0 && spec.Hint != "" && spec.From == "" {
		s.TextCut(in, render.TypeLabel, render.InkFaint, spec.Hint)
	}
	t.follow(f, in.Dx(), c.focus)
	x := in.Min.X - t.scroll
	if from, to := t.Selection(); c.focus && from != to {
		sel := image.Rect(x+t.width(f, from), top-s.Px(1), x+t.width(f, to), top+f.Height()+s.Px(1))
		s.Tint(sel, render.InkFocus, coverText)
	}
	s.TextBytes(image.Pt(x, top), render.TypeLabel, c.words(), t.bytes())
	if c.focus && u.blinks(t) {
		cx := x + t.width(f, t.Caret())
		s.Rect(image.Rect(cx, top, cx+s.Px(2), top+f.Height()), render.InkText)
	}
}

// follow moves the text so that the caret of a focused field is seen, and no room is left empty at the right.
func (t *textState) follow(f *render.Face, width int, focus bool) {
	if !focus {
		t.scroll = 0
		return
	}
	at := t.width(f, t.Caret())
	t.scroll = min(max(t.scroll, at-width+2), at)
	t.scroll = max(min(t.scroll, t.width(f, t.Len())-width+2), 0)
}

// blinks says whether the caret is seen now, and asks for a frame when that changes.
func (u *UI) blinks(t *textState) bool {
	phase := (u.in.Time - t.touched) / blink
	u.wakeAt(t.touched + (phase+1)*blink)
	return phase%2 == 0
}
