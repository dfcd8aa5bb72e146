package app

import (
	"image"
	"strconv"

	"emberbeat/render/desk/page"
	"emberbeat/render/desk/page/table"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// phrasePages is the page of the figures over groups.
func (a *App) phrasePages() []page.Page {
	t := table.New(a, table.Spec{Columns: a.phraseColumns, List: a.phrasesListed, Buttons: []string{"phrase", "phrase-go", "phrase-remove"},
		Empty: "No phrase yet. Press P to run a figure over a group: a chase, a fan, a mirror at a division of the beat.",
		Note:  "A change in the inspector keeps the settings; Phrase… runs the chosen phrase again with them and makes its cues anew."})
	return []page.Page{{ID: "phrases", Name: "Phrases", Part: "Cues", Keys: []string{"Ctrl+5"}, Kind: "phrase", Help: "figures over groups and the settings their cues were made with",
		Acts: map[string]page.Act{"row-add": a.act(needPhrase, func(a *App) { a.askPhrase(operation.Find("phrase", "")) }), "delete": a.act(needPhraseRow, (*App).removePhrase), "row-remove": a.act(needPhraseRow, (*App).removePhrase)},
		Rows: t, Draw: func(r image.Rectangle) { t.Draw(r) }}}
}

// phrasesListed gives the phrases of all songs in the order of the setlist.
func (a *App) phrasesListed() []table.Row {
	var list []table.Row
	for _, s := range a.work.setlist() {
		for _, p := range s.Phrases {
			list = append(list, table.Row{Key: string(s.ID) + "/" + string(p.ID), Ref: timeline.Ref{Kind: "phrase", Song: s.ID, ID: p.ID}, Record: p})
		}
	}
	return list
}

func (a *App) phraseColumns() []table.Column {
	title := table.Column{Title: "Phrase", Width: 170, Text: func(e *table.Row) string { return e.Record.(*timeline.Phrase).Title() }}
	song := table.Column{Title: "Song", Width: 150, Text: func(e *table.Row) string { return a.nameOf([]string{"song"}, "", e.Ref.Song) }}
	cues := table.Column{Title: "Cues", Width: 56, Right: true, Text: func(e *table.Row) string {
		n := 0
		if s := a.work.shown.Song(e.Ref.Song); s != nil {
			for _, c := range s.Cues {
				n += flag(c.Group == e.Ref.ID)
			}
		}
		return strconv.Itoa(n)
	}}
	return []table.Column{title, song, table.Field(a, "phrase", "lane", 130), table.Field(a, "phrase", "target", 130), table.Field(a, "phrase", "shape", 84), table.Field(a, "phrase", "order", 100),
		table.Field(a, "phrase", "at", 84), table.Field(a, "phrase", "to", 84), table.Field(a, "phrase", "every", 84), cues, table.Field(a, "phrase", "open", 70), table.Field(a, "phrase", "seed", 60)}
}
