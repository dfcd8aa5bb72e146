package app

import (
	"strings"

	"emberbeat/shows/report/load"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// askAfterShow asks what became of a night.
func (a *App) askAfterShow(on timeline.Ref) {
	o := operation.Find("aftershow", "")
	a.askOperation(o, on, formSpec{
		about: "Outputs are written bank:output, such as bank A:7, by name or id, several with ; between. What was entered before stays where nothing else is said.",
		show: func(a *App, args any) outcome {
			edit, err := o.Edit(a.operationAt(on), args)
			if err != nil {
				return outcome{err: err}
			}
			next, err := a.work.s.Show().Edit(edit)
			if err != nil {
				return outcome{err: err}
			}
			var b strings.Builder
			if err := load.NewAfterReport(timeline.Compile(next, next.Night(on.ID))).WriteText(&b); err != nil {
				return outcome{err: err}
			}
			return outcome{lines: strings.Split(strings.TrimRight(b.String(), "\n"), "\n")}
		}})
}
