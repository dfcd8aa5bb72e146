package app

import (
	"image"
	"strconv"

	"emberbeat/timeline"
)

// phrasePages is the page of the figures over groups.
func phrasePages() []page {
	spec := &ledgerSpec{id: "phrases", list: phrasesListed, buttons: []string{"phrase", "phrase-go", "phrase-remove"},
		empty: "No phrase yet. Press P to run a figure over a group: a chase, a fan, a mirror at a division of the beat.",
		note:  "A change in the inspector keeps the settings; Phrase… runs the chosen phrase again with them and makes its cues anew."}
	return []page{{id: "phrases", name: "Phrases", part: "Cues", keys: []string{"Ctrl+5"}, kind: "phrase", help: "figures over groups and the settings their cues were made with",
		acts: map[string]act{"row-add": {needPhrase, (*App).askPhrase}, "delete": {needPhraseRow, (*App).removePhrase}, "row-remove": {needPhraseRow, (*App).removePhrase}},
		draw: func(a *App, r image.Rectangle) {
			if spec.columns == nil {
				spec.columns = phraseColumns()
			}
			a.ledger(r, spec)
		}}}
}

// phrasesListed gives the phrases of all songs in the order of the setlist.
func phrasesListed(a *App) []entry {
	var list []entry
	for _, s := range a.work.setlist() {
		for _, p := range s.Phrases {
			list = append(list, entry{key: string(s.ID) + "/" + string(p.ID), ref: timeline.Ref{Kind: "phrase", Song: s.ID, ID: p.ID}, rec: p})
		}
	}
	return list
}

func phraseColumns() []column {
	title := column{title: "Phrase", width: 170, text: func(_ *App, e *entry) string { return e.rec.(*timeline.Phrase).Title() }}
	song := column{title: "Song", width: 150, text: func(a *App, e *entry) string { return a.nameOf([]string{"song"}, "", e.ref.Song) }}
	cues := column{title: "Cues", width: 56, right: true, text: func(a *App, e *entry) string {
		n := 0
		if s := a.work.shown.Song(e.ref.Song); s != nil {
			for _, c := range s.Cues {
				n += flag(c.Group == e.ref.ID)
			}
		}
		return strconv.Itoa(n)
	}}
	return []column{title, song, fieldColumn("phrase", "lane", 130), fieldColumn("phrase", "target", 130), fieldColumn("phrase", "shape", 84), fieldColumn("phrase", "order", 100),
		fieldColumn("phrase", "at", 84), fieldColumn("phrase", "to", 84), fieldColumn("phrase", "every", 84), cues, fieldColumn("phrase", "open", 70), fieldColumn("phrase", "seed", 60)}
}
