package app

import (
	"fmt"
	"image"
	"slices"

	"emberbeat/render"
	"emberbeat/render/widget"
	"emberbeat/shows/report"
	"emberbeat/shows/report/changed"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// forecast says what a change would come to before it is made; nothing is in it until it is done.
type forecast struct {
	key  string
	base *timeline.Plan
	changed.Forecast
	err  error
	done bool
}

// forecasts makes forecasts beside the window, one at a time.
type forecasts struct {
	now  *forecast
	busy bool
}

// foresee gives the forecast for edits; key names what they do, so that the same are not looked at twice. As long as it is not done, the
// newest one that is, or nil, stands in its place.
func (a *App) foresee(key string, edits ...timeline.Edit) *forecast {
	w := a.work
	fs := &w.forecasts
	if fs.now != nil && fs.now.key == key && fs.now.base == w.plan || fs.busy {
		return fs.now
	}
	if w.checks.busy || w.checks.done != w.plan || w.tried != nil {
		return nil // what there is now is not known yet
	}
	f := &forecast{key: key, base: w.plan}
	fs.now = f
	tried, err := w.s.Try(edits...)
	if err != nil {
		f.err, f.done = err, true
		return f
	}
	fs.busy = true
	on := tried.On(w.night)
	w.running.Add(1)
	go func() {
		defer w.running.Done()
		each, err := w.s.Foresee(w.life, tried, on)
		a.post(func() {
			if f.err, f.done = err, true; err == nil {
				f.Forecast = *each[0]
				a.say("foresaw new=%d gone=%d", len(f.Findings.New), len(f.Findings.Gone))
			}
			fs.busy, a.again = false, true
		})
	}()
	return f
}

// text says a forecast in a line.
func (f *forecast) text() string {
	switch {
	case f == nil || !f.done:
		return "Looking what this would change…"
	case f.err != nil:
		return f.err.Error()
	}
	return fmt.Sprintf("%s would play otherwise; findings: %d new, %d gone, %d as before.", counted(f.Cues, "cue"), len(f.Findings.New), len(f.Findings.Gone), f.Findings.Stay)
}

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
	at := slices.IndexFunc(a.work.findings, func(f rule.Finding) bool { return f.Rule == l.Rule && f.Text == l.Text })
	if at < 0 {
		a.tell("the present plan does not have this finding")
		return
	}
	a.goFinding(at)
}

// deltaText says what the last change did to the findings.
func (w *work) deltaText() string {
	d := w.delta
	switch {
	case w.checks.busy || w.checks.done != w.plan:
		return "Checking…"
	case d == nil:
		return "No change yet since the show was opened or the night was chosen. Now: " + w.summary() + "."
	}
	return fmt.Sprintf("Findings after the last change: %d new, %d gone, %d as before.", len(d.New), len(d.Gone), d.Stay)
}
