package app

import (
	"image"
	"slices"
	"strconv"

	"emberbeat/render"
	"emberbeat/render/widget"
)

// ledger draws a table of the book with its buttons and its filter, and shows the chosen rows in the inspector. It gives the row that was
// used, -1 for none.
func (a *App) ledger(r image.Rectangle, spec *ledgerSpec) int {
	u := a.ui
	l := a.ledgerOf(spec.id)
	l.spec = spec
	l.take(a)
	l.refresh(a)
	k := u.Stack(r, 8)
	a.commandButtons(&k, spec.buttons)
	shown := l.fitting(k.Rest().Dx() * 100 / int(u.Scene().Scale))
	a.ledgerHead(k.Top(widget.RowHeight), l, len(shown))
	l.refresh(a)
	if spec.note != "" {
		h := u.ParagraphHeight(k.Rest().Dx(), render.TypeSmall, spec.note)
		u.Paragraph(k.Bottom(h*100/int(u.Scene().Scale)+2), render.TypeSmall, render.InkSecondary, spec.note)
	}
	if a.book.fresh {
		u.Focus(l.key())
	}
	e := u.Table(l.key(), k.Rest(), &l.sel, l.table(a, shown))
	if e.Sort != 0 {
		l.sorted = shown[max(e.Sort, -e.Sort)-1] + 1
		if e.Sort < 0 {
			l.sorted = -l.sorted
		}
		a.again = true
	}
	if (e.Used || e.Menu) && !l.sel.Has(e.Row) && e.Row < len(l.rows) { // the row that the keys stand on
		l.sel.Only(e.Row)
	}
	a.book.refs = refsOf(l.chosen())
	if e.Menu {
		u.OpenMenu("row", image.Rectangle{Min: e.At, Max: e.At})
	}
	a.rowMenu(spec)
	if e.Used {
		a.toInspector("")
		return e.Row
	}
	return -1
}

// key names the table: another one for other columns, since widths go with it.
func (l *ledger) key() string { return "rows" + strconv.Itoa(l.shift) }

// ledgerHead draws the filter and says how many rows there are, and how to see the other columns.
func (a *App) ledgerHead(r image.Rectangle, l *ledger, shown int) {
	u := a.ui
	row := u.Stack(r, 10)
	if a.book.filter {
		a.book.filter = false
		u.Focus("filter")
	}
	e := u.TextField("filter", row.Left(220), l.filter, widget.TextSpec{Hint: "Filter"})
	if e.Changed || e.Committed {
		l.filter = e.Text
		l.refresh(a)
	}
	u.Tip("Shows only rows that hold all these words in any column", a.key("row-filter"))
	text := counted(l.all, "row")
	if l.filter != "" {
		text = strconv.Itoa(len(l.rows)) + " of " + text
	}
	if n := l.sel.Count(); n > 1 {
		text += ", " + strconv.Itoa(n) + " chosen"
	}
	if n := len(l.spec.columns) - shown; n > 0 {
		if u.Button("columns", row.Right(130), "Other columns") {
			a.otherColumns()
		}
		u.Tip(counted(n, "column")+" more than fit: shows the next ones", a.key("columns"))
	}
	u.Label(row.Rest(), render.TypeSmall, render.InkSecondary, text)
}

// fitting gives the columns shown in a width of logical pixels: the first one always, and of the others as many as fit from the shift on.
func (l *ledger) fitting(width int) []int {
	cols := l.spec.columns
	room := width - 16 - cols[0].least()
	shown := []int{0}
	for i := 1 + l.shift; i < len(cols) && room >= cols[i].least(); i++ {
		room -= cols[i].least()
		shown = append(shown, i)
	}
	l.fit = len(shown)
	return shown
}

// otherColumns shows the columns after those in view, and the first ones again after the last.
func (a *App) otherColumns() {
	p := a.inBook()
	l := a.ledgerOf(p.id)
	if l.spec == nil {
		return
	}
	if l.shift += max(l.fit-1, 1); l.shift+1 >= len(l.spec.columns) {
		l.shift = 0
	}
	a.again = true
	if a.ui.HasFocus() {
		a.book.fresh = true
	}
}

// table gives what the widget needs for the columns shown.
func (l *ledger) table(a *App, shown []int) *widget.TableSpec {
	spec := &widget.TableSpec{Rows: len(l.rows), Multi: true, Empty: l.spec.empty,
		Cell: func(b []byte, row, col int) []byte {
			return append(b, l.spec.columns[shown[col]].text(a, &l.rows[row])...)
		},
		Draw: func(row, col int, r image.Rectangle) bool {
			draw := l.spec.columns[shown[col]].draw
			return draw != nil && draw(a, &l.rows[row], r)
		},
	}
	if l.filter != "" && l.all > 0 {
		spec.Empty = "No row holds all the words of the filter; empty it to see all " + strconv.Itoa(l.all) + "."
	}
	first := !slices.ContainsFunc(shown, func(i int) bool { return l.spec.columns[i].width == 0 })
	for n, i := range shown {
		c := &l.spec.columns[i]
		width := c.width
		if n == 0 && first {
			width = 0
		}
		spec.Columns = append(spec.Columns, widget.Column{Title: c.title, Width: width, Right: c.right, Sorts: true})
		switch l.sorted {
		case i + 1:
			spec.Sorted = n + 1
		case -i - 1:
			spec.Sorted = -n - 1
		}
	}
	return spec
}

// commandButtons draws commands as buttons in as many rows as they need.
func (a *App) commandButtons(k *widget.Stack, ids []string) {
	u := a.ui
	if len(ids) == 0 {
		return
	}
	row := u.Stack(k.Top(widget.RowHeight), 6)
	for _, id := range ids {
		c := byID(id)
		name := c.name
		wide := u.ButtonWidth(name)
		if row.Rest().Dx() < u.Px(wide) {
			row = u.Stack(k.Top(widget.RowHeight), 6)
		}
		why := a.why(c)
		if u.Off(why).Button(id, row.Left(wide), name) {
			a.use(c)
		}
		if why == "" {
			u.Tip(upper(c.help), a.key(id))
		}
	}
}

// rowMenu draws the menu of the chosen rows while it is open: what stands above the table, and the values.
func (a *App) rowMenu(spec *ledgerSpec) {
	u := a.ui
	if !u.MenuOpen("row") {
		return
	}
	var items []widget.Item
	for _, id := range append([]string{"edit-values", ""}, spec.buttons...) {
		c := byID(id)
		if c == nil {
			items = append(items, widget.Item{Rule: true})
			continue
		}
		items = append(items, widget.Item{ID: id, Label: c.name, Keys: a.key(id), Off: a.why(c)})
	}
	if id, ok := u.Menu("row", items); ok {
		a.Use(id)
	}
}
