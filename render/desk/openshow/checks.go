package openshow

import (
	"cmp"
	"slices"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/shows/report/changed"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// checks runs the rules beside the window: one check at a time, and after it the newest plan only. Its fields belong to the window.
type checks struct {
	busy  bool
	facts rule.Facts     // of the recordings, as looked at last
	known bool           // they hold; false asks to look again
	asked *timeline.Plan // checked, or being checked
	done  *timeline.Plan // that the findings are of
}

// Check has the plan checked unless that has been asked for. During a gesture it waits: findings that flicker under the pointer help
// nobody, and the plan drawn is provisional.
func (w *Work) Check() {
	if w.Tried != nil || w.checks.busy || w.checks.asked == w.Plan {
		return
	}
	plan, facts, known := w.Plan, w.checks.facts, w.checks.known
	was, before := w.checks.done, w.Findings
	w.checks.busy, w.checks.asked, w.checks.known = true, plan, true
	w.running.Add(1)
	go func() {
		defer w.running.Done()
		if !known {
			facts = w.Session.Facts(w.life)
		}
		found := w.Session.CheckPlan(plan, facts)
		delta := deltaOf(was, plan, before, found)
		w.window.Post(func() {
			w.checks.busy, w.checks.facts, w.checks.done, w.Delta = false, facts, plan, delta
			w.window.Again()
			if w.life.Err() == nil {
				w.take(found)
				w.window.Log("checked findings=%d", len(found))
			}
		})
	}()
}

// Checked reports whether the findings are those of the plan that is drawn.
func (w *Work) Checked() bool { return !w.checks.busy && w.checks.done == w.Plan }

// CheckAgain has the plan checked anew, with another look at the recordings.
func (w *Work) CheckAgain() { w.checks.asked, w.checks.known = nil, false }

// deltaOf gives which findings came and went with a change of the show; nil where it was no change but another night, or the first look.
func deltaOf(was, is *timeline.Plan, before, after []rule.Finding) *changed.FindingsDiff {
	if was == nil || nightID(was) != nightID(is) {
		return nil
	}
	return changed.NewFindingsDiff(was, is, before, after)
}

func nightID(p *timeline.Plan) timeline.ID {
	if p.Night == nil {
		return ""
	}
	return p.Night.ID
}

// take keeps new findings.
func (w *Work) take(found []rule.Finding) {
	w.Findings, w.tally, w.groups, w.found = found, nil, nil, nil
	w.Mark()
}

// Mark makes the findings of the song in view ready for drawing.
func (w *Work) Mark() {
	w.Here = w.Here[:0]
	accepted := 0
	for i := range w.Findings {
		switch f := &w.Findings[i]; {
		case f.Song != w.Song || w.Song == "":
		case f.Accepted != nil:
			accepted++
		default:
			w.Here = append(w.Here, i)
		}
	}
	slices.SortStableFunc(w.Here, func(i, j int) int {
		a, b := &w.Findings[i], &w.Findings[j]
		return cmp.Or(cmp.Compare(flag(a.HasTime), flag(b.HasTime)), cmp.Compare(a.At, b.At), cmp.Compare(render.SeverityOf(a.Severity), render.SeverityOf(b.Severity)))
	})
	list := make([]render.Mark, len(w.Here))
	for k, i := range w.Here {
		list[k] = markOf(&w.Findings[i], w.Plan.Rate)
	}
	w.Marks = render.NewMarks(list, render.Looked(w.Plan.Show, accepted))
}

func flag(on bool) int {
	if on {
		return 1
	}
	return 0
}

func markOf(f *rule.Finding, rate timeline.Rate) render.Mark {
	m := render.Mark{Severity: render.SeverityOf(f.Severity), Rule: f.Rule, Text: f.Text, Where: page.Where(f, rate)}
	if f.HasTime {
		m.At = render.Instant{At: f.At, On: true}
	}
	switch f.Ref.Kind {
	case "cue":
		m.Cue = f.Ref.ID
	case "lane":
		m.Lane = f.Ref.ID
	}
	return m
}
