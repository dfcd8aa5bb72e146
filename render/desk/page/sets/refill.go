package sets

import (
	"emberbeat/render/desk/page"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// needRefill says why no refill can be planned.
func (p *Sets) needRefill() string {
	if why := page.NeedEdit(p.h); why != "" {
		return why
	}
	if len(p.h.Show().Rig.Supplies) == 0 {
		return "the rig has no supply yet: add one on the page Supplies"
	}
	return ""
}

// askRefill asks for a refill of the chosen supply, in the set on tour or for the night in view.
func (p *Sets) askRefill() {
	given := map[string]string{}
	if refs := p.h.Chosen(); len(refs) > 0 && refs[0].Kind == "supply" {
		given["supply"] = string(refs[0].ID)
	}
	p.h.AskFor(operation.Find("refill", ""), timeline.Ref{}, page.Form{Given: given, Off: map[string]func(any) string{
		"leave-out": func(any) string { return page.NeedNight(p.h, "the night that leaves out a refill of its set") }}})
}
