package app

import (
	"emberbeat/render/desk/page"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// refillCommands plan what supplies get during a show.
func refillCommands() []command {
	return []command{operationCommand("refill", "", command{off: needRefill}, (*App).askRefill)}
}

// needRefill says why no refill can be planned.
func needRefill(a *App) string {
	if why := needEdit(a); why != "" {
		return why
	}
	if len(a.work.shown.Rig.Supplies) == 0 {
		return "the rig has no supply yet: add one on the page Supplies"
	}
	return ""
}

// askRefill asks for a refill of the chosen supply, in the set on tour or for the night in view.
func (a *App) askRefill(o *operation.Operation) {
	given := map[string]string{}
	if a.inBook() != nil && len(a.book.refs) > 0 && a.book.refs[0].Kind == "supply" {
		given["supply"] = string(a.book.refs[0].ID)
	}
	a.AskFor(o, timeline.Ref{}, page.Form{Given: given, Off: map[string]func(any) string{"leave-out": func(any) string { return page.NeedNight(a, "the night that leaves out a refill of its set") }}})
}
