package app

import (
	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
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
	spec := formSpec{title: f.Title, about: f.About, caution: f.Caution, given: f.Given, begin: f.Begin, off: f.Off, sets: f.Sets}
	for arg, choices := range f.Choices {
		if spec.choices == nil {
			spec.choices = map[string]func(*App) []formValue{}
		}
		spec.choices[arg] = func(*App) []formValue {
			var list []formValue
			for _, c := range choices() {
				list = append(list, formValue{c.Value, c.Name})
			}
			return list
		}
	}
	if f.Show != nil {
		spec.show = func(_ *App, args any) outcome {
			t, err := f.Show(args)
			return outcome{err: err, head: t.Columns, rows: t.Rows, lines: t.Lines}
		}
	}
	if f.Done != nil {
		spec.done = func(_ *App, args any) { f.Done(args) }
	}
	a.askOperation(o, on, spec)
}

// Summary counts the findings.
func (a *App) Summary() string { return a.work.summary() }

// Delta draws what the last change did to the findings.
func (a *App) Delta(k *widget.Stack, rows *widget.Selection, empty string) {
	a.ui.Label(k.Top(20), render.TypeLabel, render.InkSecondary, a.work.deltaText())
	a.diffTable("diff", k.Rest(), rows, a.work.delta, empty)
}

// Foresee draws what edits would do to them.
func (a *App) Foresee(k *widget.Stack, rows *widget.Selection, key string, edits ...timeline.Edit) {
	f := a.foresee(key, edits...)
	a.ui.Label(k.Top(20), render.TypeLabel, render.InkText, "Here: "+f.text())
	if f != nil && f.done {
		a.diffTable("diff", k.Rest(), rows, f.Findings, "No finding comes or goes.")
	}
}
