package app

import "emberbeat/timeline"

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

// otherColumns shows the columns of the table in view that do not fit beside the others.
func (a *App) otherColumns() {
	if t := a.inBook().Rows; t != nil {
		t.OtherColumns()
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
	for _, c := range timeline.Diff(before, a.work.Session.Show()) {
		if c.Ref.Kind == p.Kind && c.After != nil {
			made = append(made, c.Ref)
		}
	}
	if len(made) > 0 {
		a.chooseRows(made)
	}
}
