package app

import (
	"emberbeat/render/desk/page"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// needAsides says why nothing can be brought back, or nothing.
func needAsides(a *App) string {
	if off := needEdit(a); off != "" {
		return off
	}
	for _, g := range a.work.Show.Songs {
		if len(g.Asides) > 0 {
			return ""
		}
	}
	return "nothing is set aside in any song"
}

// askBringBack chooses among what was set aside, that of the song in view first.
func (a *App) askBringBack(o *operation.Operation) {
	var choices []page.Choice
	add := func(g *timeline.Song) {
		for _, x := range g.Asides {
			choices = append(choices, page.Choice{Value: string(g.ID) + "/" + string(x.ID), Name: x.Title() + " of " + g.FullTitle()})
		}
	}
	in := a.work.InView()
	if in != nil {
		add(in)
	}
	for _, g := range a.work.Show.Songs {
		if g != in {
			add(g)
		}
	}
	lanes := []page.Choice{{Name: "its own"}}
	if in != nil {
		for _, l := range in.Lanes {
			lanes = append(lanes, page.Choice{Value: string(l.ID), Name: l.Name})
		}
	}
	a.AskFor(o, timeline.Ref{}, page.Form{Choices: map[string]func() []page.Choice{
		"aside": func() []page.Choice { return choices }, "lane": func() []page.Choice { return lanes }}})
}

// needRecording asks for a song in view that has a recording, and can be changed.
func needRecording(a *App) string {
	if why := needEdit(a); why != "" {
		return why
	}
	if why := needSong(a); why != "" {
		return why
	}
	if a.work.Show.Song(a.work.Song).Audio.FileHash == "" {
		return "the song in view has no recording, so it was not carried over to one"
	}
	return ""
}

// undoCarrying makes the song in view what it was before it was carried over.
func (a *App) undoCarrying() {
	a.doOperation(operation.Find("carry", ""), timeline.Ref{}, &operation.Carrying{Undo: []timeline.ID{a.work.Song}})
}
