package app

import (
	"image"
	"slices"

	"emberbeat/render"
	"emberbeat/render/widget"
	"emberbeat/shows/report"
	"emberbeat/shows/report/changed"
	"emberbeat/timeline/rule"
)

// diffRow is a line of a difference of findings.
type diffRow struct {
	word string // "new" or "gone"
	line *report.FindingLine
}

func diffRows(d *changed.FindingsDiff) []diffRow {
	if d == nil {
		return nil
	}
	var rows []diffRow
	for i := range d.New {
		rows = append(rows, diffRow{"new", &d.New[i]})
	}
	for i := range d.Gone {
		rows = append(rows, diffRow{"gone", &d.Gone[i]})
	}
	return rows
}

// diffTable lists which findings come and go; a row that is used leads to its finding as far as it is there.
func (a *App) diffTable(key string, r image.Rectangle, sel *widget.Selection, d *changed.FindingsDiff, empty string) {
	u := a.ui
	rows := diffRows(d)
	s := u.Scene()
	spec := widget.TableSpec{Rows: len(rows), Empty: empty,
		Columns: []widget.Column{{Title: "", Width: 26}, {Title: "", Width: 54}, {Title: "Rule", Width: 120}, {Title: "What"}},
		Cell: func(b []byte, row, col int) []byte {
			return append(b, []string{"", rows[row].word, rows[row].line.Rule, rows[row].line.Text}[col]...)
		},
		Draw: func(row, col int, r image.Rectangle) bool {
			if col == 0 {
				s.Badge(image.Pt(r.Min.X, (r.Min.Y+r.Max.Y-s.Px(render.BadgeSize))/2), render.SeverityOf(rows[row].line.Severity))
			}
			return col == 0
		},
		Ink: func(row int) render.Ink {
			if rows[row].word == "gone" {
				return render.InkSecondary
			}
			return render.InkText
		}}
	if e := u.Table(key, r, sel, &spec); e.Used && e.Row < len(rows) {
		a.goFindingLine(rows[e.Row].line)
	}
}

// goFindingLine goes to a finding of a sheet where the present plan has it.
func (a *App) goFindingLine(l *report.FindingLine) {
	at := slices.IndexFunc(a.work.Findings, func(f rule.Finding) bool { return f.Rule == l.Rule && f.Text == l.Text })
	if at < 0 {
		a.tell("the present plan does not have this finding")
		return
	}
	a.goFinding(at)
}
