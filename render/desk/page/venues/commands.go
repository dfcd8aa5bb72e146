package venues

import (
	"fmt"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

func (p *Venues) needVenue() string {
	if why := page.NeedEdit(p.h); why != "" {
		return why
	}
	if p.Shown() == nil {
		return "the show has no venue yet: add one on the page Venues"
	}
	return ""
}

func (p *Venues) needVenueItem() string {
	if why := p.needVenue(); why != "" {
		return why
	}
	if len(operation.VenueItems(p.h.Show(), p.Shown())) == 0 {
		return "nothing is written down of the venue that could be taken back"
	}
	return ""
}

func (p *Venues) needBan() string {
	if why := p.needVenue(); why != "" {
		return why
	}
	if len(p.Shown().Banned) == 0 {
		return "nothing is banned at the venue"
	}
	return ""
}

func (p *Venues) add() {
	p.make(operation.NewVenue{Name: fmt.Sprintf("Venue %d", len(p.h.Show().Venues)+1)})
}

func (p *Venues) copy() {
	p.make(operation.NewVenue{Name: p.Shown().Name + " copy", Like: p.Shown().ID})
}

func (p *Venues) make(v operation.NewVenue) {
	v.ID = p.h.NewIDs()("venue", "")
	if p.h.Carry(operation.Find("venue", "new"), timeline.Ref{}, &v) {
		p.h.Turn(ID)
		p.Show(v.ID)
	}
}

func (p *Venues) remove() {
	v := p.Shown()
	if p.h.Do("remove venue "+v.Name, page.Remove(timeline.Ref{Kind: "venue", ID: v.ID})) {
		p.Show("")
	}
}

// plan shows the venue on the stage plan.
func (p *Venues) plan() {
	p.h.Turn("stage-plan", timeline.Ref{Kind: "venue", ID: p.Shown().ID})
}

// commands change venues, and the rule sets that apply there.
func (p *Venues) commands() []page.Command {
	does := func(verb, name string, off func() string, run func(*operation.Operation)) page.Command {
		o := operation.Find(verb, name)
		return page.Does(o, page.Command{Off: off, Run: func() { run(o) }})
	}
	at := func(name string, off func() string, run func(*operation.Operation)) page.Command {
		return does("venue", name, off, run)
	}
	set := func(name string, off func() string, run func(*operation.Operation)) page.Command {
		return does("ruleset", name, off, run)
	}
	plain := func(o *operation.Operation) { p.h.AskFor(o, timeline.Ref{}, page.Form{}) }
	needEdit := page.With(p.h, page.NeedEdit)
	return []page.Command{
		at("new", needEdit, func(*operation.Operation) { p.add() }),
		{ID: "venue-copy", Name: "Copy venue", Help: "makes a copy of the venue shown", Off: p.needVenue, Run: p.copy},
		{ID: "venue-remove", Name: "Remove venue", Help: "takes the venue shown out of the show", Off: p.needVenue, Run: p.remove},
		{ID: "venue-plan", Name: "On the stage plan", Help: "shows the venue's lines, marks and zones on the stage plan, to be drawn there", Off: p.needVenue, Run: p.plan},
		at("trim", p.needVenue, p.askTrim),
		at("line", p.needVenue, p.ask),
		at("performer", p.needVenue, p.ask),
		at("clear", p.needVenue, p.ask),
		at("quiet", p.needVenue, p.ask),
		at("ban", p.needVenue, p.ask),
		at("allow", p.needBan, p.askAllowed),
		at("condition", p.needVenue, p.ask),
		at("distance", p.needVenue, p.ask),
		{ID: "venue-distance-drop", Name: "Take distance back", Help: "takes the chosen distance of the permit out", Off: p.needPermitAsk, Run: p.dropAsk},
		at("picture", p.needVenue, p.askPicture),
		at("back", p.needVenueItem, p.askBack),
		set("choose", p.needVenue, p.askRuleSet),
		set("add", needEdit, plain),
		set("copy", needEdit, plain),
		set("distance", p.needOwnRuleSet, p.askOwnRuleSet),
	}
}

// askPicture asks which picture lies under the stage plan, and where.
func (p *Venues) askPicture(o *operation.Operation) {
	p.h.AskFor(o, timeline.Ref{Kind: "venue", ID: p.Shown().ID}, page.Form{
		About:   "The picture is copied into the show's folder and drawn pale under the stage plan. No rule looks at it.",
		Caution: "Picture, not measured. " + render.StageCaution,
		Done:    func(args any) { p.h.KeepPicture(args.(*operation.VenuePicture)) },
	})
}

// acts bind keys of the timeline to the page.
func (p *Venues) acts() map[string]page.Act {
	drop, copied := page.Act{Off: p.needPermitAsk, Run: p.dropAsk}, page.Act{Off: p.needVenue, Run: p.copy}
	return map[string]page.Act{"row-add": {Off: page.With(p.h, page.NeedEdit), Run: p.add}, "duplicate": copied, "row-copy": copied, "delete": drop, "row-remove": drop}
}
