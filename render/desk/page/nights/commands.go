package nights

import (
	"fmt"

	"emberbeat/render/desk/page"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

func (p *Nights) needNight() string {
	if why := page.NeedEdit(p.h); why != "" {
		return why
	}
	if p.h.Plan().Night == nil {
		why := "choose a night first, at the top right"
		if key := p.h.Key("night"); key != "" {
			why += " or with " + key
		}
		return why
	}
	return ""
}

// needSupply says why nothing can be weighed.
func (p *Nights) needSupply() string {
	if why := p.needNight(); why != "" {
		return why
	}
	if len(p.h.Show().Rig.Supplies) == 0 {
		return "the rig has no supply yet: add one on the page Supplies"
	}
	return ""
}

// needPlug says why nothing can be plugged in elsewhere.
func (p *Nights) needPlug() string {
	if why := p.needNight(); why != "" {
		return why
	}
	if g := p.h.Show().Rig; len(g.Banks)+len(g.Devices) == 0 {
		return "there is no bank or device yet: add one on the page Banks or Devices first"
	}
	return ""
}

// needVersion says why no other version of a song can be played.
func (p *Nights) needVersion() string {
	if why := p.needNight(); why != "" {
		return why
	}
	if !page.HasVersions(p.h.Show()) {
		return page.NoVersions
	}
	return ""
}

func (p *Nights) needRow() string {
	if why := p.needNight(); why != "" {
		return why
	}
	if p.h.InView() != ID || len(p.chosen()) == 0 {
		return "choose a line of the night first, on the page Nights"
	}
	return ""
}

// add makes a night of the tour's set and goes to it.
func (p *Nights) add(o *operation.Operation) {
	n := operation.NewNight{Name: fmt.Sprintf("Night %d", len(p.h.Show().Nights)+1)}
	if len(p.h.Show().Venues) == 1 {
		n.Venue = p.h.Show().Venues[0].ID
	}
	p.make(o, n)
}

// like makes another night that does all that this one does.
func (p *Nights) like() {
	old := p.h.Plan().Night
	p.make(operation.Find("night", "new"), operation.NewNight{Like: old.ID, Name: old.Name + ", another"})
}

func (p *Nights) make(o *operation.Operation, n operation.NewNight) {
	n.ID = p.h.NewIDs()("night", "")
	if p.h.Carry(o, timeline.Ref{}, &n) {
		p.h.ChooseNight(n.ID)
		p.h.Turn(ID)
	}
}

func (p *Nights) remove() {
	n := p.h.Plan().Night
	if p.h.Do("remove night "+n.Name, page.Remove(timeline.Ref{Kind: "night", ID: n.ID})) {
		p.h.ChooseNight("")
	}
}

// commands change one night.
func (p *Nights) commands() []page.Command {
	does := func(verb, name string, c page.Command, run func(*operation.Operation)) page.Command {
		o := operation.Find(verb, name)
		c.Run = func() { run(o) }
		return page.Does(o, c)
	}
	ask := func(name string, c page.Command) page.Command {
		if c.Off == nil {
			c.Off = p.needNight
		}
		return does("night", name, c, p.ask)
	}
	return []page.Command{
		does("night", "new", page.Command{Off: page.With(p.h, page.NeedEdit)}, p.add),
		{ID: "night-like", Name: "Copy night", Help: "makes a night that cuts, swaps and moves what the one in view does", Off: p.needNight, Run: p.like},
		{ID: "night-remove", Name: "Remove night", Help: "takes the night in view out of the show; the tour stays as it is", Off: p.needNight, Run: p.remove},
		ask("cut", page.Command{Keys: []string{"Ctrl+Shift+X"}}),
		ask("swap", page.Command{Keys: []string{"Ctrl+Shift+S"}}),
		ask("out", page.Command{}),
		ask("plug", page.Command{Off: p.needPlug}),
		ask("version", page.Command{Off: p.needVersion}),
		ask("shift", page.Command{}),
		ask("condition", page.Command{}),
		ask("distance", page.Command{}),
		ask("fill", page.Command{Off: p.needSupply}),
		does("aftershow", "", page.Command{Off: p.needNight}, p.askAfterShow),
		does("night", "back", page.Command{ID: "night-drop", Off: p.needRow}, func(*operation.Operation) { p.drop() }),
	}
}

// ask asks for an operation on the night in view.
func (p *Nights) ask(o *operation.Operation) {
	p.h.AskFor(o, p.on(), page.Form{})
}

// on gives the night in view, as what an operation is done to.
func (p *Nights) on() timeline.Ref { return timeline.Ref{Kind: "night", ID: p.h.Plan().Night.ID} }

// acts bind keys of the timeline to the page.
func (p *Nights) acts() map[string]page.Act {
	drop, like := page.Act{Off: p.needRow, Run: p.drop}, page.Act{Off: p.needNight, Run: p.like}
	add := page.Act{Off: page.With(p.h, page.NeedEdit), Run: func() { p.add(operation.Find("night", "new")) }}
	return map[string]page.Act{"delete": drop, "row-remove": drop, "row-add": add, "duplicate": like, "row-copy": like}
}
