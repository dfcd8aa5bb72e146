package sets

import (
	"slices"
	"strconv"

	"emberbeat/render/desk/page"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// What is done to the songs of the set shown.

// chosen gives the indices of the chosen entries.
func (p *Sets) chosen() []int {
	set := p.Shown()
	if set == nil {
		return nil
	}
	return slices.DeleteFunc(p.Rows.Rows(), func(i int) bool { return i >= len(set.Entries) })
}

// first gives the first of the chosen entries.
func (p *Sets) first() timeline.Entry { return p.Shown().Entries[p.chosen()[0]] }

// names names entries for the label of a step.
func (p *Sets) names(list []int) string {
	if len(list) != 1 {
		return timeline.Counted(len(list), "song")
	}
	e := p.Shown().Entries[list[0]]
	if s := p.h.Show().Song(e.Song); s != nil {
		return s.FullTitle()
	}
	return string(e.Song)
}

// moveBy moves the chosen entry by places.
func (p *Sets) moveBy(by int) {
	list := p.chosen()
	set := p.Shown()
	to := list[0] + by
	if len(list) != 1 {
		p.h.Tell("choose one song to move it")
		return
	}
	if to < 0 || to >= len(set.Entries) {
		p.h.Tell(p.names(list) + " stands at the end already")
		return
	}
	p.move(list[0], to)
}

func (p *Sets) move(from, to int) {
	if page.MoveEntry(p.h, p.Shown(), from, to) {
		p.Rows.Only(to)
	}
}

// change changes the chosen entries as one step.
func (p *Sets) change(label string, set func(*timeline.Entry)) {
	var edits []timeline.Edit
	for _, i := range p.chosen() {
		edits = append(edits, timeline.EditEntry(p.Shown().ID, i, set))
	}
	p.h.Do(label+" "+p.names(p.chosen()), edits...)
}

// on gives the set shown, as what an operation is done to.
func (p *Sets) on() timeline.Ref { return timeline.Ref{Kind: "set", ID: p.Shown().ID} }

// inSet gives what an operation is told of the chosen entries.
func (p *Sets) inSet(no bool) *operation.InSet {
	x := &operation.InSet{Places: p.chosen(), No: no}
	for _, i := range x.Places {
		x.Songs = append(x.Songs, p.Shown().Entries[i].Song)
	}
	return x
}

// toggleOut leaves the chosen songs out, or brings them in again.
func (p *Sets) toggleOut() {
	name := "out"
	if p.first().Out {
		name = "in"
	}
	p.h.Carry(operation.Find("set", name), p.on(), p.inSet(false))
}

func (p *Sets) toggleEncore() {
	p.h.Carry(operation.Find("set", "encore"), p.on(), p.inSet(p.first().Encore))
}

func (p *Sets) part() {
	p.h.Carry(operation.Find("set", "alternatives"), p.on(), p.inSet(true))
}

// do does an operation at once to the chosen entries.
func (p *Sets) do(o *operation.Operation) { p.h.Carry(o, p.on(), p.inSet(false)) }

// askPlace asks for another number of the chosen song.
func (p *Sets) askPlace(o *operation.Operation) {
	at := p.chosen()[0]
	lines, _ := Lines(p.h.Plan(), p.Shown())
	given := map[string]string{}
	if n := lines[at].Number; n > 0 {
		given["n"] = strconv.Itoa(n)
	}
	song := lines[at].Entry.Song
	p.h.AskFor(o, p.on(), page.Form{Title: o.Title + ": " + p.names([]int{at}), Given: given, Begin: func(x any) { x.(*operation.Place).Song = song }})
}

// askGap asks for the gap after the chosen song.
func (p *Sets) askGap(o *operation.Operation) {
	e := p.first()
	p.h.AskFor(o, p.on(), page.Form{Title: "Gap after " + p.names(p.chosen()[:1]), Given: map[string]string{"seconds": e.Gap.String(), "talk": e.Talk},
		Begin: func(x any) { x.(*operation.Gap).Song = e.Song }})
}

// askVersion asks which version of the chosen song is played in its place.
func (p *Sets) askVersion(o *operation.Operation) {
	song := p.first().Song
	list := func() []page.Choice {
		var all []page.Choice
		for _, g := range p.h.Show().Versions(song) {
			all = append(all, page.Choice{Value: string(g.ID), Name: g.FullTitle()})
		}
		return all
	}
	p.h.AskFor(o, p.on(), page.Form{Given: map[string]string{"song": string(song)}, Choices: map[string]func() []page.Choice{"song": list, "version": list}})
}

// askSongs asks which songs are to be played that are not.
func (p *Sets) askSongs(o *operation.Operation) {
	set := p.Shown()
	if len(p.NotIn()) == 0 {
		p.h.Tell("the set holds every song of the show; add one with " + p.h.Key("import"))
		return
	}
	from := len(set.Entries)
	p.h.AskFor(o, p.on(), page.Form{Choices: map[string]func() []page.Choice{"songs": p.NotIn},
		Done: func(any) {
			if len(p.Shown().Entries) > from {
				p.Rows.Only(from)
			}
		}})
}

// NotIn lists the songs that the set shown does not hold, and those that it leaves out.
func (p *Sets) NotIn() []page.Choice {
	set := p.Shown()
	var list, out []page.Choice
	for _, s := range p.h.Show().SongsByStart() {
		v := page.Choice{Value: string(s.ID), Name: s.FullTitle()}
		switch k := slices.IndexFunc(set.Entries, func(e timeline.Entry) bool { return e.Song == s.ID }); {
		case k < 0:
			list = append(list, v)
		case !slices.ContainsFunc(set.Entries, func(e timeline.Entry) bool { return e.Song == s.ID && !e.Out }):
			v.Name += ", left out"
			out = append(out, v)
		}
	}
	return append(list, out...)
}

// take takes the chosen songs out of the set; the show keeps them.
func (p *Sets) take() {
	list := p.chosen()
	set := p.Shown()
	e := timeline.EditSet(set.ID, func(_ *timeline.Show, s *timeline.Set) error {
		for _, i := range slices.Backward(list) {
			s.Entries = slices.Delete(s.Entries, i, i+1)
		}
		return nil
	})
	if p.h.Do("take "+p.names(list)+" out of "+set.Name, e) {
		p.Rows.Clear()
	}
}
