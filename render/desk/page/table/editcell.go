package table

import (
	"image"
	"slices"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// cell is the cell that the keys stand on, and what is typed into it.
type cell struct {
	col     int    // in all columns
	on      bool   // the keys have moved along the row
	row     string // key of the row that is edited, "" while none is
	begins  bool   // it gets the focus
	drawn   bool   // in this frame
	refs    []timeline.Ref
	refused string
}

// editable reports whether the value of a column can be edited where it stands.
func (c *Column) editable() bool { return c.Edit != nil }

// EditCell begins to edit the cell at the keys, in all chosen rows, else the first that can be edited in the row. It gives false where none can.
func (l *Table) EditCell() bool {
	rows := l.Chosen()
	cols := l.Columns()
	if len(rows) == 0 || l.h.ReadOnly() {
		return false
	}
	at := l.cell.col
	if !l.cell.on || !cols[at].editable() {
		at = slices.IndexFunc(cols, func(c Column) bool { return c.editable() })
	}
	row := rows[0]
	if i := l.Sel.Cursor; i < len(l.rows) && l.Sel.Has(i) {
		row = l.rows[i]
	}
	refs := Refs(rows)
	if at < 0 || row.Record == nil || len(refs) == 0 || !slices.Contains(refs, row.Ref) {
		return false
	}
	f := cols[at].Edit
	if f.Type == timeline.FlagField {
		on := f.Get(row.Record).Text != "true"
		text := "false"
		if on {
			text = "true"
		}
		page.Assign(l.h, f, refs, timeline.AssignSet, text)
		return true
	}
	l.cell = cell{col: at, on: true, row: row.Key, begins: true, refs: refs}
	for range cols { // brought into view
		if slices.Contains(l.fitting(l.width), at) {
			break
		}
		l.OtherColumns()
	}
	l.h.Again()
	return true
}

// cellKeys moves along the row of a table that has the focus.
func (l *Table) cellKeys() {
	u := l.h.UI()
	if l.cell.row != "" || !u.Focused(l.key()) || len(l.rows) == 0 {
		return
	}
	for by, key := range map[int]widget.Key{-1: widget.KeyLeft, 1: widget.KeyRight} {
		for u.Take(key, 0) {
			l.stepCell(by)
		}
	}
	if cols := l.Columns(); l.cell.on && cols[l.cell.col].editable() && u.Take(widget.KeyEnter, 0) {
		l.EditCell()
	}
}

// stepCell goes to the next cell that can be edited; before the first one the keys stand on the row again.
func (l *Table) stepCell(by int) {
	cols := l.Columns()
	at := l.cell.col
	if !l.cell.on {
		at = -1
	}
	for at += by; at >= 0 && at < len(cols); at += by {
		if cols[at].editable() {
			l.cell.col, l.cell.on = at, true
			for range cols {
				if slices.Contains(l.fitting(l.width), at) {
					break
				}
				l.OtherColumns()
			}
			return
		}
	}
	if by < 0 {
		l.cell.on = false
	}
}

// drawCell draws the cell that is edited, and marks the one that the keys stand on. It reports whether the cell is drawn.
func (l *Table) drawCell(row, col int, r image.Rectangle) bool {
	u := l.h.UI()
	s := u.Scene()
	if l.cell.row == "" || l.rows[row].Key != l.cell.row || col != l.cell.col {
		if l.cell.on && l.cell.row == "" && col == l.cell.col && row == l.Sel.Cursor && u.Focused(l.key()) {
			s.Frame(image.Rect(r.Min.X-s.Px(6), r.Min.Y, r.Max.X+s.Px(6), r.Max.Y), s.Px(2), render.InkFocus)
		}
		return false
	}
	l.cell.drawn = true
	f := l.Columns()[col].Edit
	box := image.Rect(r.Min.X-s.Px(8), r.Min.Y, max(r.Max.X, r.Min.X+s.Px(96))+s.Px(8), r.Max.Y)
	s.Rect(box, render.InkLane)
	const key = "cell"
	if l.cell.begins {
		l.cell.begins = false
		u.Focus(key)
	} else if !u.Focused(key) && !u.MenuOpen(key) {
		l.cell.row = ""
	}
	v := f.Get(l.rows[row].Record)
	if len(f.Choices)+len(f.Ref) > 0 {
		l.chooseCell(key, box, f, v)
	} else {
		spec := widget.TextSpec{Unit: l.h.Show().Told().Unit(f.Unit), Error: l.cell.refused, Check: func(text string) error {
			return page.CheckAssign(l.h, f, l.cell.refs[0], timeline.AssignSet, text)
		}}
		e := u.TextField(key, box, page.Typed(l.h.Show().Told(), f, v), spec)
		switch {
		case e.Committed && !l.assign(f, e.Text):
			return true
		case e.Committed || e.Enter || e.Cancelled:
			l.leaveCell()
		}
	}
	if u.Take(widget.KeyEscape, 0) {
		l.leaveCell()
	}
	return true
}

// chooseCell draws a choice in the place of a cell.
func (l *Table) chooseCell(key string, r image.Rectangle, f *timeline.Field, v timeline.Value) {
	ids, names := f.Choices, f.Choices
	if len(f.Ref) > 0 {
		ids, names = page.Choices(l.h.Show(), f, l.cell.refs[0].Song)
	}
	if now, changed := l.h.UI().Dropdown(key, r, names, slices.Index(ids, v.Text)); changed && l.assign(f, ids[now]) {
		l.leaveCell()
	}
}

func (l *Table) assign(f *timeline.Field, text string) bool {
	ok := page.Assign(l.h, f, l.cell.refs, timeline.AssignSet, text)
	if l.cell.refused = ""; !ok {
		l.cell.refused = l.h.Said()
	}
	return ok
}

// leaveCell ends editing; the keys stand on the cell again.
func (l *Table) leaveCell() {
	l.cell.row, l.focus = "", true
	l.h.Again()
}
