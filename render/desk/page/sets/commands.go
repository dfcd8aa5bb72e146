package sets

import (
	"slices"
	"strconv"

	"emberbeat/render/desk/page"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// needPage says why nothing can be done with sets here.
func (p *Sets) needPage() string {
	if why := page.NeedShow(p.h); why != "" {
		return why
	}
	if p.h.InView() != ID {
		return "turn to the page of sets first, with " + p.h.Key("book-sets")
	}
	return page.NeedEdit(p.h)
}

func (p *Sets) needSet() string {
	if why := p.needPage(); why != "" {
		return why
	}
	if p.Shown() == nil {
		return "the show has no set yet: make one with the button New set"
	}
	return ""
}

func (p *Sets) needEntry() string {
	if why := p.needSet(); why != "" {
		return why
	}
	if len(p.chosen()) == 0 {
		return "choose a song of the running order first"
	}
	return ""
}

func (p *Sets) needVersion() string {
	if why := p.needEntry(); why != "" {
		return why
	}
	if len(p.h.Show().Versions(p.first().Song)) < 2 {
		return page.NoVersions
	}
	return ""
}

func (p *Sets) needEntries() string {
	if why := p.needEntry(); why != "" {
		return why
	}
	if len(p.chosen()) < 2 {
		return "choose two songs or more, with Ctrl or Shift: one of them will be played"
	}
	return ""
}

func (p *Sets) needOther() string {
	if why := p.needSet(); why != "" {
		return why
	}
	if p.Shown() == p.h.Plan().Set {
		return "it is the one that is played already"
	}
	return ""
}

// add makes a set of all songs by timecode.
func (p *Sets) add(o *operation.Operation) {
	x := &operation.NewSet{Name: "Set " + strconv.Itoa(len(p.h.Show().Sets)+1)}
	for _, s := range p.h.Show().SongsByStart() {
		x.Songs = append(x.Songs, s.ID)
	}
	x.ID = p.h.NewIDs()("set", "")
	if p.h.Carry(o, timeline.Ref{}, x) {
		p.Show(x.ID)
	}
}

// copy makes a copy of the set shown, with all that it holds.
func (p *Sets) copy() {
	x := &operation.NewSet{Name: p.Shown().Name + " copy", Like: p.Shown().ID, ID: p.h.NewIDs()("set", "")}
	if p.h.Carry(operation.Find("set", "new"), timeline.Ref{}, x) {
		p.Show(x.ID)
	}
}

func (p *Sets) remove() {
	if p.h.Do("remove "+p.Shown().Name, page.Remove(p.on())) {
		p.Show("")
	}
}

// play makes the set on the page the one that is played: on the night chosen, else on the tour.
func (p *Sets) play() {
	set := p.Shown()
	if n := p.h.Plan().Night; n != nil {
		p.h.Do("play "+set.Name+" on "+n.Name, timeline.EditNight(n.ID, func(_ *timeline.Show, n *timeline.Night) error { n.Set = set.ID; return nil }))
		return
	}
	page.UseSet(p.h, set)
}

func (p *Sets) commands() []page.Command {
	does := func(name string, c page.Command, run func(*operation.Operation)) page.Command {
		o := operation.Find("set", name)
		c.Run = func() { run(o) }
		return page.Does(o, c)
	}
	toggle := func(run func()) func(*operation.Operation) { return func(*operation.Operation) { run() } }
	return []page.Command{
		page.Does(operation.Find("refill", ""), page.Command{Off: p.needRefill, Run: p.askRefill}),
		does("new", page.Command{Off: p.needPage}, p.add),
		{ID: "set-copy", Name: "Copy set", Help: "makes a copy of the running order shown", Off: p.needSet, Run: p.copy},
		{ID: "set-remove", Name: "Remove set", Help: "takes the running order shown out of the show; its songs stay", Off: p.needSet, Run: p.remove},
		{ID: "set-play", Name: "Play this set", Help: "makes the running order shown the one of the night chosen, or of the tour", Off: p.needOther, Run: p.play},
		does("in", page.Command{ID: "set-songs", Off: p.needSet}, p.askSongs),
		{ID: "set-up", Name: "Song earlier", Help: "moves the chosen song one place up", Off: p.needEntry, Repeats: true, Run: func() { p.moveBy(-1) }},
		{ID: "set-down", Name: "Song later", Help: "moves the chosen song one place down", Off: p.needEntry, Repeats: true, Run: func() { p.moveBy(1) }},
		does("move", page.Command{Off: p.needEntry}, p.askPlace),
		does("order", page.Command{Off: p.needEntry}, p.do),
		does("out", page.Command{Off: p.needEntry}, toggle(p.toggleOut)),
		does("gap", page.Command{Off: p.needEntry}, p.askGap),
		does("encore", page.Command{Keys: []string{"E"}, Off: p.needEntry}, toggle(p.toggleEncore)),
		does("alternatives", page.Command{ID: "set-join", Off: p.needEntries}, p.do),
		does("paste", page.Command{Off: p.needSet}, p.askPaste),
		does("version", page.Command{Off: p.needVersion}, p.askVersion),
		{ID: "set-part", Name: "No alternatives", Help: "plays the chosen songs whatever else is played", Off: p.needEntry, Run: p.part},
		{ID: "set-take", Name: "Take out", Help: "takes the chosen songs out of the running order; the show keeps them", Off: p.needEntry, Run: p.take},
	}
}

// acts bind keys of the timeline to commands of the page.
func acts(commands []page.Command) map[string]page.Act {
	acts := map[string]page.Act{}
	for key, id := range map[string]string{"lane-above": "set-up", "lane-below": "set-down", "disable": "set-out", "group": "set-join", "ungroup": "set-part",
		"delete": "set-take", "row-remove": "set-take", "row-add": "set-songs", "duplicate": "set-copy", "row-copy": "set-copy"} {
		at := slices.IndexFunc(commands, func(c page.Command) bool { return c.ID == id })
		acts[key] = commands[at].Act()
	}
	return acts
}
