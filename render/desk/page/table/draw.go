package table

import (
	"image"
	"slices"
	"strconv"

	"emberbeat/render"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// Draw draws the table with its buttons and its filter, and gives the chosen rows to the inspector. It gives the row that was used, -1 for
// none.
func (l *Table) Draw(r image.Rectangle) int {
	u := l.h.UI()
	l.drawn = true
	l.take()
	l.refresh()
	k := u.Stack(r, 8)
	l.h.Buttons(&k, l.spec.Buttons...)
	l.width = k.Rest().Dx() * 100 / int(u.Scene().Scale)
	l.cellKeys()
	shown := l.fitting(l.width)
	l.head(k.Top(widget.RowHeight), len(shown))
	l.refresh()
	if l.spec.Note != "" {
		h := u.ParagraphHeight(k.Rest().Dx(), render.TypeSmall, l.spec.Note)
		u.Paragraph(k.Bottom(h*100/int(u.Scene().Scale)+2), render.TypeSmall, render.InkSecondary, l.spec.Note)
	}
	if l.h.Fresh() || l.focus {
		l.focus = false
		u.Focus(l.key())
	}
	l.cell.drawn = false
	e := u.Table(l.key(), k.Rest(), &l.Sel, l.table(shown))
	if !l.cell.drawn && !l.cell.begins {
		l.cell.row = "" // it is out of view
	}
	if e.Sort != 0 {
		l.sorted = shown[max(e.Sort, -e.Sort)-1] + 1
		if e.Sort < 0 {
			l.sorted = -l.sorted
		}
		l.h.Again()
	}
	if (e.Used || e.Menu) && !l.Sel.Has(e.Row) && e.Row < len(l.rows) { // the row that the keys stand on
		l.Sel.Only(e.Row)
	}
	l.h.Choose(Refs(l.Chosen())...)
	if e.Menu {
		u.OpenMenu("row", image.Rectangle{Min: e.At, Max: e.At})
	}
	if u.MenuOpen("row") { // what stands above the table, and the values
		l.h.Menu("row", append([]string{"edit-values", ""}, l.spec.Buttons...)...)
	}
	if e.Used {
		l.h.Inspect()
		return e.Row
	}
	return -1
}

// key names the table: another one for other columns, since widths go with it.
func (l *Table) key() string { return "rows" + strconv.Itoa(l.shift) }

// head draws the filter and says how many rows there are, and how to see the other columns.
func (l *Table) head(r image.Rectangle, shown int) {
	u := l.h.UI()
	row := u.Stack(r, 10)
	if l.find {
		l.find = false
		u.Focus("filter")
	}
	e := u.TextField("filter", row.Left(220), l.Filter, widget.TextSpec{Hint: "Filter"})
	if e.Changed || e.Committed {
		l.Filter = e.Text
		l.refresh()
	}
	u.Tip("Shows only rows that hold all these words in any column", l.h.Key("row-filter"))
	text := timeline.Counted(l.all, "row")
	if l.Filter != "" {
		text = strconv.Itoa(len(l.rows)) + " of " + text
	}
	if n := l.Sel.Count(); n > 1 {
		text += ", " + strconv.Itoa(n) + " chosen"
	}
	if n := len(l.Columns()) - shown; n > 0 {
		if u.Button("columns", row.Right(130), "Other columns") {
			l.OtherColumns()
		}
		u.Tip(timeline.Counted(n, "column")+" more than fit: shows the next ones", l.h.Key("columns"))
	}
	u.Label(row.Rest(), render.TypeSmall, render.InkSecondary, text)
}

// fitting gives the columns shown in a width of logical pixels: the first one always, and of the others as many as fit from the shift on.
func (l *Table) fitting(width int) []int {
	cols := l.Columns()
	room := width - 16 - cols[0].least()
	shown := []int{0}
	for i := 1 + l.shift; i < len(cols) && room >= cols[i].least(); i++ {
		room -= cols[i].least()
		shown = append(shown, i)
	}
	l.fit = len(shown)
	return shown
}

// OtherColumns shows the columns after those in view, and the first ones again after the last.
func (l *Table) OtherColumns() {
	if !l.drawn {
		return
	}
	if l.shift += max(l.fit-1, 1); l.shift+1 >= len(l.Columns()) {
		l.shift = 0
	}
	l.h.Again()
	l.focus = l.focus || l.h.UI().HasFocus()
}

// table gives what the widget needs for the columns shown.
func (l *Table) table(shown []int) *widget.TableSpec {
	spec := &widget.TableSpec{Rows: len(l.rows), Multi: true, Empty: l.spec.Empty,
		Cell: func(b []byte, row, col int) []byte {
			return append(b, l.Columns()[shown[col]].Text(&l.rows[row])...)
		},
		Draw: func(row, col int, r image.Rectangle) bool {
			if l.drawCell(row, shown[col], r) {
				return true
			}
			draw := l.Columns()[shown[col]].Draw
			return draw != nil && draw(&l.rows[row], r)
		},
	}
	if l.Filter != "" && l.all > 0 {
		spec.Empty = "No row holds all the words of the filter; empty it to see all " + strconv.Itoa(l.all) + "."
	}
	first := !slices.ContainsFunc(shown, func(i int) bool { return l.Columns()[i].Width == 0 })
	for n, i := range shown {
		c := &l.Columns()[i]
		width := c.Width
		if n == 0 && first {
			width = 0
		}
		spec.Columns = append(spec.Columns, widget.Column{Title: c.Title, Width: width, Right: c.Right, Sorts: true})
		switch l.sorted {
		case i + 1:
			spec.Sorted = n + 1
		case -i - 1:
			spec.Sorted = -n - 1
		}
	}
	return spec
}
