package app

import (
	"cmp"
	"image"
	"slices"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// Width of the list of pages in logical pixels.
const (
	bookWidth  = 194
	bookNarrow = 172
)

func (a *App) bookWide(width int) int {
	if width < narrowPage {
		return bookNarrow
	}
	return bookWidth
}

// bookRow is a line of the list of pages: the timeline, a part's heading or a page.
type bookRow struct {
	text string
	page *page.Page
	head bool
}

// bookRows gives the lines of the list of pages.
func (a *App) bookRows() []bookRow {
	rows := []bookRow{{text: "Timeline"}}
	part := ""
	for i := range a.pages {
		p := &a.pages[i]
		if p.Part != part {
			part = p.Part
			rows = append(rows, bookRow{text: part, head: true})
		}
		rows = append(rows, bookRow{text: p.Name, page: p})
	}
	return rows
}

// bookList lists the pages, with the timeline as the first.
func (a *App) bookList(r image.Rectangle) {
	u := a.ui
	a.ground(r)
	a.ruleRight(r)
	u.Group("pages")
	k := u.Stack(u.Inset(r, 8), 6)
	rows := a.bookRows()
	sel := &widget.Selection{}
	for i, row := range rows {
		if row.page != nil && row.page.ID == a.book.at {
			sel.Only(i)
		}
	}
	was := sel.Cursor
	spec := widget.TableSpec{Columns: []widget.Column{{}}, Rows: len(rows),
		Cell: func(b []byte, row, _ int) []byte { return append(b, rows[row].text...) },
		Draw: func(row, _ int, r image.Rectangle) bool { return a.bookRow(&rows[row], r) }}
	e := u.List("pages", k.Rest(), sel, &spec)
	if !e.Changed || sel.Cursor == was {
		return
	}
	to := sel.Cursor
	if rows[to].head {
		if to < was && to > 0 {
			to--
		} else {
			to++
		}
	}
	if p := rows[to].page; p != nil {
		a.turn(p.ID)
		u.Focus("pages")
		a.book.fresh = false
		return
	}
	a.toTimeline()
}

// bookRow draws a line of the list of pages.
func (a *App) bookRow(row *bookRow, r image.Rectangle) bool {
	s := a.ui.Scene()
	in := image.Rect(r.Min.X+s.Px(6), r.Min.Y, r.Max.X-s.Px(4), r.Max.Y)
	if row.head {
		s.TextCut(in, render.TypeMark, render.InkSecondary, row.text)
		return true
	}
	key, id := "", "timeline"
	if row.page != nil {
		in.Min.X += s.Px(8)
		id = "book-" + row.page.ID
	}
	if key = a.key(id); key != "" {
		w := s.Face(render.TypeSmall).Measure(key)
		if s.Face(render.TypeLabel).Measure(row.text) > in.Dx()-w-s.Px(6) {
			key, w = "", -s.Px(6) // the name counts for more
		}
		s.TextIn(image.Rect(in.Max.X-w, in.Min.Y, in.Max.X, in.Max.Y), render.Right, render.TypeSmall, render.InkFaint, key)
		in.Max.X -= w + s.Px(6)
	}
	s.TextCut(in, render.TypeLabel, render.InkText, row.text)
	return true
}

// inspectedInBook gives the records of the chosen rows that are there, else the record last gone to, else none.
func (a *App) inspectedInBook() []timeline.Ref {
	refs := slices.DeleteFunc(slices.Clone(a.book.refs), func(r timeline.Ref) bool { return find(a.work.Show, r) == nil })
	if r := a.panel.record; len(refs) == 0 && r.Kind != "" && find(a.work.Show, r) != nil {
		return []timeline.Ref{r}
	}
	return refs
}

// showInBook turns to the page that lists a record's kind, if there is one, and chooses the record there.
func (a *App) showInBook(r timeline.Ref) {
	i := slices.IndexFunc(a.pages, func(p page.Page) bool { return p.Kind == r.Kind })
	if i < 0 {
		a.book.refs = nil
		return
	}
	if a.pages[i].ID != a.book.at {
		a.turn(a.pages[i].ID)
	}
	a.chooseRows([]timeline.Ref{r})
}

// askPageHelp says what can be done on the page in view, and with which keys.
func (a *App) askPageHelp() {
	p := a.inBook()
	part := widget.HelpPart{Title: upper(p.Help)}
	if p.Rows != nil {
		for _, id := range p.Rows.Buttons() {
			c := a.byID(id)
			part.Rows = append(part.Rows, widget.HelpRow{Keys: cmp.Or(a.key(id), "button"), Text: c.name + ": " + c.help})
		}
	}
	rows := widget.HelpPart{Title: "In a table", Rows: []widget.HelpRow{
		{Keys: "↑ ↓ PgUp PgDn", Text: "choose a row; with Shift several, with Ctrl+A all"}, {Keys: "Letters", Text: "go to the next row that begins with them"},
		{Keys: "Enter", Text: "its values, also by a double click"}, {Keys: a.key("rename"), Text: "edit the cell; ← → choose it, then Enter does too"}, {Keys: a.key("context"), Text: "menu of the row"}, {Keys: a.key("row-add"), Text: "add"}, {Keys: a.key("duplicate"), Text: "copy"}, {Keys: a.key("delete"), Text: "remove"},
		{Keys: a.key("row-filter"), Text: "filter by words in any column"}, {Keys: a.key("columns"), Text: "the columns that do not fit"}, {Keys: "Click a heading", Text: "sort; again: the other way"}}}
	book := widget.HelpPart{Title: "In the book", Rows: []widget.HelpRow{
		{Keys: a.key("book"), Text: "timeline and back"}, {Keys: a.key("timeline"), Text: "timeline"}, {Keys: a.key("book-on") + "  " + a.key("book-back"), Text: "next and previous page"},
		{Keys: a.key("panel-on"), Text: "next panel: pages, page, inspector"}, {Keys: a.key("undo"), Text: "take back"}}}
	a.dialog = &helpDialog{title: p.Name, parts: []widget.HelpPart{part, rows, book}}
}
