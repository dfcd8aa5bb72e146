package widget

import (
	"image"
	"slices"

	"emberbeat/render"
)

// MenuBar draws the menus, whose entries are in Sub, side by side and gives the entry that was chosen. Tab visits it once; the arrow keys walk
// along it and, while one is open, from menu to menu.
func (u *UI) MenuBar(key string, r image.Rectangle, menus []Item) (id string, ok bool) {
	menus = u.foldMenus(menus, r.Dx())
	c := u.control("menu-bar", key, r, reachKey)
	u.Push(key)
	defer u.Pop()
	open := -1
	for i := range menus {
		if u.pop.id == mix(u.scope(), uint64(i)) {
			open = i
		}
	}
	at := u.barKeys(c, menus, open)
	row := u.Stack(r, 0)
	for i := range menus {
		area := row.left(u.menuTitle(menus[i].Label))
		over := u.in.Pointer.In(area) && u.in.Pointer.In(r)
		switch {
		case open >= 0 && over && i != open && u.in.Pointer != u.pop.at:
			u.openPop(mix(u.scope(), uint64(i)), area)
		case c.press && over:
			u.openPop(mix(u.scope(), uint64(i)), area)
		case at.to == i && at.open:
			u.openPop(mix(u.scope(), uint64(i)), area)
			u.pop.path[0] = stepItem(menus[i].Sub, -1, 1)
		}
		mine := u.pop.id == mix(u.scope(), uint64(i))
		u.barTitle(area, menus[i].Label, mine, c.hot && over, c.focus && at.to == i)
		if mine {
			if it := u.menu(u.pop.id, menus[i].Sub); it != nil {
				id, ok = it.ID, true
			}
		}
	}
	return id, ok
}

// menuTitle gives the device pixels of a menu's title.
func (u *UI) menuTitle(label string) int {
	return u.Scene().Face(render.TypeLabel).Measure(label) + 2*u.Px(Pad)
}

// foldMenus puts the menus whose titles do not fit into one more at the end.
func (u *UI) foldMenus(menus []Item, room int) []Item {
	const more = "…"
	all := 0
	for i := range menus {
		all += u.menuTitle(menus[i].Label)
	}
	if all <= room {
		return menus
	}
	n, used := 0, u.menuTitle(more)
	for n < len(menus) && used+u.menuTitle(menus[n].Label) <= room {
		used += u.menuTitle(menus[n].Label)
		n++
	}
	return append(slices.Clone(menus[:n]), Item{Label: more, Sub: menus[n:]})
}

// barMove is where the keys lead along a menu bar.
type barMove struct {
	to   int
	open bool
}

// barKeys walks along the bar: with a menu open its neighbours open, else the mark moves and Down or Enter opens.
func (u *UI) barKeys(c control, menus []Item, open int) barMove {
	n := len(menus)
	if open >= 0 {
		deep := len(u.pop.path) - 1
		list := u.pop.level(menus[open].Sub, deep)
		at := u.pop.path[deep]
		switch {
		case deep == 0 && u.take(KeyLeft, 0):
			return barMove{(open + n - 1) % n, true}
		case (at < 0 || list[at].Sub == nil) && u.take(KeyRight, 0):
			return barMove{(open + 1) % n, true}
		}
		return barMove{to: -1}
	}
	if !c.focus {
		return barMove{to: -1}
	}
	st := u.placeOf(c.id)
	for u.take(KeyLeft, 0) {
		st.head = (st.head + n - 1) % n
	}
	for u.take(KeyRight, 0) {
		st.head = (st.head + 1) % n
	}
	return barMove{st.head, u.take(KeyDown, 0) || u.take(KeyEnter, 0)}
}

// placeOf gives the state of a control that only remembers a place.
func (u *UI) placeOf(id ID) *tableState {
	t := u.tables[id]
	if t == nil {
		t = &tableState{}
		u.tables[id] = t
	}
	t.frame = u.frame
	return t
}

// barTitle draws the title of a menu.
func (u *UI) barTitle(r image.Rectangle, label string, open, over, focus bool) {
	s := u.Scene()
	switch {
	case open:
		s.Tint(r, render.InkText, coverHeld)
	case over:
		s.Tint(r, render.InkText, coverHot)
	}
	if focus {
		outline(s, r, s.Px(2), render.InkFocus)
	}
	s.TextIn(r, render.Middle, render.TypeLabel, render.InkText, label)
}
