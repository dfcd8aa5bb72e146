package app

import (
	"cmp"
	"fmt"
	"slices"

	"emberbeat/render"
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

// check has the plan checked unless that has been asked for. During a gesture it waits: findings that flicker under the pointer help
// nobody, and the plan drawn is provisional.
func (a *App) check() {
	w := a.work
	if w.tried != nil || w.checks.busy || w.checks.asked == w.plan {
		return
	}
	plan, facts, known := w.plan, w.checks.facts, w.checks.known
	was, before := w.checks.done, w.findings
	w.checks.busy, w.checks.asked, w.checks.known = true, plan, true
	w.running.Add(1)
	go func() {
		defer w.running.Done()
		if !known {
			facts = w.s.Facts(w.life)
		}
		found := w.s.CheckPlan(plan, facts)
		delta := deltaOf(was, plan, before, found)
		a.post(func() {
			w.checks.busy, w.checks.facts, w.checks.done, w.delta = false, facts, plan, delta
			if a.again = true; a.work == w {
				w.take(found)
				a.say("checked findings=%d", len(found))
			}
		})
	}()
}

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
func (w *work) take(found []rule.Finding) {
	w.findings, w.tally = found, nil
	w.mark()
}

// mark makes the findings of the song in view ready for drawing.
func (w *work) mark() {
	w.here = w.here[:0]
	for i := range w.findings {
		if f := &w.findings[i]; f.Song == w.song && w.song != "" && f.Accepted == nil {
			w.here = append(w.here, i)
		}
	}
	slices.SortStableFunc(w.here, func(i, j int) int {
		a, b := &w.findings[i], &w.findings[j]
		return cmp.Or(cmp.Compare(flag(a.HasTime), flag(b.HasTime)), cmp.Compare(a.At, b.At), cmp.Compare(render.SeverityOf(a.Severity), render.SeverityOf(b.Severity)))
	})
	list := make([]render.Mark, len(w.here))
	for k, i := range w.here {
		list[k] = markOf(&w.findings[i], w.plan.Rate)
	}
	w.marks = render.NewMarks(list, counted(len(rule.Rules()), "rule")+" looked")
}

func flag(on bool) int {
	if on {
		return 1
	}
	return 0
}

func markOf(f *rule.Finding, rate timeline.Rate) render.Mark {
	m := render.Mark{Severity: render.SeverityOf(f.Severity), Rule: f.Rule, Text: f.Text, Where: where(f, rate)}
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

// where says in words where a finding stands.
func where(f *rule.Finding, rate timeline.Rate) string {
	switch {
	case f.HasBar && f.HasTime:
		bar, beat := f.Bar.Spoken()
		return fmt.Sprintf("bar %s beat %s  %s", bar, beat, rate.Label(f.Frame))
	case f.HasTime:
		return rate.Label(f.Frame)
	}
	return ""
}
