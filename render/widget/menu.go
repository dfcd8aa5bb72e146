package widget

import (
	"image"
	"strings"
	"time"
	"unicode"

	"emberbeat/render"
)

// Item is an entry of a menu.
type Item struct {
	ID    string // what Menu answers
	Label string
	Keys  string // shown at the right
	Off   string // why it cannot be used; "" where it can. Shown below the menu's entry while that is marked
	Check bool   // it is on: a tick stands before it
	Rule  bool   // a line between entries, nothing else
	Head  bool   // Label stands above the entries after it, and is none
	Sub   []Item // opens beside it
}

// openPop is the menu or list that stands open. There is at most one.
type openPop struct {
	id     ID
	layer  layer
	anchor image.Rectangle
	frame  uint64      // last drawn in
	path   []int       // the marked entry of each level; -1 is none
	tops   []int       // how far each level is scrolled, where it is higher than the window
	at     image.Point // where the pointer last was: only a move marks
	fresh  bool        // to be scrolled to what is marked
	typed  []rune      // what is looked for
	when   time.Duration
}

// maxDepth is how many levels a menu can have.
const maxDepth = 8

// OpenMenu opens the menu with a key beside an area; a point is an empty area.
func (u *UI) OpenMenu(key string, beside image.Rectangle) {
	u.openPop(u.id(key), beside)
}

func (u *UI) openPop(id ID, beside image.Rectangle) {
	l := layerPop
	if u.layer >= layerDialog || len(u.dialogs) > 0 {
		l = layerDialogPop
	}
	u.active = 0 // the press that opened it may go on into it
	path, tops := append(u.pop.path[:0], -1), append(u.pop.tops[:0], make([]int, maxDepth)...)
	u.pop = openPop{id: id, layer: l, anchor: beside, frame: u.frame, path: path, tops: tops, at: u.in.Pointer}
	u.again()
}

// MenuOpen says whether the menu with a key is open.
func (u *UI) MenuOpen(key string) bool { return u.pop.id == u.id(key) && u.pop.id != 0 }

// leavePop closes what is open when the pointer is pressed beside it; that press does nothing else.
func (u *UI) leavePop() {
	if u.pop.id == 0 || u.in.Pressed == 0 || u.hot != 0 && u.height >= u.pop.layer {
		return
	}
	u.closePop()
	u.in.Pressed, u.hot = 0, 0
}

func (u *UI) closePop() {
	u.pop.id = 0
	u.again()
}

// closeForgotten closes what its caller no longer calls.
func (u *UI) closeForgotten() {
	if u.pop.id != 0 && u.pop.frame != u.frame {
		u.closePop()
	}
	u.closeDialogs()
}

// Menu draws the menu with a key while it is open and gives the entry that was chosen.
func (u *UI) Menu(key string, items []Item) (id string, ok bool) {
	if it := u.menu(u.id(key), items); it != nil {
		return it.ID, true
	}
	return "", false
}

func (u *UI) menu(id ID, items []Item) *Item {
	p := &u.pop
	if p.id == 0 || p.id != id {
		return nil
	}
	p.frame = u.frame
	was, group := u.layer, u.group
	u.layer = p.layer
	u.scopes = append(u.scopes, id)
	chosen := u.menuKeys(items)
	if it := u.menuLevels(items); it != nil {
		chosen = it
	}
	u.Pop()
	u.layer, u.group = was, group
	if chosen != nil {
		u.closePop()
	}
	return chosen
}

// MenuButton is a button that opens a menu below it.
func (u *UI) MenuButton(key string, r image.Rectangle, label string, items []Item) (id string, ok bool) {
	c := u.control("button", key, r, reachKey)
	s := u.Scene()
	open := u.pop.id == c.id
	ink := u.buttonBody(c, plainButton)
	if c.focus || open {
		u.ring(r)
	}
	row := u.Stack(image.Rect(r.Min.X+s.Px(Pad), r.Min.Y, r.Max.X-s.Px(6), r.Max.Y), 4)
	chevron(s, row.Right(14), pointDown, ink)
	s.TextCut(row.Rest(), render.TypeLabel, ink, label)
	if u.worked(c) || c.focus && u.take(KeyDown, 0) {
		u.openPop(c.id, r)
	}
	return u.Menu(key, items)
}

// level gives the entries of a level of the open menu.
func (p *openPop) level(items []Item, n int) []Item {
	for _, at := range p.path[:n] {
		items = items[at].Sub
	}
	return items
}

// menuKeys moves through the open menu by keys and gives what Enter chose.
func (u *UI) menuKeys(items []Item) *Item {
	p := &u.pop
	deep := len(p.path) - 1
	list := p.level(items, deep)
	for u.take(KeyDown, 0) {
		p.path[deep] = stepItem(list, p.path[deep], 1)
	}
	for u.take(KeyUp, 0) {
		p.path[deep] = stepItem(list, p.path[deep], -1)
	}
	if u.take(KeyHome, 0) {
		p.path[deep] = stepItem(list, -1, 1)
	}
	if u.take(KeyEnd, 0) {
		p.path[deep] = stepItem(list, -1, -1)
	}
	u.menuLetters(list, &p.path[deep])
	at := p.path[deep]
	switch {
	case u.take(KeyEscape, 0) || deep > 0 && u.take(KeyLeft, 0):
		if p.path = p.path[:deep]; deep == 0 {
			p.path = append(p.path, -1)
			u.closePop()
		}
	case at >= 0 && list[at].Sub != nil && (u.take(KeyRight, 0) || u.take(KeyEnter, 0)):
		if list[at].Off == "" && deep+1 < maxDepth {
			p.path = append(p.path, stepItem(list[at].Sub, -1, 1))
		}
	case u.take(KeyEnter, 0):
		if at >= 0 && list[at].Off == "" {
			return &list[at]
		}
	}
	return nil
}

// menuLetters marks the entry that is typed: letters that follow each other quickly belong together. One that begins so comes before one of which a
// word does, and that before one that only holds it; the same letter again goes on to the next.
func (u *UI) menuLetters(list []Item, at *int) {
	p := &u.pop
	if len(u.in.Text) == 0 {
		return
	}
	if u.in.Time-p.when > typeAhead {
		p.typed = p.typed[:0]
	}
	p.when = u.in.Time
	for _, r := range u.in.Text {
		next := len(p.typed) == 0
		if len(p.typed) == 1 && unicode.ToLower(p.typed[0]) == unicode.ToLower(r) {
			next = true
		} else {
			p.typed = append(p.typed, r)
		}
		if n := typedItem(list, string(p.typed), *at, next); n >= 0 {
			*at = n
		}
	}
	u.takeLetters()
}

// typedItem gives the entry that a text stands for, from one on, or with next from the one after; -1 for none.
func typedItem(list []Item, text string, at int, next bool) int {
	from := max(at, 0)
	if next {
		from = at + 1
	}
	text = strings.ToLower(text)
	for _, holds := range []func(label string) bool{
		func(label string) bool { return strings.HasPrefix(label, text) },
		func(label string) bool { return strings.Contains(" "+label, " "+text) },
		func(label string) bool { return strings.Contains(label, text) },
	} {
		for i := range list {
			n := (from + i) % len(list)
			if it := &list[n]; !it.Rule && !it.Head && holds(strings.ToLower(it.Label)) {
				return n
			}
		}
	}
	return -1
}

// stepItem gives the next entry that is neither rule nor head; unusable ones are visited, so that they can say why.
func stepItem(list []Item, at, by int) int {
	n := len(list)
	if n == 0 {
		return -1
	}
	if at < 0 && by < 0 {
		at = n
	}
	for range n {
		at = (at + by + n) % n
		if !list[at].Rule && !list[at].Head {
			return at
		}
	}
	return -1
}
