package app

import (
	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/shows/report"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// What pages of the book need of operations, and of what changes do to the findings.

// Carry does an operation at once.
func (a *App) Carry(o *operation.Operation, on timeline.Ref, args any) bool {
	return a.doOperation(o, on, args)
}

// AskFor opens the form of an operation with what a page adds to it.
func (a *App) AskFor(o *operation.Operation, on timeline.Ref, f page.Form) {
	a.askOperation(o, on, f)
}

// Summary counts the findings.
func (a *App) Summary() string { return a.work.Summary() }

// Groups gives the findings by their cause.
func (a *App) Groups() []report.FindingGroup { return a.work.Groups() }

// Delta draws what the last change did to the findings.
func (a *App) Delta(k *widget.Stack, rows *widget.Selection, empty string) {
	a.ui.Label(k.Top(20), render.TypeLabel, render.InkSecondary, a.work.DeltaText())
	a.diffTable("diff", k.Rest(), rows, a.work.Delta, empty)
}

// Foresee draws what edits would do to them.
func (a *App) Foresee(k *widget.Stack, rows *widget.Selection, key string, edits ...timeline.Edit) {
	f := a.work.Foresee(key, edits...)
	text := "Here: " + f.Text()
	h := a.ui.ParagraphHeight(k.Rest().Dx(), render.TypeLabel, text) * 100 / int(a.Scale())
	a.ui.Paragraph(k.Top(max(h, 20)), render.TypeLabel, render.InkText, text)
	if f != nil && f.Done {
		a.diffTable("diff", k.Rest(), rows, f.Findings, "No finding comes or goes.")
	}
}

// Would says in a line what edits would do, once that is known.
func (a *App) Would(key string, edits ...timeline.Edit) (text string, known bool) {
	f := a.work.Foresee(key, edits...)
	if f == nil || !f.Done || f.Key != key {
		return "", false
	}
	return f.Text(), true
}
