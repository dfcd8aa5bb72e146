package widget

import (
	"image"

	"emberbeat/render"
)

// Dropdown draws a choice of one of several; at is what holds now, -1 for none. It gives what holds after this frame and whether that is new.
func (u *UI) Dropdown(key string, r image.Rectangle, choices []string, at int) (now int, changed bool) {
	return u.DropdownFrom(key, r, choices, at, "")
}

// DropdownFrom is Dropdown where from holds as long as nothing is chosen, because something else gives it; the first choice is then for that.
func (u *UI) DropdownFrom(key string, r image.Rectangle, choices []string, at int, from string) (now int, changed bool) {
	c := u.control("dropdown", key, r, reachKey)
	letters := c.focus && len(u.in.Text) > 0 && u.pop.id == 0 && u.in.Text[0] != ' ' // what is typed is looked for
	if (u.worked(c) || c.focus && u.take(KeyDown, 0) || letters) && len(choices) > 0 {
		u.openPop(c.id, r)
		u.pop.path[0], u.pop.fresh = at, true
	}
	open := u.pop.id == c.id
	text, ink := "choose", render.InkFaint
	if at >= 0 && at < len(choices) {
		text, ink = choices[at], c.words()
	}
	if from != "" && at <= 0 {
		text, ink = from, render.InkSecondary
		u.lent(c)
	} else {
		u.well(c)
	}
	if open {
		u.ring(r)
	}
	row := u.Stack(image.Rect(r.Min.X+u.Px(8), r.Min.Y, r.Max.X-u.Px(6), r.Max.Y), 4)
	chevron(u.Scene(), row.Right(14), pointDown, c.words())
	u.Label(row.Rest(), render.TypeLabel, ink, text)
	if !open {
		return at, false
	}
	items := u.items[:0]
	for i, text := range choices {
		items = append(items, Item{Label: text, Check: i == at})
	}
	u.items = items
	for it, i := u.menu(c.id, items), 0; it != nil && i < len(items); i++ {
		if it == &items[i] {
			return i, i != at
		}
	}
	return at, false
}
