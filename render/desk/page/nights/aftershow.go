package nights

import (
	"strings"

	"emberbeat/render/desk/page"
	"emberbeat/shows/report/load"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// askAfterShow asks what became of the night in view, and shows the report that it makes.
func (p *Nights) askAfterShow(o *operation.Operation) {
	on := p.on()
	p.h.AskFor(o, on, page.Form{
		About: "Outputs are written bank:output, such as bank A:7, by name or id, several with ; between. What was entered before stays where nothing else is said.",
		Show: func(args any) (out page.Outcome, err error) {
			edit, err := o.Edit(operation.At{Plan: p.h.Plan(), On: on, NewID: p.h.NewIDs()}, args)
			if err != nil {
				return out, err
			}
			next, err := p.h.Show().Edit(edit)
			if err != nil {
				return out, err
			}
			var b strings.Builder
			if err := load.NewAfterReport(timeline.Compile(next.AsPlayed(next.Night(on.ID)))).WriteText(&b); err != nil {
				return out, err
			}
			out.Lines = strings.Split(strings.TrimRight(b.String(), "\n"), "\n")
			return out, nil
		}})
}
