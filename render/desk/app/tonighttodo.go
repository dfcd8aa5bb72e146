package app

import (
	"cmp"
	"fmt"
	"image"
	"slices"
	"strconv"

	"emberbeat/render"
	"emberbeat/render/widget"
	"emberbeat/shows/report"
	"emberbeat/shows/report/night"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// todo is a line of what there is to do on a night: a heading, or a line that leads somewhere.
type todo struct {
	head   bool
	text   string
	detail string
	badge  rule.Severity // "" for none
	lead   func(a *App)  // nil where there is nothing to mend
}

// todoList gathers lines under headings.
type todoList []todo

func (l *todoList) heading(text string) { *l = append(*l, todo{head: true, text: text}) }

func (l *todoList) line(text, detail string, lead func(*App)) {
	*l = append(*l, todo{text: text, detail: detail, lead: lead})
}

// none says that there is nothing below the last heading, if so.
func (l *todoList) none(text string) {
	if n := len(*l); n > 0 && (*l)[n-1].head {
		l.line(text, "", nil)
	}
}

// toPage leads to a page of the book.
func toPage(id string) func(*App) { return func(a *App) { a.turn(id) } }

// toRecord leads to a record.
func toRecord(kind string, id string) func(*App) {
	return func(a *App) { a.goRef(timeline.Ref{Kind: kind, ID: timeline.ID(id)}) }
}

// todos lists what there is to do on a night, in the order of the day.
func (a *App) todos(t *night.Tonight) []todo {
	var l todoList
	a.findingTodos(&l, t)
	printTodos(&l, a.work.tonightReport.prints)
	changeTodos(&l, t)
	a.loadTodos(&l, t)
	supplyTodos(&l, t)
	a.openTodos(&l, t)
	signTodos(&l, t)
	return l
}

// findingTodos says of each rule how often it has found something that nobody has accepted.
func (a *App) findingTodos(l *todoList, t *night.Tonight) {
	l.heading("Findings: " + a.work.summary())
	for _, c := range t.Rules {
		name := c.Rule
		at := slices.IndexFunc(a.work.findings, func(f rule.Finding) bool { return f.Rule == name && f.Accepted == nil })
		if at < 0 {
			continue
		}
		detail := fmt.Sprintf("%d found", c.Found)
		if c.Accepted > 0 {
			detail += fmt.Sprintf(", %d accepted", c.Accepted)
		}
		l.line(name, detail, func(a *App) {
			if at < len(a.work.findings) && a.work.findings[at].Rule == name {
				a.goFinding(at)
			}
		})
		(*l)[len(*l)-1].badge = a.work.findings[at].Severity
	}
	l.none("none is open")
}

func changeTodos(l *todoList, t *night.Tonight) {
	l.heading("Other than on tour")
	for _, c := range t.Changes {
		l.line(c.Text, counted(c.Cues, "cue")+reasonText(c.Reason), toPage("nights"))
	}
	for _, n := range t.NotPlayed {
		l.line("not played: "+n.Title, n.Why, toPage("sets"))
	}
	for _, c := range t.Conditions {
		l.line("condition: "+c.Text, "of the "+c.From, toPage(c.From+"s"))
	}
	l.none("nothing")
}

func reasonText(reason string) string {
	if reason == "" {
		return ", no reason given"
	}
	return ": " + reason
}

// loadTodos lists the outputs to load, bank by bank.
func (a *App) loadTodos(l *todoList, t *night.Tonight) {
	l.heading(fmt.Sprintf("To load: %s, NEC %s g", counted(t.Used.Pieces, "piece"), strconv.FormatFloat(t.Used.NEC, 'f', -1, 64)))
	for i := range t.Load {
		b := &t.Load[i]
		name := b.Name
		if b.Dead {
			name += ", out of service"
		}
		lead := toPage("outputs")
		if b.ID != "" {
			lead = toRecord("bank", b.ID)
		}
		l.line(name, fmt.Sprintf("%s, NEC %s g", counted(b.Used.Pieces, "piece"), strconv.FormatFloat(b.Used.NEC, 'f', -1, 64)), lead)
		for k := range b.Units {
			u := &b.Units[k]
			output := "not wired"
			if u.Output > 0 {
				output = "output " + strconv.Itoa(u.Output)
			}
			l.line("   "+output+": "+u.PlacedName, u.ArticleName, toRecord("placed", u.Placed))
		}
	}
	l.none("nothing that is used up is commanded")
}

func supplyTodos(l *todoList, t *night.Tonight) {
	l.heading("Supplies (estimates)")
	for i := range t.Supplies {
		s := &t.Supplies[i]
		fill := "as filled, not weighed"
		if s.Weighed {
			fill = "weighed"
		}
		l.line(s.Name, fmt.Sprintf("uses %s of %s, %s", kilos(s.Uses), kilos(s.Usable), fill), toRecord("supply", s.Supply))
		if s.Short {
			l.line("   one hit takes more than a full one holds above its reserve", "", toRecord("supply", s.Supply))
		}
		for _, p := range s.Swaps {
			l.line(fmt.Sprintf("   swap after hit %d of song %d %q", p.Hit, p.SongNumber, p.SongTitle), p.Timecode+", "+kilos(p.Left)+" left", toRecord("supply", s.Supply))
		}
	}
	l.none("none in the rig")
}

func kilos(kg float64) string { return strconv.FormatFloat(kg, 'f', 2, 64) + " kg" }

// openTodos lists what must be closed by hand.
func (a *App) openTodos(l *todoList, t *night.Tonight) {
	l.heading("Open when the song ends: close by hand")
	for _, o := range t.ByHand {
		song := ""
		if n := o.SongNumber; n >= 1 && n <= len(t.Songs) {
			song = t.Songs[n-1].Song
		}
		cue := o.Cue
		l.line(fmt.Sprintf("%s of song %d", o.What, o.SongNumber), o.Role+", opened "+o.Opened+", closes "+cmp.Or(o.Closes, "never"), func(a *App) {
			a.goRef(timeline.Ref{Kind: "cue", Song: timeline.ID(song), ID: timeline.ID(cue)})
		})
	}
	l.none("nothing")
}

func signTodos(l *todoList, t *night.Tonight) {
	l.heading("To sign")
	for _, s := range t.Sign {
		l.line(s.Role+": "+cmp.Or(s.Name, "name not given"), s.For, toPage("nights"))
	}
	l.none("nobody")
}

// printTodos says which sheets have changed since they were printed.
func printTodos(l *todoList, prints []report.PrintState) {
	l.heading("Sheets since the last print")
	never := 0
	for _, p := range prints {
		name, was := p.Sheet, "printed"
		if p.Revision != "" {
			was = "printed as revision " + p.Revision
		}
		lead := func(a *App) { a.askExportOf(name) }
		switch p.State {
		case report.Changed:
			l.line("print again: "+p.Title, was+", looks otherwise now", lead)
		case report.NotMade:
			l.line(p.Title+" cannot be made any more", was+"; "+p.Why, nil)
		case report.AsPrinted:
			l.line(p.Title, was+", unchanged", lead)
		case report.NeverPrinted:
			never++
		}
	}
	if never > 0 {
		l.line(counted(never, "sheet")+" never printed", "all into a folder, marked as printed", func(a *App) { a.askExportOf(exportAll) })
	}
	l.none("all stand as they were printed")
}

// tonightTodo lists what there is to do; Enter or a double click on a line goes where it is mended.
func (a *App) tonightTodo(r image.Rectangle, t *night.Tonight) {
	u := a.ui
	list := a.todos(t)
	s := u.Scene()
	spec := widget.TableSpec{Rows: len(list), Columns: []widget.Column{{Title: "To do"}, {Title: "", Width: detailWide(u, r)}},
		Cell: func(b []byte, row, col int) []byte {
			return append(b, []string{list[row].text, list[row].detail}[col]...)
		},
		Draw: func(row, col int, r image.Rectangle) bool { return drawTodo(s, &list[row], col, r) },
		Ink: func(row int) render.Ink {
			if list[row].lead == nil {
				return render.InkSecondary
			}
			return render.InkText
		}}
	e := u.Table("todo", r, &a.tonightSeen.todo, &spec)
	u.Tip("Enter or a double click leads to where the line is mended", "")
	if e.Used && e.Row < len(list) && list[e.Row].lead != nil {
		list[e.Row].lead(a)
	}
}

// drawTodo draws headings and badges.
func drawTodo(s *render.Scene, t *todo, col int, r image.Rectangle) bool {
	switch {
	case t.head && col == 0:
		s.TextCut(image.Rect(r.Min.X, r.Min.Y, r.Max.X+s.Px(190), r.Max.Y), render.TypeStrong, render.InkText, t.text)
		return true
	case t.badge != "" && col == 0:
		s.Badge(image.Pt(r.Min.X, (r.Min.Y+r.Max.Y-s.Px(render.BadgeSize))/2), severity(t.badge))
		s.TextCut(image.Rect(r.Min.X+s.Px(render.BadgeSize+6), r.Min.Y, r.Max.X, r.Max.Y), render.TypeLabel, render.InkText, t.text)
		return true
	}
	return false
}

// detailWide is the logical width of the details beside what there is to do.
func detailWide(u *widget.UI, r image.Rectangle) int {
	if r.Dx() < u.Px(narrowSongs) {
		return 190
	}
	return 280
}
