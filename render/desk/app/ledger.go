package app

import (
	"cmp"
	"image"
	"slices"
	"strconv"
	"strings"

	"emberbeat/render"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// entry is a row of a ledger: the record that the inspector shows for it, and what the columns need besides.
type entry struct {
	key  string // unique in the ledger and lasting: the selection goes by it
	ref  timeline.Ref
	rec  timeline.Record
	more any
}

// ledgerSpec says what a ledger shows.
type ledgerSpec struct {
	id      string
	columns []column
	list    func(a *App) []entry // asked for again only when the show has changed
	empty   string               // what to do where there is no row at all
	buttons []string             // ids of the commands that stand above the table
	note    string               // a sentence below the table, "" for none
}

// ledger is what a table of the book keeps between frames.
type ledger struct {
	filter string
	sorted int // as in widget.TableSpec
	shift  int // columns left out after the first
	fit    int // columns in view
	sel    widget.Selection
	rows   []entry // as they stand
	all    int     // how many there are without the filter
	made   ledgerKey
	spec   *ledgerSpec
}

// ledgerKey is what the rows depend on.
type ledgerKey struct {
	plan   *timeline.Plan
	filter string
	sorted int
}

// ledgerOf gives the state of the ledger with an id.
func (a *App) ledgerOf(id string) *ledger {
	l := a.book.ledgers[id]
	if l == nil {
		l = &ledger{}
		if a.book.ledgers == nil {
			a.book.ledgers = map[string]*ledger{}
		}
		a.book.ledgers[id] = l
	}
	return l
}

// chosen gives the selected rows in order.
func (l *ledger) chosen() []entry {
	var list []entry
	for _, i := range l.sel.Rows() {
		if i < len(l.rows) {
			list = append(list, l.rows[i])
		}
	}
	return list
}

// choose selects the rows with keys, as far as they are there.
func (l *ledger) choose(keys ...string) {
	l.sel.Clear()
	for i := range l.rows {
		if slices.Contains(keys, l.rows[i].key) {
			if l.sel.Count() == 0 {
				l.sel.Only(i)
			} else {
				l.sel.Toggle(i)
			}
		}
	}
}

// take chooses the rows of the records that were asked for; a filter that might hide them is emptied.
func (l *ledger) take(a *App) {
	want := a.book.want
	if len(want) == 0 {
		return
	}
	a.book.want, l.filter = nil, ""
	l.refresh(a)
	var keys []string
	for i := range l.rows {
		if slices.Contains(want, l.rows[i].ref) {
			keys = append(keys, l.rows[i].key)
		}
	}
	l.choose(keys...)
}

// refresh lists, filters and sorts the rows anew if anything has changed, and keeps what is selected.
func (l *ledger) refresh(a *App) {
	key := ledgerKey{a.work.plan, l.filter, l.sorted}
	if l.made == key {
		return
	}
	var keys []string
	for _, e := range l.chosen() {
		keys = append(keys, e.key)
	}
	cursor := ""
	if l.sel.Cursor < len(l.rows) {
		cursor = l.rows[l.sel.Cursor].key
	}
	all := l.spec.list(a)
	l.all, l.made = len(all), key
	l.rows = l.sort(a, l.filtered(a, all))
	l.choose(keys...)
	if i := slices.IndexFunc(l.rows, func(e entry) bool { return e.key == cursor }); i >= 0 {
		l.sel.Cursor = i
	}
}

// filtered keeps the rows in which every word of the filter stands somewhere.
func (l *ledger) filtered(a *App, all []entry) []entry {
	words := strings.Fields(strings.ToLower(l.filter))
	if len(words) == 0 {
		return all
	}
	return slices.DeleteFunc(all, func(e entry) bool {
		var text strings.Builder
		for i := range l.spec.columns {
			text.WriteString(strings.ToLower(l.spec.columns[i].text(a, &e)))
			text.WriteByte('\n')
		}
		return slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(text.String(), w) })
	})
}

// sort orders rows by the chosen column; without one they stay as listed.
func (l *ledger) sort(a *App, rows []entry) []entry {
	if l.sorted == 0 {
		return rows
	}
	col := &l.spec.columns[max(l.sorted, -l.sorted)-1]
	type keyed struct {
		text string
		e    entry
	}
	list := make([]keyed, len(rows))
	for i := range rows {
		list[i] = keyed{col.text(a, &rows[i]), rows[i]}
	}
	slices.SortStableFunc(list, func(x, y keyed) int {
		c := compareCells(x.text, y.text)
		if l.sorted < 0 {
			c = -c
		}
		return c
	})
	for i := range list {
		rows[i] = list[i].e
	}
	return rows
}

// compareCells orders the texts of a column: empty ones first, numbers by value, others with the numbers in them by value.
func compareCells(x, y string) int {
	a, errA := strconv.ParseFloat(x, 64)
	b, errB := strconv.ParseFloat(y, 64)
	if errA == nil && errB == nil {
		return cmp.Compare(a, b)
	}
	x, y = strings.ToLower(x), strings.ToLower(y)
	for x != "" && y != "" {
		px, py := digits(x), digits(y)
		if px > 0 && py > 0 {
			nx, ny := strings.TrimLeft(x[:px], "0"), strings.TrimLeft(y[:py], "0")
			if c := cmp.Or(cmp.Compare(len(nx), len(ny)), strings.Compare(nx, ny)); c != 0 {
				return c
			}
			x, y = x[px:], y[py:]
			continue
		}
		if x[0] != y[0] {
			break
		}
		x, y = x[1:], y[1:]
	}
	return strings.Compare(x, y)
}

// digits gives how many bytes at the beginning of a text are digits.
func digits(text string) int {
	n := 0
	for n < len(text) && text[n] >= '0' && text[n] <= '9' {
		n++
	}
	return n
}

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
	a.book.refs = refsOf(l.chosen())
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

// refsOf gives the records of rows, each once, all of the kind of the first.
func refsOf(rows []entry) []timeline.Ref {
	var refs []timeline.Ref
	seen := map[timeline.Ref]bool{}
	for _, e := range rows {
		if e.rec != nil && !seen[e.ref] && (len(refs) == 0 || refs[0].Kind == e.ref.Kind) {
			seen[e.ref] = true
			refs = append(refs, e.ref)
		}
	}
	return refs
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
