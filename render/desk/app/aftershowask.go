package app

import (
	"strings"

	"emberbeat/render/desk/page"
	"emberbeat/shows/report/load"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// askAfterShow asks what became of a night.
func (a *App) askAfterShow(on timeline.Ref) {
	o := operation.Find("aftershow", "")
	a.AskFor(o, on, page.Form{
		About: "Outputs are written bank:output, such as bank A:7, by name or id, several with ; between. What was entered before stays where nothing else is said.",
		Show: func(args any) (out page.Outcome, err error) {
			edit, err := o.Edit(a.operationAt(on), args)
			if err != nil {
				return out, err
			}
			next, err := a.work.s.Show().Edit(edit)
			if err != nil {
				return out, err
			}
			var b strings.Builder
			if err := load.NewAfterReport(timeline.Compile(next, next.Night(on.ID))).WriteText(&b); err != nil {
				return out, err
			}
			out.Lines = strings.Split(strings.TrimRight(b.String(), "\n"), "\n")
			return out, nil
		}})
}
