package nights

import (
	"strings"

	"emberbeat/render/desk/page"
	"emberbeat/shows/calls"
	"emberbeat/shows/report/load"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// askAfterShow asks what became of the night in view, and shows the report that it makes.
func (p *Nights) askAfterShow(o *operation.Operation) {
	on := p.on()
	given, lines := p.called()
	p.h.AskFor(o, on, page.Form{
		Given: given, Lines: lines,
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

// called gives what the log of the calling view offers to be entered, and says that it is no more than an offer.
func (p *Nights) called() (given map[string]string, lines []string) {
	log, err := p.h.Calls()
	if err != nil {
		lines = append(lines, err.Error())
	}
	if len(log) == 0 {
		return nil, lines
	}
	offer := calls.Of(p.h.Plan(), log)
	lines = append(append(lines, "Marked in the calling view:"), offer.Lines...)
	if len(offer.Unfired) == 0 {
		return nil, lines
	}
	return map[string]string{"unfired": offer.Text()}, append(lines, "Not fired is filled in with what was marked missed: look at each of them before it is entered.")
}
