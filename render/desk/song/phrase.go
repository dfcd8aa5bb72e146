package song

import (
	"errors"
	"slices"

	"emberbeat/render/desk/page"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

func (sp *Page) needPhrase() string {
	if why := sp.NeedSongEdit(); why != "" {
		return why
	}
	if len(sp.work().Show.Rig.Placed) == 0 {
		return "no effect is placed yet: place one on the page Placed effects first"
	}
	return ""
}

func (sp *Page) needPhraseRow() string {
	if why := page.NeedChosenEdit(sp.h); why != "" {
		return why
	}
	if sp.h.Chosen()[0].Kind != "phrase" {
		return "choose a phrase on the page Phrases first"
	}
	return ""
}

// phraseMeant gives the phrase that is to be run again: the chosen one of the page, or the one that all selected cues belong to; nil for a
// new one.
func (sp *Page) phraseMeant() (song timeline.ID, p *timeline.Phrase) {
	if sp.h.InView() != "" {
		if len(sp.h.Chosen()) > 0 && sp.h.Chosen()[0].Kind == "phrase" {
			r := sp.h.Chosen()[0]
			p, _ = page.Find(sp.work().Show, r).(*timeline.Phrase)
			return r.Song, p
		}
		return sp.work().Song, nil
	}
	for i, c := range sp.work().Selected() {
		of, _ := page.Find(sp.work().Show, timeline.Ref{Kind: "phrase", Song: sp.work().Song, ID: c.Group}).(*timeline.Phrase)
		if of == nil || i > 0 && of != p {
			return sp.work().Song, nil
		}
		p = of
	}
	return sp.work().Song, p
}

// askPhrase asks for a phrase, or for other settings of one.
func (sp *Page) askPhrase(o *operation.Operation) {
	songID, old := sp.phraseMeant()
	song := sp.work().Show.Programmed(sp.work().Show.Song(songID))
	if song == nil {
		return
	}
	p := timeline.KindOf("phrase").New(sp.work().NewIDs()("phrase", songID)).(*timeline.Phrase)
	title, button, again := "Phrase in "+song.FullTitle(), "", ""
	if old != nil {
		p, title, button, again = old, "Run "+old.Title()+" again", "Run again", string(old.ID)
	} else {
		sp.beginPhrase(song, p)
	}
	given := map[string]string{"group": string(p.Group), "lane": string(p.Lane), "new-lane": page.NameOf(sp.work().Show, []string{"group", "placed"}, "", p.Group)}
	kind := timeline.KindOf("phrase")
	for _, name := range []string{"shape", "order", "at", "every", "open", "level", "seed", "name"} {
		given[name] = kind.Field(name).Get(p).Text
	}
	given["until"] = kind.Field("to").Get(p).Text
	sp.h.AskFor(o, timeline.Ref{Kind: "song", ID: songID}, page.Form{Title: title, Button: button, Given: given,
		Begin: func(args any) { args.(*operation.Phrasing).Again = again },
		Choices: map[string]func() []page.Choice{"group": sp.phraseTargets, "lane": func() []page.Choice {
			return phraseLanes(sp.work().Show, sp.work().Show.Programmed(sp.work().Show.Song(songID)))
		}},
		Off: map[string]func(any) string{"new-lane": func(args any) string {
			if args.(*operation.Phrasing).Lane != "" {
				return "choose a new lane to name it"
			}
			return ""
		}},
		Offer: fasterPhrase,
		Lines: []string{"Phrase… with one of them selected runs it again with other settings."}})
}

// beginPhrase gives a new phrase its places and lane: the loop or two bars from the playhead, on the lane in focus.
func (sp *Page) beginPhrase(song *timeline.Song, p *timeline.Phrase) {
	v := sp.work().View()
	from, to := v.Playhead, timeline.Time(0)
	if v.Loop.To > v.Loop.From {
		from, to = v.Loop.From, v.Loop.To
	}
	beats := song.Beats
	if beats.Empty() {
		p.At, p.Until, p.Every = timeline.AtTime(from), timeline.AtTime(max(to, from+4*timeline.Second)), timeline.Stride{Time: timeline.Second / 2}
	} else {
		at := beats.Snap(from, timeline.NewRat(1, 1))
		end := timeline.BarBeat{Bar: at.Bar + 2, Beat: at.Beat}
		if to > 0 {
			end = beats.Snap(to, timeline.NewRat(1, 1))
		}
		p.At, p.Until = timeline.AtBar(at), timeline.AtBar(end)
	}
	if l := song.Lane(v.Focus); l != nil && !l.Window() && !l.Locked {
		p.Lane, p.Group = l.ID, l.Target
	}
}

// phraseTargets lists over what a phrase can run: groups first, then single effects.
func (sp *Page) phraseTargets() []page.Choice {
	var list []page.Choice
	for _, g := range sp.work().Show.Rig.Groups {
		list = append(list, page.Choice{Value: string(g.ID), Name: sp.work().Show.Called(g) + "  (group)"})
	}
	for _, p := range sp.work().Show.Rig.Placed {
		list = append(list, page.Choice{Value: string(p.ID), Name: sp.work().Show.Called(p)})
	}
	return list
}

// phraseLanes lists on which lanes of a song its cues can stand; the first choice makes one.
func phraseLanes(show *timeline.Show, song *timeline.Song) []page.Choice {
	list := []page.Choice{{Name: "a new lane"}}
	if song == nil {
		return list
	}
	for _, l := range song.Lanes {
		if !l.Window() {
			list = append(list, page.Choice{Value: string(l.ID), Name: page.LaneName(show, l)})
		}
	}
	return list
}

// fasterPhrase offers the fastest division that works in the place of one that is too fast.
func fasterPhrase(err error) *page.Offer {
	var fast *timeline.TooFastError
	if !errors.As(err, &fast) || fast.Fastest == nil {
		return nil
	}
	every := fast.Fastest.String()
	return &page.Offer{Label: "Every " + every, Texts: map[string]string{"every": every}}
}

// removePhrase takes the chosen phrases and their cues out as one step.
func (sp *Page) removePhrase(o *operation.Operation) {
	sp.h.Carry(o, timeline.Ref{}, &operation.Unphrasing{Phrases: slices.Clone(sp.h.Chosen())})
}

// goPhrase shows the cues of the chosen phrase on the timeline.
func (sp *Page) goPhrase() {
	r := sp.h.Chosen()[0]
	p, ok := page.Find(sp.work().Show, r).(*timeline.Phrase)
	if !ok {
		return
	}
	sp.h.Turn("")
	sp.GoSong(r.Song)
	var ids []timeline.ID
	song := sp.work().InView()
	for _, c := range song.Cues {
		if c.Group == r.ID {
			ids = append(ids, c.ID)
		}
	}
	sp.work().View().Choose(ids...)
	if t, ok := p.At.In(song.Beats); ok {
		sp.Seek(t)
		sp.Reveal()
	}
}
