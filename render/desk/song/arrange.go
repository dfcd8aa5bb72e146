package song

import (
	"strings"

	"emberbeat/render/desk/page"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// ArrangeCommands make versions of a song and say whose cues they play.
func (sp *Page) ArrangeCommands() []page.Command {
	ask := func(name string, off func() string, form func() page.Form) page.Command {
		o := operation.Find("arrange", name)
		return page.Does(o, page.Command{Group: "Cue", Off: off, Run: func() { sp.h.AskFor(o, timeline.Ref{}, form()) }})
	}
	copies, arms := operation.Find("copy", ""), operation.Find("arms", "")
	return []page.Command{
		page.Does(arms, page.Command{Group: "Cue", Off: sp.NeedSongEdit, Run: func() {
			sp.h.AskFor(arms, timeline.Ref{}, page.Form{Given: map[string]string{"songs": string(sp.work().Song)}})
		}}),
		page.Does(copies, page.Command{ID: "copy-cues", Group: "Cue", Off: sp.NeedSongEdit, Run: func() { sp.askCopy(copies) }}),
		ask("new", sp.NeedSongEdit, func() page.Form {
			return page.Form{Given: map[string]string{"song": string(sp.work().Song)}}
		}),
		ask("share", sp.needVersion, sp.versionForm),
		ask("separate", sp.needVersion, sp.versionForm),
		ask("without", sp.needVersion, func() page.Form {
			f := sp.versionForm()
			var ids []string
			for _, c := range sp.work().Selected() {
				ids = append(ids, string(sp.work().InView().RefOf("cue", c.ID).ID))
			}
			f.Given["cues"] = strings.Join(ids, "; ")
			return f
		}),
		ask("map", sp.needVersion, func() page.Form {
			f := sp.versionForm()
			if song := sp.work().InView(); song.VersionOf != "" {
				f.Given["runs"] = timeline.KindOf("song").Field("map").Get(&song.SongHead).String()
			}
			return f
		}),
	}
}

// askCopy asks for cues of the song in view that another song is to get: of the bars of the selection, where there is one.
func (sp *Page) askCopy(o *operation.Operation) {
	song := sp.work().InView()
	given := map[string]string{"from": string(song.ID), "to": string(song.ID)}
	if list := sp.work().Selected(); len(list) > 0 && !song.Beats.Empty() {
		first, _ := list[0].At.In(song.Beats)
		last, _ := list[len(list)-1].At.In(song.Beats)
		given["bars"] = timeline.Bars{First: song.Beats.Named(first).Bar, Last: song.Beats.Named(last).Bar}.String()
	}
	sp.h.AskFor(o, timeline.Ref{}, page.Form{Given: given})
}

// needVersion asks for a song that is a version of another.
func (sp *Page) needVersion() string {
	if why := sp.NeedSongEdit(); why != "" {
		return why
	}
	if len(sp.versions()) == 0 {
		return "the show has no version of a song yet: make one with " + operation.Find("arrange", "new").Menu
	}
	return ""
}

// versions lists the songs that are versions of others.
func (sp *Page) versions() []page.Choice {
	var list []page.Choice
	for _, g := range sp.work().Show.SongsByStart() {
		if g.VersionOf != "" {
			list = append(list, page.Choice{Value: string(g.ID), Name: g.FullTitle()})
		}
	}
	return list
}

// versionForm is about the song in view, where it is a version.
func (sp *Page) versionForm() page.Form {
	f := page.Form{Given: map[string]string{}, Choices: map[string]func() []page.Choice{"song": sp.versions}}
	if song := sp.work().InView(); song != nil && song.VersionOf != "" {
		f.Given["song"] = string(song.ID)
	}
	return f
}
