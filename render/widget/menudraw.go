package widget

import (
	"image"
	"strings"

	"emberbeat/render"
)

// menuLevels draws all open levels and gives what the pointer chose.
func (u *UI) menuLevels(items []Item) (chosen *Item) {
	p := &u.pop
	beside, right := p.anchor, false
	for n := 0; n < len(p.path) && p.id != 0; n++ {
		list := p.level(items, n)
		r := u.menuPlace(list, beside, right)
		u.PushRow(n)
		marked := u.menuLevel(list, r, n, &chosen)
		u.Pop()
		beside, right = marked, true
	}
	return chosen
}

// menuPlace gives where a level stands: below what it belongs to, or beside it; on the other side where there is no room.
func (u *UI) menuPlace(list []Item, beside image.Rectangle, right bool) image.Rectangle {
	size := u.menuSize(list)
	if !right {
		return u.below(beside, size)
	}
	all := u.Bounds()
	p := image.Pt(beside.Max.X, beside.Min.Y-u.Px(5))
	if p.X+size.X > all.Max.X {
		p.X = max(beside.Min.X-size.X, all.Min.X)
	}
	p.Y = max(min(p.Y, all.Max.Y-size.Y), all.Min.Y)
	return image.Rectangle{Min: p, Max: p.Add(size)}
}

// Heights of menu entries in logical pixels.
const (
	menuLine = 26
	menuRule = 9
	menuHead = 24
	menuWhy  = 18
	menuPad  = 6
)

// headType is how heads in a menu are set.
var headType = render.Type{Size: render.TypeSmall.Size, Bold: true}

// menuSize gives the size a level needs.
func (u *UI) menuSize(list []Item) image.Point {
	s := u.Scene()
	w, h := u.Px(120), 2*u.Px(menuPad)
	for i := range list {
		it := &list[i]
		h += u.itemHigh(it)
		line := s.Face(render.TypeLabel).Measure(it.Label) + u.Px(28+24)
		if it.Keys != "" {
			line += u.keyWidth(it.Keys) + u.Px(16)
		}
		if it.Off != "" {
			line = max(line, s.Face(render.TypeSmall).Measure(it.Off)+u.Px(28+12))
		}
		w = max(w, line)
	}
	return image.Pt(min(w, u.Px(420)), min(h, s.Size.Y))
}

func (u *UI) itemHigh(it *Item) int {
	switch {
	case it.Rule:
		return u.Px(menuRule)
	case it.Head:
		return u.Px(menuHead)
	case it.Off != "":
		return u.Px(menuLine + menuWhy)
	}
	return u.Px(menuLine)
}

// menuLevel draws one level and gives the area of its marked entry.
func (u *UI) menuLevel(list []Item, r image.Rectangle, n int, chosen **Item) (marked image.Rectangle) {
	s := u.Scene()
	u.ground("menu", "level", r)
	panel(s, r)
	in := vInset(r, u.Px(menuPad))
	u.scrollLevel(list, in, n)
	s.PushClip(in)
	top := in.Min.Y - u.pop.tops[n]
	for i := range list {
		it := &list[i]
		line := image.Rect(r.Min.X, top, r.Max.X, top+u.itemHigh(it))
		top = line.Max.Y
		if it.Rule {
			mid := (line.Min.Y + line.Max.Y) / 2
			s.Rect(image.Rect(r.Min.X+u.Px(10), mid, r.Max.X-u.Px(10), mid+u.Px(1)), render.InkBeat)
			continue
		}
		if it.Head {
			if i > 0 {
				s.Rect(image.Rect(r.Min.X+u.Px(10), line.Min.Y, r.Max.X-u.Px(10), line.Min.Y+u.Px(1)), render.InkBeat)
			}
			s.TextCut(image.Rect(r.Min.X+u.Px(12), line.Min.Y+u.Px(2), r.Max.X-u.Px(10), line.Max.Y), headType, render.InkSecondary, it.Label)
			continue
		}
		if line.Overlaps(in) {
			u.PushRow(i)
			u.pointItem(it, line, n, i, chosen)
			u.Pop()
		}
		on := n < len(u.pop.path) && u.pop.path[n] == i
		if on {
			marked = line
		}
		u.drawItem(it, line, on)
	}
	s.PopClip()
	u.moreMarks(r, in, n, top)
	return marked
}

// scrollLevel moves a level that is higher than the window: by the wheel, and so that the marked entry is seen when a key marked it.
func (u *UI) scrollLevel(list []Item, in image.Rectangle, n int) {
	p, high := &u.pop, 0
	from, to := 0, 0
	for i := range list {
		if n < len(p.path) && p.path[n] == i {
			from, to = high, high+u.itemHigh(&list[i])
		}
		high += u.itemHigh(&list[i])
	}
	st := scrollState{y: p.tops[n], high: high, view: in.Dy()}
	if u.in.Wheel.Y != 0 && u.in.Pointer.In(in) {
		st.y += u.in.Wheel.Y * u.Px(wheelStep)
		u.in.Wheel.Y = 0
	} else if to > 0 && len(u.in.Keys)+len(u.in.Text) > 0 || p.fresh {
		st.show(from, to)
	}
	st.clamp()
	p.tops[n], p.fresh = st.y, false
}

// moreMarks shows that a level goes on above or below.
func (u *UI) moreMarks(r, in image.Rectangle, n, bottom int) {
	s := u.Scene()
	if u.pop.tops[n] > 0 {
		chevron(s, image.Rect(r.Min.X, r.Min.Y, r.Max.X, in.Min.Y+u.Px(3)), pointUp, render.InkSecondary)
	}
	if bottom > in.Max.Y {
		chevron(s, image.Rect(r.Min.X, in.Max.Y-u.Px(3), r.Max.X, r.Max.Y), pointDown, render.InkSecondary)
	}
}

// pointItem lets the pointer mark an entry, open what is beside it, and choose it.
func (u *UI) pointItem(it *Item, line image.Rectangle, n, i int, chosen **Item) {
	p := &u.pop
	c := u.control("item", "item", line, reachNone)
	if c.hot && u.in.Pointer != p.at {
		p.at = u.in.Pointer
		p.path = append(p.path[:n], i)
		if it.Sub != nil && it.Off == "" && n+1 < maxDepth {
			p.path = append(p.path, -1)
		}
	}
	// The press that opened the menu may go on to an entry, so that the button coming up is what chooses.
	if c.hot && u.in.Released&(Primary|Secondary) != 0 && it.Sub == nil && it.Off == "" {
		*chosen = it
	}
}

// drawItem draws an entry.
func (u *UI) drawItem(it *Item, line image.Rectangle, on bool) {
	s := u.Scene()
	in := image.Rect(line.Min.X+u.Px(28), line.Min.Y, line.Max.X-u.Px(12), line.Min.Y+u.Px(menuLine))
	if on {
		bar := image.Rect(line.Min.X+u.Px(4), line.Min.Y, line.Max.X-u.Px(4), line.Max.Y)
		body(s, bar, render.InkRaised, 255)
		s.Rect(image.Rect(bar.Min.X, bar.Min.Y, bar.Min.X+u.Px(3), bar.Max.Y), render.InkFocus)
	}
	ink := render.InkText
	if it.Off != "" {
		if ink = render.InkFaint; on {
			ink = render.InkSecondary
		}
		why := image.Rect(in.Min.X, in.Max.Y-u.Px(4), in.Max.X, line.Max.Y-u.Px(2))
		s.TextCut(why, render.TypeSmall, render.InkSecondary, it.Off)
	}
	if it.Check {
		tick(s, image.Rect(line.Min.X+u.Px(9), in.Min.Y+u.Px(6), line.Min.X+u.Px(23), in.Min.Y+u.Px(20)), ink)
	}
	if it.Sub != nil {
		chevron(s, image.Rect(in.Max.X-u.Px(8), in.Min.Y, in.Max.X, in.Max.Y), pointRight, ink)
	} else if it.Keys != "" {
		u.keyCap(in, strings.TrimSpace(it.Keys))
		in.Max.X -= u.keyWidth(it.Keys) + u.Px(8)
	}
	s.TextCut(in, render.TypeLabel, ink, it.Label)
}
