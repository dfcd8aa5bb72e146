package app

import (
	"image"

	"emberbeat/render/sheet"
	"emberbeat/shows/report"
	"emberbeat/shows/report/night"
	"emberbeat/timeline"
)

// tonightReport is the sheet of the night in view, made beside the window.
type tonightReport struct {
	page   *night.Tonight
	prints []report.PrintState // how the sheets stand to what was printed last
	err    error
	of     *timeline.Plan // that the page is of
	busy   bool
}

// ChooseNight plans for a night.
func (a *App) ChooseNight(id timeline.ID) { a.goNight(id) }

// NightChoice draws the choice of one.
func (a *App) NightChoice(r image.Rectangle) { a.nightChoice(r) }

// Tonight gives the sheet of the plan in view, and why it cannot be made.
func (a *App) Tonight() (*night.Tonight, error) {
	t := a.tonight()
	if e := &a.work.tonightReport; t == nil && e.of == a.work.plan {
		return nil, e.err
	}
	return t, nil
}

// Prints says how the sheets of the night stand to what was printed last.
func (a *App) Prints() []report.PrintState { return a.work.tonightReport.prints }

// tonight gives the sheet of the plan in view; nil as long as it is being made. It is made once the plan has been checked.
func (a *App) tonight() *night.Tonight {
	w := a.work
	e := &w.tonightReport
	if e.of == w.plan {
		return e.page
	}
	if e.busy || w.checks.busy || w.checks.done != w.plan || w.tried != nil {
		return nil
	}
	plan, facts, found := w.plan, w.checks.facts, w.findings
	e.busy = true
	w.running.Add(1)
	go func() {
		defer w.running.Done()
		page, err := night.NewTonight(plan, report.NewFindings(plan, facts, found, nil, report.Filter{}), night.ThinShare, sheet.PrintStates(plan, false))
		prints := sheet.PrintStates(plan, true)
		a.post(func() {
			*e = tonightReport{page: page, prints: prints, err: err, of: plan}
			a.again = true
			a.say("tonight songs=%d", len(plan.Songs))
		})
	}()
	return nil
}
