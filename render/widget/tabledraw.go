package widget

import (
	"image"

	"emberbeat/render"
)

// titled says whether any column has a title.
func (spec *TableSpec) titled() bool {
	for i := range spec.Columns {
		if spec.Columns[i].Title != "" {
			return true
		}
	}
	return false
}

// span gives the left and right of a column in device pixels from the table's left.
func (t *tableState) span(spec *TableSpec, sc render.Scale, width, col int) (from, to int) {
	fixed, shares := 0, 0
	for _, w := range t.widths[:len(spec.Columns)] {
		fixed += sc.Px(w)
		shares += int(b2i(w == 0))
	}
	share := max(width-fixed, 0) / max(shares, 1)
	for i, w := range t.widths[:col+1] {
		size := sc.Px(w)
		if w == 0 {
			size = max(share, sc.Px(48))
		}
		if i == col {
			return from, min(from+size, width)
		}
		from += size
	}
	return from, from
}

// tableHead draws the titles and gives where the rows stand.
func (u *UI) tableHead(t *tableState, r image.Rectangle, spec *TableSpec, e *TableEvent) image.Rectangle {
	if !spec.titled() {
		return r
	}
	s := u.Scene()
	head := image.Rect(r.Min.X, r.Min.Y, r.Max.X, min(r.Min.Y+s.Px(RowHeight), r.Max.Y))
	s.Rect(head, render.InkPanel)
	s.Rect(image.Rect(head.Min.X, head.Max.Y-s.Px(1), head.Max.X, head.Max.Y), render.InkBar)
	c := u.control("titles", "titles", head, u.headReach(spec))
	if c.focus {
		u.headKeys(t, spec, e)
	}
	width := r.Dx() - u.Px(scrollBar)
	for i := range spec.Columns {
		from, to := t.span(spec, s.Scale, width, i)
		u.title(t, spec, i, image.Rect(r.Min.X+from, head.Min.Y, r.Min.X+to, head.Max.Y), c, e)
	}
	r.Min.Y = head.Max.Y
	return r
}

// headReach lets Tab visit the titles where they do something.
func (u *UI) headReach(spec *TableSpec) reach {
	for i := range spec.Columns {
		if spec.Columns[i].Sorts {
			return reachKey
		}
	}
	return reachNone
}

// headKeys moves along the titles, sorts by Enter and changes widths with Shift and the arrows.
func (u *UI) headKeys(t *tableState, spec *TableSpec, e *TableEvent) {
	for u.take(KeyLeft, 0) {
		t.head--
	}
	for u.take(KeyRight, 0) {
		t.head++
	}
	t.head = min(max(t.head, 0), len(spec.Columns)-1)
	if t.widths[t.head] > 0 {
		for u.take(KeyLeft, Shift) {
			t.widths[t.head] = max(t.widths[t.head]-8, render.Reach)
		}
		for u.take(KeyRight, Shift) {
			t.widths[t.head] += 8
		}
	}
	if spec.Columns[t.head].Sorts && u.take(KeyEnter, 0) {
		e.Sort = spec.sortBy(t.head)
	}
}

// sortBy gives what Sorted becomes when a title is used: rising, then falling.
func (spec *TableSpec) sortBy(col int) int {
	if spec.Sorted == col+1 {
		return -col - 1
	}
	return col + 1
}

// title draws a column's title, sorts on a click and widens by its right edge.
func (u *UI) title(t *tableState, spec *TableSpec, col int, r image.Rectangle, head control, e *TableEvent) {
	s, column := u.Scene(), &spec.Columns[col]
	if r.Empty() || u.low(r, render.TypeSmall) {
		return
	}
	in := image.Rect(r.Min.X+s.Px(8), r.Min.Y, r.Max.X-s.Px(8), r.Max.Y)
	over := head.hot && u.in.Pointer.In(r)
	if over && column.Sorts {
		s.Tint(r, render.InkText, coverHot)
		if head.click {
			e.Sort = spec.sortBy(col)
		}
	}
	if head.focus && t.head == col {
		outline(s, r, s.Px(2), render.InkFocus)
	}
	ink, typ := render.InkSecondary, render.TypeSmall
	if spec.Sorted == col+1 || spec.Sorted == -col-1 {
		ink, typ = render.InkText, render.TypeMark
		to := pointUp
		if spec.Sorted < 0 {
			to = pointDown
		}
		chevron(s, image.Rect(in.Max.X-s.Px(10), r.Min.Y, in.Max.X, r.Max.Y), to, ink)
		in.Max.X -= s.Px(14)
	}
	if !column.Right || !s.TextIn(in, render.Right, typ, ink, column.Title) {
		s.TextCut(in, typ, ink, column.Title)
	}
	if t.widths[col] > 0 {
		u.sizer(t, col, r)
	}
}

// sizer lets the edge of a title be dragged that faces the column which takes what is left: there the widths of others stay.
func (u *UI) sizer(t *tableState, col int, r image.Rectangle) {
	s := u.Scene()
	x, sign := r.Max.X, 1
	for _, w := range t.widths[:col] {
		if w == 0 {
			x, sign = r.Min.X, -1
		}
	}
	u.PushRow(col)
	c := u.control("sizer", "sizer", image.Rect(x-s.Px(3), r.Min.Y, x+s.Px(3), r.Max.Y), reachNone)
	u.Pop()
	ink := render.InkBeat
	if c.hot || c.held {
		ink = render.InkEdge
	}
	s.Rect(image.Rect(x-s.Px(1), r.Min.Y+s.Px(5), x, r.Max.Y-s.Px(5)), ink)
	if c.press {
		t.grabX, t.grabWidth = u.in.Pointer.X, t.widths[col]
	}
	if c.held && u.in.Down&Primary != 0 {
		t.widths[col] = max(t.grabWidth+sign*(u.in.Pointer.X-t.grabX)*100/int(s.Scale), render.Reach)
	}
}

// tableRows draws the rows in view.
func (u *UI) tableRows(t *tableState, view image.Rectangle, sel *Selection, spec *TableSpec, c control) {
	s := u.Scene()
	if spec.Rows == 0 {
		s.PushClip(view)
		u.Paragraph(view.Inset(s.Px(12)), render.TypeLabel, render.InkFaint, spec.Empty)
		s.PopClip()
		return
	}
	width := view.Dx()
	if t.scroll.over() > 0 || spec.titled() {
		width -= u.Px(scrollBar)
	}
	s.PushClip(view)
	high := u.Px(LineHeight)
	for row := t.scroll.y / high; row < spec.Rows; row++ {
		top := view.Min.Y + row*high - t.scroll.y
		if top >= view.Max.Y {
			break
		}
		u.tableRow(t, image.Rect(view.Min.X, top, view.Min.X+width, top+high), row, sel, spec, c)
	}
	if spec.Mark > 0 {
		y := view.Min.Y + (spec.Mark-1)*high - t.scroll.y
		s.Rect(image.Rect(view.Min.X, y-s.Px(2), view.Min.X+width, y+s.Px(2)), render.InkFocus)
	}
	s.PopClip()
}

// tableRow draws one row: chosen ones have a bar at the left, the cursor of a focused table an outline.
func (u *UI) tableRow(t *tableState, r image.Rectangle, row int, sel *Selection, spec *TableSpec, c control) {
	s := u.Scene()
	chosen := sel.Has(row)
	hot := c.hot && u.in.Pointer.In(r)
	if chosen || hot {
		s.Rect(r, render.InkRaised)
	}
	if chosen {
		s.Rect(image.Rect(r.Min.X, r.Min.Y, r.Min.X+s.Px(3), r.Max.Y), render.InkFocus)
	}
	if c.focus && sel.Cursor == row {
		s.Frame(image.Rect(r.Min.X+s.Px(3), r.Min.Y, r.Max.X, r.Max.Y), s.Px(1), render.InkFocus)
	}
	ink := c.words()
	if spec.Ink != nil && c.off == "" {
		ink = spec.Ink(row)
	}
	begun := len(s.Shapes)
	for col := range spec.Columns {
		from, to := t.span(spec, s.Scale, r.Dx(), col)
		if from < to {
			u.cell(image.Rect(r.Min.X+from+s.Px(8), r.Min.Y, r.Min.X+to-s.Px(8), r.Max.Y), row, col, ink, spec)
		}
	}
	if chosen || hot {
		s.OnRaised(begun)
	}
}

// cell sets the text of one cell, or has it drawn by the caller.
func (u *UI) cell(r image.Rectangle, row, col int, ink render.Ink, spec *TableSpec) {
	s := u.Scene()
	if spec.Draw != nil && spec.Draw(row, col, r) {
		return
	}
	u.scratch = spec.Cell(u.scratch[:0], row, col)
	align := render.Left
	if spec.Columns[col].Right {
		align = render.Right
	}
	if !s.BytesIn(r, align, render.TypeLabel, ink, u.scratch) {
		s.TextCut(r, render.TypeLabel, ink, string(u.scratch))
		if u.in.Pointer.In(r) && u.height == u.layer {
			u.offerTip(r, string(u.scratch), "")
		}
	}
}
