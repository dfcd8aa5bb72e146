package app

import (
	"fmt"
	"image"
	"slices"

	"emberbeat/render"
	"emberbeat/render/widget"
	"emberbeat/shows/sheet"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// forecast says what a change would come to before it is made: how many cues play otherwise, and which findings come and go.
type forecast struct {
	key  string
	base *timeline.Plan
	diff *sheet.FindingsDiff
	cues int
	err  error
	done bool
}

// forecasts makes forecasts beside the window, one at a time. Checker and compiler belong to whichever goroutine runs.
type forecasts struct {
	now      *forecast
	busy     bool
	checker  *rule.Checker
	compiler *timeline.Compiler
}

// foresee gives the forecast for edits; key names what they do, so that the same are not looked at twice. As long as it is not done, the
// newest one that is, or nil, stands in its place.
func (a *App) foresee(key string, edits ...timeline.Edit) *forecast {
	w := a.work
	fs := &w.forecasts
	if fs.now != nil && fs.now.key == key && fs.now.base == w.plan || fs.busy {
		return fs.now
	}
	if w.checks.busy || w.checks.done != w.plan || w.trial != nil {
		return nil // what there is now is not known yet
	}
	f := &forecast{key: key, base: w.plan}
	show, err := w.s.Show().Edit(edits...)
	if err != nil {
		f.err, f.done = err, true
		fs.now = f
		return f
	}
	if fs.checker == nil {
		fs.checker, fs.compiler = rule.NewChecker(), timeline.NewCompiler()
	}
	fs.now, fs.busy = f, true
	a.foreseen(f, show, w.findings, w.checks.facts)
	return f
}

// foreseen checks what a show would be, beside the window.
func (a *App) foreseen(f *forecast, show *timeline.Show, before []rule.Finding, facts rule.Facts) {
	w := a.work
	fs, night := &w.forecasts, w.night
	w.running.Add(1)
	go func() {
		defer w.running.Done()
		plan := fs.compiler.Compile(show, show.Night(night))
		diff := sheet.NewFindingsDiff(f.base, plan, before, fs.checker.Check(plan, facts))
		cues := cuesOtherwise(f.base, plan)
		a.post(func() {
			f.diff, f.cues, f.done = diff, cues, true
			fs.busy, a.again = false, true
			a.say("foresaw new=%d gone=%d", len(diff.New), len(diff.Gone))
		})
	}()
}

// cuesOtherwise counts the cues that two plans do not play alike: on other units, with another article, or not at all.
func cuesOtherwise(was, is *timeline.Plan) int {
	old, now := cuesPlayed(was), cuesPlayed(is)
	n := 0
	for cue, text := range old {
		if now[cue] != text {
			n++
		}
	}
	for cue := range now {
		if _, ok := old[cue]; !ok {
			n++
		}
	}
	return n
}

// cuesPlayed says of each cue of a plan what it plays where.
func cuesPlayed(p *timeline.Plan) map[timeline.Ref]string {
	all := map[timeline.Ref]string{}
	for i := range p.Songs {
		ps := &p.Songs[i]
		for k := range ps.Commands {
			c := &ps.Commands[k]
			ref := timeline.Ref{Kind: "cue", Song: ps.Song.ID, ID: c.Cue.ID}
			all[ref] += string(c.Unit.Placed.ID) + "=" + string(c.Article.ID) + " "
		}
	}
	return all
}

// text says a forecast in a line.
func (f *forecast) text() string {
	switch {
	case f == nil || !f.done:
		return "Looking what this would change…"
	case f.err != nil:
		return f.err.Error()
	}
	return fmt.Sprintf("%s would play otherwise; findings: %d new, %d gone, %d as before.", counted(f.cues, "cue"), len(f.diff.New), len(f.diff.Gone), f.diff.Stay)
}

// diffRow is a line of a difference of findings.
type diffRow struct {
	word string // "new" or "gone"
	line *sheet.FindingLine
}

func diffRows(d *sheet.FindingsDiff) []diffRow {
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
func (a *App) diffTable(key string, r image.Rectangle, sel *widget.Selection, d *sheet.FindingsDiff, empty string) {
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
				s.Badge(image.Pt(r.Min.X, (r.Min.Y+r.Max.Y-s.Px(render.BadgeSize))/2), severity(rows[row].line.Severity))
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
func (a *App) goFindingLine(l *sheet.FindingLine) {
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
