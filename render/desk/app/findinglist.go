package app

import (
	"image"

	"emberbeat/render"
	"emberbeat/render/desk/openshow"
	"emberbeat/render/widget"
	"emberbeat/timeline/rule"
)

// findingList lists the findings of the whole plan.
func (a *App) findingList(r image.Rectangle) {
	u, w := a.ui, a.work
	a.ground(r)
	u.Group("findings")
	s := u.Scene()
	s.Rect(image.Rect(r.Min.X, r.Min.Y, r.Max.X, r.Min.Y+s.Px(1)), render.InkBar)
	k := u.Stack(u.Inset(r, 6), 4)
	head := u.Stack(k.Top(24), 8)
	if u.Button("close-findings", head.Right(70), "Close") {
		a.panel.list = false
		a.again = true
	}
	u.Tip("Closes the list", a.key("findings"))
	if u.Off(needAccept(a)).Button("accept", head.Right(90), "Accept…") {
		a.Use("accept")
	}
	u.Tip("Takes the chosen finding for this night, with a reason; it stays counted", a.key("accept"))
	f := a.chosenFinding()
	if f != nil && f.Fix != nil {
		label := "Fix: " + f.Fix.Label
		if u.Off(needFix(a)).MainButton("fix", head.Right(min(u.ButtonWidth(label), 380)), label) {
			a.Use("fix")
		}
		u.Tip("Makes this change; undo takes it back", a.key("fix"))
	}
	text := w.Summary()
	if f != nil && f.Help != "" {
		text = f.Help
	}
	u.Label(head.Rest(), render.TypeLabel, render.InkSecondary, text)
	spec := widget.TableSpec{
		Columns: []widget.Column{{Title: "", Width: 24}, {Title: "Rule", Width: 130}, {Title: "Song", Width: 110}, {Title: "Where", Width: 190}, {Title: "What"}},
		Rows:    len(w.Findings), Empty: w.Summary(),
		Cell: func(b []byte, row, col int) []byte { return findingCell(w, b, &w.Findings[row], col) },
		Draw: func(row, col int, r image.Rectangle) bool {
			if col == 0 {
				mid := image.Pt((r.Min.X+r.Max.X-s.Px(render.BadgeSize))/2, (r.Min.Y+r.Max.Y-s.Px(render.BadgeSize))/2)
				s.Badge(mid, render.SeverityOf(w.Findings[row].Severity))
			}
			return col == 0
		},
		Ink: func(row int) render.Ink {
			if w.Findings[row].Accepted != nil {
				return render.InkFaint
			}
			return render.InkText
		},
	}
	if e := u.Table("findings", k.Rest(), &a.panel.finding, &spec); e.Changed || e.Used {
		a.goFinding(min(a.panel.finding.Cursor, len(w.Findings)-1))
	}
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
