package table

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// Row is a row of a table: the record that the inspector shows for it, and what the columns need besides.
type Row struct {
	Key    string // unique in the table and lasting: the selection goes by it
	Ref    timeline.Ref
	Record timeline.Record
	More   any
}

// Spec says what a table shows.
type Spec struct {
	Columns func() []Column // asked for when the table is drawn first
	List    func() []Row    // asked for again only when the show has changed
	Empty   string          // what to do where there is no row at all
	Buttons []string        // ids of the commands that stand above the table
	Note    string          // a sentence below the table, "" for none
}

// Table is a table of a page with what it keeps between frames.
type Table struct {
	Filter string // words that a row must hold
	Sel    widget.Selection

	h      page.Host
	spec   Spec
	cols   []Column
	sorted int   // as in widget.TableSpec
	shift  int   // columns left out after the first
	fit    int   // columns in view
	rows   []Row // as they stand
	all    int   // how many there are without the filter
	made   madeOf
	want   []timeline.Ref // records whose rows shall be chosen
	find   bool           // the filter shall get the focus
	focus  bool           // the table shall
	drawn  bool
	cell   cell
	width  int // logical, of the table as it was drawn last
}

// madeOf is what the rows depend on.
type madeOf struct {
	plan   *timeline.Plan
	filter string
	sorted int
}

// New gives a table on a page of a host.
func New(h page.Host, spec Spec) *Table { return &Table{h: h, spec: spec} }

// Rows gives the rows as they stand, and Columns all columns.
func (l *Table) Rows() []Row { return l.rows }

// Columns gives all columns, in view or not.
func (l *Table) Columns() []Column {
	if l.cols == nil {
		l.cols = l.spec.Columns()
	}
	return l.cols
}

// Buttons gives the ids of the commands above the table, none before it was drawn.
func (l *Table) Buttons() []string {
	if !l.drawn {
		return nil
	}
	return l.spec.Buttons
}

// Want chooses the rows of records when the table is drawn next.
func (l *Table) Want(refs []timeline.Ref) { l.want = refs }

// Clear chooses no row.
func (l *Table) Clear() { l.Sel = widget.Selection{} }

// FocusFilter brings the focus to the filter.
func (l *Table) FocusFilter() { l.find = true }

// Again lists the rows anew though the show is the same, since the page shows others of it.
func (l *Table) Again() { l.made = madeOf{} }

// Chosen gives the selected rows in order.
func (l *Table) Chosen() []Row {
	var list []Row
	for _, i := range l.Sel.Rows() {
		if i < len(l.rows) {
			list = append(list, l.rows[i])
		}
	}
	return list
}

// Records gives the records of the selected rows in order.
func (l *Table) Records() []timeline.Record {
	var list []timeline.Record
	for _, e := range l.Chosen() {
		if e.Record != nil {
			list = append(list, e.Record)
		}
	}
	return list
}

// Choose selects the rows with keys, as far as they are there.
func (l *Table) Choose(keys ...string) {
	l.Sel.Clear()
	for i := range l.rows {
		if slices.Contains(keys, l.rows[i].Key) {
			if l.Sel.Count() == 0 {
				l.Sel.Only(i)
			} else {
				l.Sel.Toggle(i)
			}
		}
	}
}

// take chooses the rows of the records that were asked for; a filter that might hide them is emptied.
func (l *Table) take() {
	want := l.want
	if len(want) == 0 {
		return
	}
	l.want, l.Filter = nil, ""
	l.refresh()
	var keys []string
	for i := range l.rows {
		if slices.Contains(want, l.rows[i].Ref) {
			keys = append(keys, l.rows[i].Key)
		}
	}
	l.Choose(keys...)
}

// refresh lists, filters and sorts the rows anew if anything has changed, and keeps what is selected.
func (l *Table) refresh() {
	key := madeOf{l.h.Plan(), l.Filter, l.sorted}
	if l.made == key {
		return
	}
	var keys []string
	for _, e := range l.Chosen() {
		keys = append(keys, e.Key)
	}
	cursor := ""
	if l.Sel.Cursor < len(l.rows) {
		cursor = l.rows[l.Sel.Cursor].Key
	}
	all := l.spec.List()
	l.all, l.made = len(all), key
	l.rows = l.sort(l.filtered(all))
	l.Choose(keys...)
	if i := slices.IndexFunc(l.rows, func(e Row) bool { return e.Key == cursor }); i >= 0 {
		l.Sel.Cursor = i
	}
}

// filtered keeps the rows in which every word of the filter stands somewhere.
func (l *Table) filtered(all []Row) []Row {
	words := strings.Fields(strings.ToLower(l.Filter))
	if len(words) == 0 {
		return all
	}
	cols := l.Columns()
	return slices.DeleteFunc(all, func(e Row) bool {
		var text strings.Builder
		for i := range cols {
			text.WriteString(strings.ToLower(cols[i].Text(&e)))
			text.WriteByte('\n')
		}
		return slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(text.String(), w) })
	})
}

// sort orders rows by the chosen column; without one they stay as listed.
func (l *Table) sort(rows []Row) []Row {
	if l.sorted == 0 {
		return rows
	}
	col := &l.Columns()[max(l.sorted, -l.sorted)-1]
	type keyed struct {
		text string
		e    Row
	}
	list := make([]keyed, len(rows))
	for i := range rows {
		list[i] = keyed{col.Text(&rows[i]), rows[i]}
	}
	slices.SortStableFunc(list, func(x, y keyed) int {
		c := Compare(x.text, y.text)
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

// Compare orders the texts of a column: empty ones first, numbers by value, others with the numbers in them by value.
func Compare(x, y string) int {
	a, errA := strconv.ParseFloat(x, 64)
	b, errB := strconv.ParseFloat(y, 64)
	if errA == nil && errB == nil {
		return cmp.Compare(a, b)
	}
	x, y = strings.ToLower(x), strings.ToLower(y)
	for x != "" && y != "" {
		px, py := page.Digits(x), page.Digits(y)
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

// Refs gives the records of rows, each once, all of the kind of the first.
func Refs(rows []Row) []timeline.Ref {
	var refs []timeline.Ref
	seen := map[timeline.Ref]bool{}
	for _, e := range rows {
		if e.Record != nil && !seen[e.Ref] && (len(refs) == 0 || refs[0].Kind == e.Ref.Kind) {
			seen[e.Ref] = true
			refs = append(refs, e.Ref)
		}
	}
	return refs
}
