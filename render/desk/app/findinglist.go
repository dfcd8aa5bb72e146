package app

import (
	"fmt"
	"image"
	"slices"

	"emberbeat/render"
	"emberbeat/render/desk/openshow"
	"emberbeat/render/widget"
	"emberbeat/shows/report"
	"emberbeat/timeline/rule"
)

// groupList is the list of findings as it is shown: a row for each group, and below those that are open one for each of their findings.
type groupList struct {
	sel    widget.Selection // of rows
	chosen int              // place of the group whose own row is chosen, -1 for none
	open   map[string]bool  // groups by their key
	rows   []groupRow
	wanted int // 1 + the finding whose row shall be chosen
}

// groupRow is a row of that list.
type groupRow struct {
	group int
	at    int // finding, -1 for the row of the group itself
}

// show opens the group of a finding, and chooses its row when the list is drawn next.
func (l *groupList) show(groups []report.FindingGroup, finding int) {
	for i := range groups {
		if g := &groups[i]; len(g.Found) > 1 && slices.Contains(g.Found, finding) {
			l.turn(g, true)
		}
	}
	l.wanted = finding + 1
}

// turn opens a group or closes it.
func (l *groupList) turn(g *report.FindingGroup, open bool) {
	if l.open == nil {
		l.open = map[string]bool{}
	}
	l.open[g.Key()] = open
}

// list makes the rows anew. A group of one finding is that finding.
func (l *groupList) list(groups []report.FindingGroup) {
	l.rows = l.rows[:0]
	for i := range groups {
		g := &groups[i]
		if len(g.Found) == 1 {
			l.rows = append(l.rows, groupRow{i, g.Found[0]})
			continue
		}
		l.rows = append(l.rows, groupRow{i, -1})
		if l.open[g.Key()] {
			for _, at := range g.Found {
				l.rows = append(l.rows, groupRow{i, at})
			}
		}
	}
	if l.wanted > 0 {
		if i := slices.IndexFunc(l.rows, func(r groupRow) bool { return r.at == l.wanted-1 }); i >= 0 {
			l.sel.Only(i)
		}
		l.wanted = 0
	}
	l.chosen = -1
	if i := l.sel.Cursor; l.sel.Has(i) && i < len(l.rows) && l.rows[i].at < 0 {
		l.chosen = l.rows[i].group
	}
}

// findingList lists the findings of the whole plan by their causes, worst first.
func (a *App) findingList(r image.Rectangle) {
	u, w := a.ui, a.work
	l := &a.panel.groups
	groups := w.Groups()
	l.list(groups)
	a.ground(r)
	u.Group("findings")
	s := u.Scene()
	s.Rect(image.Rect(r.Min.X, r.Min.Y, r.Max.X, r.Min.Y+s.Px(1)), render.InkBar)
	k := u.Stack(u.Inset(r, 6), 4)
	a.findingHead(k.Top(24))
	spec := widget.TableSpec{
		Columns: []widget.Column{{Title: "", Width: 42}, {Title: "Rule", Width: 130}, {Title: "Song", Width: 150}, {Title: "Where", Width: 190}, {Title: "What"}},
		Rows:    len(l.rows), Empty: w.Summary(),
		Cell: func(b []byte, row, col int) []byte { return groupCell(w, groups, l.rows[row], b, col) },
		Draw: func(row, col int, r image.Rectangle) bool {
			if col == 0 {
				a.groupSign(&groups[l.rows[row].group], l.rows[row], r)
			}
			return col == 0
		},
		Ink: func(row int) render.Ink {
			x := l.rows[row]
			if x.at < 0 && groups[x.group].Open() == 0 || x.at >= 0 && w.Findings[x.at].Accepted != nil {
				return render.InkFaint
			}
			return render.InkText
		},
	}
	if u.Focused("findings") {
		a.groupKeys(groups)
	}
	e := u.Table("findings", k.Rest(), &l.sel, &spec)
	if !e.Changed && !e.Used || len(l.rows) == 0 {
		return
	}
	x := l.rows[min(l.sel.Cursor, len(l.rows)-1)]
	if x.at >= 0 {
		a.goFinding(x.at)
		return
	}
	l.chosen, a.panel.visited = x.group, false
	if onSign := a.in.Pressed != 0 && a.in.Pointer.X < r.Min.X+s.Px(48); e.Used || onSign {
		g := &groups[x.group]
		l.turn(g, !l.open[g.Key()])
	}
	a.again = true
}

// groupKeys opens and closes the group at the cursor.
func (a *App) groupKeys(groups []report.FindingGroup) {
	l := &a.panel.groups
	i := l.sel.Cursor
	if i >= len(l.rows) {
		return
	}
	g := &groups[l.rows[i].group]
	switch {
	case len(g.Found) == 1:
	case a.ui.Take(widget.KeyRight, 0):
		l.turn(g, true)
		a.again = true
	case a.ui.Take(widget.KeyLeft, 0):
		l.turn(g, false)
		if at := slices.IndexFunc(l.rows, func(r groupRow) bool { return r.group == l.rows[i].group }); at >= 0 {
			l.sel.Only(at)
		}
		a.again = true
	}
}

// findingHead says what can be done with the chosen row.
func (a *App) findingHead(r image.Rectangle) {
	u, w := a.ui, a.work
	head := u.Stack(r, 8)
	if u.Button("close-findings", head.Right(70), "Close") {
		a.panel.list = false
		a.again = true
	}
	u.Tip("Closes the list", a.key("findings"))
	if u.Off(needAccept(a)).Button("accept", head.Right(90), "Accept…") {
		a.Use("accept")
	}
	u.Tip("Takes the chosen finding for this night, with a reason; it stays counted", a.key("accept"))
	text := w.Summary()
	if n := len(w.Groups()); n > 0 {
		text += ", from " + counted(n, "cause")
	}
	f, g := a.chosenFinding(), a.chosenGroup()
	switch {
	case g != nil && g.Fix != nil:
		label := "Fix all: " + g.Fix.Label
		if u.Off(needFixAll(a)).MainButton("fix-all", head.Right(min(u.ButtonWidth(label), 380)), label) {
			a.Use("fix-all")
		}
		u.Tip("Makes this change as one step; undo takes it back", a.key("fix-all"))
		text = "Looking what this would change…"
		if would, known := a.Would(g.Key(), g.Fix.Edits...); known {
			text = would
		}
	case g != nil:
		text = w.Findings[g.Found[0]].Help
		if g.Cause != "" {
			text = upper(g.Cause) + ". " + upper(text)
		}
	case f != nil:
		if f.Fix != nil {
			label := "Fix: " + f.Fix.Label
			if u.Off(needFix(a)).MainButton("fix", head.Right(min(u.ButtonWidth(label), 380)), label) {
				a.Use("fix")
			}
			u.Tip("Makes this change; undo takes it back", a.key("fix"))
		}
		if f.Help != "" {
			text = f.Help
		}
	}
	u.Label(head.Rest(), render.TypeLabel, render.InkSecondary, text)
}

// groupSign draws how grave a group or finding is, and before a group whether it is open.
func (a *App) groupSign(g *report.FindingGroup, x groupRow, r image.Rectangle) {
	s := a.ui.Scene()
	y := (r.Min.Y + r.Max.Y - s.Px(render.BadgeSize)) / 2
	if x.at < 0 {
		mid, at := float32(r.Min.Y+r.Max.Y)/2, float32(r.Min.X)
		p := s.Scale.Pxf(4)
		points := []render.Point{{X: at, Y: mid - p}, {X: at + p, Y: mid}, {X: at, Y: mid + p}}
		if a.panel.groups.open[g.Key()] {
			points = []render.Point{{X: at - p/2, Y: mid - p/2}, {X: at + p, Y: mid - p/2}, {X: at + p/4, Y: mid + p/2}}
		}
		s.Line(s.Scale.Pxf(1.5), render.InkText, 255, points...)
	}
	if x.at < 0 || len(g.Found) == 1 {
		s.Badge(image.Pt(r.Min.X+s.Px(11), y), render.SeverityOf(g.Severity))
	}
}

// groupCell writes a cell of the list.
func groupCell(w *openshow.Work, groups []report.FindingGroup, x groupRow, b []byte, col int) []byte {
	g := &groups[x.group]
	if x.at >= 0 {
		if col == 1 && len(g.Found) > 1 {
			return b // the group's row says it
		}
		return findingCell(w, b, &w.Findings[x.at], col)
	}
	switch col {
	case 1:
		return append(b, g.Rule...)
	case 2:
		return append(b, g.Where...)
	case 3:
		return append(b, g.Cause...)
	case 4:
		if g.Accepted > 0 {
			b = fmt.Appendf(b, "%d accepted: ", g.Accepted)
		}
		return append(b, upper(g.Title)...)
	}
	return b
}

func findingCell(w *openshow.Work, b []byte, f *rule.Finding, col int) []byte {
	switch col {
	case 1:
		return append(b, f.Rule...)
	case 2:
		if s := w.Show.Song(f.Song); s != nil {
			return append(b, s.FullTitle()...)
		}
	case 3:
		return append(b, openshow.Where(f, w.Plan.Rate)...)
	case 4:
		if f.Accepted != nil {
			b = append(b, "accepted: "...)
		}
		return append(b, f.Text...)
	}
	return b
}

func (a *App) toggleFindings() { a.panel.list = !a.panel.list }

func (a *App) toggleSide() {
	a.prefs.Side = !a.prefs.Side
	a.prefs.Save()
}

func (a *App) showRecords() {
	a.panel.records = !a.panel.records
	a.panel.side = sideInspector
	if a.panel.records && a.prefs.Side {
		a.toggleSide()
	}
}
