package widget

import (
	"bytes"
	"image"
	"time"

	"emberbeat/render"
)

// Column is a column of a table.
type Column struct {
	Title string
	Width int  // logical, to begin with; 0 shares what the others leave
	Right bool // set at the right, for numbers
	Sorts bool // a click on its title asks for the rows to be sorted by it
}

// TableSpec says what a table shows. Only rows in view are asked for.
type TableSpec struct {
	Columns []Column // one without titles at all is a list
	Rows    int
	Cell    func(b []byte, row, col int) []byte // appends the text of a cell to b
	Ink     func(row int) render.Ink            // of a row's text; nil is InkText
	Draw    func(row, col int, r image.Rectangle) bool
	Sorted  int    // 1 + the column that the rows are sorted by, negative where they fall, 0 for none
	Multi   bool   // more than one row can be chosen
	Empty   string // what to do where there are no rows
	Mark    int    // 1 + the row above which a line shows where dragged rows would go, 0 for none
}

// TableEvent is what became of a table.
type TableEvent struct {
	Changed bool        // the selection or its cursor moved
	Used    bool        // Row was double-clicked or Enter pressed on it
	Menu    bool        // the menu of Row was asked for, to stand at At
	Row     int         // with Used or Menu
	At      image.Point // with Menu
	Sort    int         // what TableSpec.Sorted shall become, 0 for no change
	Held    bool        // the pointer that chose a row is still down
	Over    int         // with Held: the row above which it is, Rows at the end
}

// tableState is what a table keeps between frames.
type tableState struct {
	frame     uint64
	scroll    scrollState
	widths    []int // logical, of columns with a width
	cursor    int   // as of the last frame: a move is shown
	typed     []byte
	typedAt   time.Duration
	head      int // the title that keys move from
	grabX     int // where a width was taken hold of, in device pixels
	grabWidth int // and what it was then
}

// typeAhead is how long letters belong to one search.
const typeAhead = 900 * time.Millisecond

// List is a Table of one column without a title.
func (u *UI) List(key string, r image.Rectangle, sel *Selection, spec *TableSpec) TableEvent {
	return u.Table(key, r, sel, spec)
}

// Table draws rows in columns. The arrow keys, PgUp, PgDn, Home and End move; letters find the next row whose first column begins with them;
// with Multi, Shift extends, Ctrl adds and Ctrl+A takes all.
func (u *UI) Table(key string, r image.Rectangle, sel *Selection, spec *TableSpec) TableEvent {
	c := u.control("table", key, r, reachPress)
	t := u.tableOf(c.id, spec)
	sel.keep(spec.Rows)
	var e TableEvent
	s := u.Scene()
	s.Rect(r, render.InkLane)
	u.Push(key)
	view := u.tableHead(t, r, spec, &e)
	t.scroll.high, t.scroll.view = spec.Rows*u.Px(LineHeight), view.Dy()
	if c.focus {
		u.tableKeys(t, c, sel, spec, &e)
	}
	if sel.Cursor != t.cursor {
		t.scroll.show(sel.Cursor*u.Px(LineHeight), (sel.Cursor+1)*u.Px(LineHeight))
		t.cursor = sel.Cursor
	}
	t.scroll.clamp()
	u.tablePress(t, view, sel, spec, c, &e)
	if c.held && u.in.Down&Primary != 0 && spec.Rows > 0 {
		e.Held = true
		e.Over = min(max((u.in.Pointer.Y-view.Min.Y+t.scroll.y+u.Px(LineHeight)/2)/u.Px(LineHeight), 0), spec.Rows)
	}
	u.tableRows(t, view, sel, spec, c)
	u.Pop()
	u.wheel(&t.scroll, view)
	u.bar(key, &t.scroll, view)
	if c.focus {
		outline(s, r, s.Px(2), render.InkFocus)
	} else {
		s.Frame(r, s.Px(1), render.InkBar)
	}
	u.last = c
	return e
}

func (u *UI) tableOf(id ID, spec *TableSpec) *tableState {
	t := u.tables[id]
	if t == nil {
		t = &tableState{}
		u.tables[id] = t
	}
	t.frame = u.frame
	for len(t.widths) < len(spec.Columns) {
		t.widths = append(t.widths, spec.Columns[len(t.widths)].Width)
	}
	return t
}

// rowAt gives the row at the pointer; it may be past the last one.
func (u *UI) rowAt(t *tableState, view image.Rectangle) int {
	return (u.in.Pointer.Y - view.Min.Y + t.scroll.y) / u.Px(LineHeight)
}

// tablePress chooses by the pointer.
func (u *UI) tablePress(t *tableState, view image.Rectangle, sel *Selection, spec *TableSpec, c control, e *TableEvent) {
	if !c.hot || u.in.Pressed&(Primary|Secondary) == 0 || !u.in.Pointer.In(view) {
		return
	}
	row := u.rowAt(t, view)
	if row >= spec.Rows {
		return
	}
	e.Row, e.Changed = row, true
	switch {
	case u.in.Pressed&Secondary != 0:
		if !sel.Has(row) {
			sel.Only(row)
		}
		e.Menu, e.At = true, u.in.Pointer
	case spec.Multi && u.in.Mods&Shift != 0:
		sel.To(row)
	case spec.Multi && u.in.Mods&Ctrl != 0:
		sel.Toggle(row)
	default:
		sel.Only(row)
		e.Used = u.in.Clicks == 2
	}
	t.cursor = sel.Cursor
}

// tableKeys moves and chooses by keys.
func (u *UI) tableKeys(t *tableState, c control, sel *Selection, spec *TableSpec, e *TableEvent) {
	if spec.Rows == 0 {
		return
	}
	page := max(t.scroll.view/u.Px(LineHeight)-1, 1)
	for _, k := range []struct {
		key Key
		by  int
	}{{KeyUp, -1}, {KeyDown, 1}, {KeyPageUp, -page}, {KeyPageDown, page}, {KeyHome, -spec.Rows}, {KeyEnd, spec.Rows}} {
		for u.take(k.key, 0) {
			u.choose(sel, spec, sel.Cursor+k.by, 0, e)
		}
		for spec.Multi && u.take(k.key, Shift) {
			u.choose(sel, spec, sel.Cursor+k.by, Shift, e)
		}
	}
	if spec.Multi && u.take(KeyA, Ctrl) {
		sel.All(spec.Rows)
		e.Changed = true
	}
	if u.take(KeyEnter, 0) {
		e.Used, e.Row = true, sel.Cursor
	}
	if u.take(KeyMenu, 0) || u.take(KeyF10, Shift) {
		e.Menu, e.Row = true, sel.Cursor
		e.At = c.area.Min.Add(image.Pt(u.Px(24), (sel.Cursor+2)*u.Px(LineHeight)-t.scroll.y))
	}
	u.typeTo(t, sel, spec, e)
}

// choose moves the cursor to a row, brought into the table.
func (u *UI) choose(sel *Selection, spec *TableSpec, row int, m Mods, e *TableEvent) {
	row = min(max(row, 0), spec.Rows-1)
	if m == Shift {
		sel.To(row)
	} else {
		sel.Only(row)
	}
	e.Changed = true
}

// typeTo moves to the next row that begins with what is typed.
func (u *UI) typeTo(t *tableState, sel *Selection, spec *TableSpec, e *TableEvent) {
	if len(u.in.Text) == 0 {
		return
	}
	u.takeLetters()
	if u.in.Time-t.typedAt > typeAhead {
		t.typed = t.typed[:0]
	}
	fresh := len(t.typed) == 0
	t.typedAt = u.in.Time
	t.typed = append(t.typed, string(u.in.Text)...)
	for i := range spec.Rows {
		row := (sel.Cursor + i + int(b2i(fresh))) % spec.Rows
		u.scratch = spec.Cell(u.scratch[:0], row, 0)
		if len(u.scratch) >= len(t.typed) && bytes.EqualFold(u.scratch[:len(t.typed)], t.typed) {
			u.choose(sel, spec, row, 0, e)
			return
		}
	}
}

// takeLetters takes the keys that made letters, so that no command hears them.
func (u *UI) takeLetters() {
	for i, p := range u.in.Keys {
		if p.Mods&^Shift == 0 && typesText(p.Key) && p.Key != KeySpace {
			u.used[i] = true
		}
	}
}

func b2i(b bool) uint8 {
	if b {
		return 1
	}
	return 0
}
