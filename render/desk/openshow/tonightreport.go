package openshow

import (
	"emberbeat/render/sheet"
	"emberbeat/shows/report"
	"emberbeat/shows/report/night"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// tonightReport is the sheet of the night in view, made beside the window.
type tonightReport struct {
	page   *night.Tonight
	prints []report.PrintState // how the sheets stand to what was printed last
	err    error
	of     *timeline.Plan // that the page is of
	busy   bool
}

// Tonight gives the sheet of the plan in view, and why it cannot be made; neither as long as it is being made. It is made once the plan has
// been checked.
func (w *Work) Tonight() (*night.Tonight, error) {
	e := &w.tonightReport
	if e.of == w.Plan {
		return e.page, e.err
	}
	if e.busy || !w.Checked() || w.Tried != nil {
		return nil, nil
	}
	of, facts, found := w.Plan, w.checks.facts, w.Findings
	e.busy = true
	w.running.Add(1)
	go func() {
		defer w.running.Done()
		plan := of
		if show, on := of.Show.AsPlayed(of.Night); show != of.Show { // a night that is over is read as it was played
			plan = timeline.Compile(show, on)
			facts = facts.For(plan)
			found = rule.Check(plan, facts)
		}
		page, err := night.NewTonight(plan, report.NewFindings(plan, facts, found, nil, report.Filter{}), night.ThinShare, sheet.PrintStates(plan, false))
		prints := sheet.PrintStates(plan, true)
		w.window.Post(func() {
			*e = tonightReport{page: page, prints: prints, err: err, of: of}
			w.window.Again()
			w.window.Log("tonight songs=%d", len(plan.Songs))
		})
	}()
	return nil, nil
}

// Prints says how the sheets of the night stand to what was printed last, as the sheet in view was made.
func (w *Work) Prints() []report.PrintState { return w.tonightReport.prints }
