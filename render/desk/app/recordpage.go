package app

import (
	"fmt"
	"image"

	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// rowCommands work on the rows of the page in view; what they do there stands in its acts.
func rowCommands() []command {
	nothing := func(why string) func(*App) string {
		return func(a *App) string {
			if a.inBook() == nil {
				return "turn to a page of the book first, with " + a.key("book")
			}
			return why
		}
	}
	return []command{
		{id: "row-add", name: "Add row", help: "adds a record to the page in view and shows its fields", group: "Book", keys: []string{"Insert"}, off: nothing("nothing can be added on this page"), run: func(*App) {}},
		{id: "row-copy", name: "Copy rows", help: "makes a copy of each chosen record of the page in view", group: "Book", off: nothing("nothing can be copied on this page"), run: func(*App) {}},
		{id: "row-remove", name: "Remove rows", help: "takes the chosen records of the page in view out of the show", group: "Book", off: nothing("nothing can be removed on this page"), run: func(*App) {}},
		{id: "row-filter", name: "Filter the table", help: "goes to the field that filters the table in view", group: "Book", keys: []string{"Ctrl+Shift+F"}, off: nothing(""), run: func(a *App) { a.book.filter = true }},
		{id: "columns", name: "Other columns", help: "shows the columns of the table in view that do not fit beside the others", group: "Book", keys: []string{"Ctrl+Shift+C"}, off: nothing(""), run: (*App).otherColumns},
	}
}

// recordActs are what a page of one kind of record does on the commands for rows, with delete and duplicate as other keys of them.
func recordActs(kind string) map[string]act {
	add := act{needEdit, func(a *App) { a.addRow(timeline.KindOf(kind)) }}
	copied := act{needChosenEdit, (*App).copyRows}
	remove := act{needChosenEdit, (*App).removeRows}
	return map[string]act{"row-add": add, "row-copy": copied, "duplicate": copied, "row-remove": remove, "delete": remove}
}

// recordButtons are the commands above a table of records.
var recordButtons = []string{"row-add", "row-copy", "row-remove"}

// recordTable is a page that lists one kind of record.
type recordTable struct {
	p       page
	kind    string
	empty   string // what to do where there is none
	note    string // below the table
	buttons []string
	columns func() []column // asked for when the page is drawn first
}

// page gives the page. On a page of its own, every command for rows does what recordActs says; acts of the page itself come before.
func (t recordTable) page() page {
	spec := &ledgerSpec{id: t.p.id, list: recordsOf(t.kind), empty: t.empty, buttons: t.buttons, note: t.note}
	p := t.p
	p.kind, p.acts = t.kind, recordActs(t.kind)
	for id, own := range t.p.acts {
		p.acts[id] = own
	}
	p.draw = func(a *App, r image.Rectangle) {
		if spec.columns == nil {
			spec.columns = t.columns()
		}
		a.ledger(r, spec)
	}
	return p
}

// recordPage is a page that lists one kind of record, with the usual commands.
func recordPage(p page, kind string, empty string, columns func() []column) page {
	return recordTable{p: p, kind: kind, empty: empty, buttons: recordButtons, columns: columns}.page()
}

// addRow adds a record with its defaults, chooses it and brings the focus to its first field.
func (a *App) addRow(kind *timeline.Kind) {
	r := timeline.Ref{Kind: kind.Name, ID: a.work.ids()(kind.Name, "")}
	if a.do(change{"add " + kind.Name, []timeline.Edit{a.work.plan.Add(r)}}) {
		a.chooseRows([]timeline.Ref{r})
		a.toInspector("")
	}
}

// chooseRows selects the rows of records on the page in view, or about to be.
func (a *App) chooseRows(refs []timeline.Ref) {
	a.book.want = refs
	a.again = true
}

// chooseMade selects, of the page's kind, the records that have come or changed since a snapshot.
func (a *App) chooseMade(before *timeline.Show) {
	p := a.inBook()
	if p == nil {
		return
	}
	var made []timeline.Ref
	for _, c := range timeline.Diff(before, a.work.s.Show()) {
		if c.Ref.Kind == p.kind && c.After != nil {
			made = append(made, c.Ref)
		}
	}
	if len(made) > 0 {
		a.chooseRows(made)
	}
}

// copyRows makes a copy of each chosen record, named as one, and chooses the copies.
func (a *App) copyRows() {
	kind := timeline.KindOf(a.book.refs[0].Kind)
	give := a.work.ids()
	var recs []timeline.Record
	var refs []timeline.Ref
	for _, ref := range a.book.refs {
		r := kind.Clone(find(a.work.shown, ref))
		timeline.SetID(r, give(kind.Name, ref.Song))
		timeline.SetKept(r, nil)
		if f := kind.Field("name"); f != nil && f.Get(r).Text != "" {
			if err := f.Set(r, timeline.Value{Text: f.Get(r).Text + " copy"}); err != nil {
				a.fail(err)
				return
			}
		}
		recs = append(recs, r)
		refs = append(refs, timeline.Ref{Kind: kind.Name, Song: ref.Song, ID: r.RecordID()})
	}
	c := change{"copy " + countedKind(len(recs), kind), []timeline.Edit{func(d *timeline.Draft) error {
		d.Put(refs[0].Song, recs...)
		return nil
	}}}
	if a.do(c) {
		a.chooseRows(refs)
	}
}

// removeRows takes the chosen records out as one step. The draft refuses it while others name them.
func (a *App) removeRows() {
	refs := a.book.refs
	kind := timeline.KindOf(refs[0].Kind)
	c := change{"remove " + countedKind(len(refs), kind), []timeline.Edit{func(d *timeline.Draft) error {
		for _, r := range refs {
			if err := d.Remove(r); err != nil {
				return err
			}
		}
		return nil
	}}}
	a.doAsked(c, func(a *App) {
		a.ledgerOf(a.book.at).sel = widget.Selection{}
		a.book.refs = nil
	})
}

// countedKind names a number of records of a kind.
func countedKind(n int, kind *timeline.Kind) string {
	if n == 1 {
		return kind.Name
	}
	return fmt.Sprintf("%d %s", n, kind.Plural)
}
