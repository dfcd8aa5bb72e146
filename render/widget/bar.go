package widget

import (
	"image"
	"slices"
	"strconv"

	"emberbeat/render"
)

// BarItem is a control of a bar.
type BarItem struct {
	ID    string // what Bar answers, and the control's key
	Sign  string // one or two letters that stand for it where words do not fit; "" for one that keeps its word
	Label string
	Wide  string // the widest label that it takes on, "" for Label: the bar does not move when it changes
	Keys  string // shown beside the label where there is room, and in its tip
	Tip   string // what it does
	Off   string // why it cannot be used
	On    bool
	Main  bool // what the bar is for
	Keep  bool // stays on the bar when others are in the menu
}

// barForm is how much of a control is seen.
type barForm uint8

const (
	barHint barForm = iota // with its key
	barWord
	barSign
	barAway // in the menu at the end
)

// barWidths are the device pixels that a control takes in each form but the last.
type barWidths struct {
	form [barAway]int
	keep bool
}

// Gaps and least size of a bar's controls in logical pixels.
const (
	barGap   = 5
	barLeast = 30
	barMore  = 46
)

// fitBar says in which form each control of a bar stands: all with their keys, else all with words, else with signs, else those that do not fit
// away from the right, those to be kept last. more is the room of the button that opens the menu.
func fitBar(room, gap, more int, list []barWidths) []barForm {
	forms := make([]barForm, len(list))
	need := func() int {
		sum, away := 0, false
		for i, f := range forms {
			if f == barAway {
				away = true
				continue
			}
			sum += list[i].form[f] + gap
		}
		if away {
			return sum + more
		}
		return sum - gap
	}
	for f := barHint; f < barAway; f++ {
		for i := range forms {
			forms[i] = f
		}
		if need() <= room {
			return forms
		}
	}
	for _, keep := range []bool{false, true} {
		for i := range slices.Backward(list) {
			if list[i].keep != keep {
				continue
			}
			if forms[i] = barAway; need() <= room {
				return forms
			}
		}
	}
	return forms
}

// Bar draws controls side by side and gives the one that was used. A bar too narrow for all drops keys, then words, then moves controls from its
// right end into a menu, whose button says how many it holds.
func (u *UI) Bar(key string, r image.Rectangle, items []BarItem) (id string, ok bool) {
	widths := make([]barWidths, len(items))
	for i := range items {
		widths[i] = u.barWidths(&items[i])
	}
	forms := fitBar(r.Dx(), u.Px(barGap), u.Px(barMore), widths)
	row := u.Stack(r, barGap)
	var away []Item
	for i := range items {
		it := &items[i]
		if forms[i] == barAway {
			away = append(away, Item{ID: it.ID, Label: it.Label, Keys: it.Keys, Off: it.Off, Check: it.On})
			continue
		}
		if u.barButton(it, row.left(widths[i].form[forms[i]]), forms[i]) {
			id, ok = it.ID, true
		}
	}
	if len(away) > 0 {
		if used, chosen := u.barMenu(key, row.left(u.Px(barMore)), away); chosen {
			id, ok = used, true
		}
	}
	return id, ok
}

func (u *UI) barWidths(it *BarItem) barWidths {
	f := u.Scene().Face(render.TypeLabel)
	word := max(f.Measure(it.Label), f.Measure(it.Wide)) + u.Px(24)
	if it.Main && it.Sign != "" {
		word += f.Measure(it.Sign) + u.Px(6)
	}
	word = max(word, u.Px(barLeast))
	w := barWidths{keep: it.Keep}
	w.form[barWord], w.form[barHint], w.form[barSign] = word, word, word
	if it.Keys != "" {
		w.form[barHint] += u.keyWidth(it.Keys) + u.Px(2)
	}
	if it.Sign != "" {
		w.form[barSign] = min(max(f.Measure(it.Sign)+u.Px(12), u.Px(barLeast)), word)
	}
	return w
}

// barButton draws a control in a form and says whether it was used.
func (u *UI) barButton(it *BarItem, r image.Rectangle, form barForm) bool {
	c := u.Off(it.Off).control("button", it.ID, r, reachKey)
	look := plainButton
	switch {
	case it.Main:
		look = mainButton
	case it.On:
		look = onButton
	}
	ink := u.buttonBody(c, look)
	if c.focus {
		u.ring(r)
	}
	in := r
	if form == barHint && it.Keys != "" {
		in.Max.X -= u.keyWidth(it.Keys) + u.Px(4)
		hint := render.InkSecondary
		if look != plainButton || c.off != "" {
			hint = ink
		}
		u.Scene().TextIn(image.Rect(in.Max.X, r.Min.Y, r.Max.X-u.Px(6), r.Max.Y), render.Middle, render.TypeSmall, hint, it.Keys)
	}
	text := it.Label
	switch {
	case form == barSign && it.Sign != "":
		text = it.Sign
	case it.Main && it.Sign != "":
		text = it.Sign + "  " + it.Label
	}
	u.centred(in, render.TypeLabel, ink, text)
	used := u.worked(c)
	if c.off == "" {
		tip := it.Tip
		if form == barSign {
			tip = it.Label + ": " + it.Tip
		}
		u.Tip(tip, it.Keys)
	}
	return used
}

// barMenu draws the button of what does not fit, and its menu while it is open.
func (u *UI) barMenu(key string, r image.Rectangle, away []Item) (id string, ok bool) {
	c := u.control("button", key+"-more", r, reachKey)
	ink := u.buttonBody(c, plainButton)
	if c.focus || u.pop.id == c.id {
		u.ring(r)
	}
	s := u.Scene()
	mid, d := (r.Min.Y+r.Max.Y)/2, u.Px(2)
	for i := range 3 {
		x := r.Min.X + u.Px(8+6*i)
		s.Rect(image.Rect(x, mid-d/2, x+d, mid-d/2+d), ink)
	}
	s.TextIn(image.Rect(r.Min.X+u.Px(24), r.Min.Y, r.Max.X, r.Max.Y), render.Middle, render.TypeMark, ink, strconv.Itoa(len(away)))
	if u.worked(c) || c.focus && u.take(KeyDown, 0) {
		u.openPop(c.id, r)
	}
	u.Tip("What does not fit beside it", "")
	return u.Menu(key+"-more", away)
}
