package app

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

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
