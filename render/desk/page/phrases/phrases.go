package phrases

import (
	"image"
	"strconv"

	"emberbeat/render/desk/page"
	"emberbeat/render/desk/page/table"
	"emberbeat/timeline"
)

// ID is that of the page.
const ID = "phrases"

// phrases is the page with what it remembers.
type phrases struct {
	h page.Host
	t *table.Table
}

// New gives the page of phrases.
func New(h page.Host) page.Family {
	p := &phrases{h: h}
	p.t = table.New(h, table.Spec{Columns: p.columns, List: p.listed, Buttons: []string{"phrase", "phrase-go", "phrase-remove"},
		Empty: "No phrase yet. Press P to run a figure over a group: a chase, a fan, a mirror at a division of the beat.",
		Note:  "A change in the inspector keeps the settings; Phrase… runs the chosen phrase again with them and makes its cues anew."})
	remove := page.As(h, "phrase-remove")
	return page.Family{Pages: []page.Page{{ID: ID, Name: "Phrases", Part: "Cues", Keys: []string{"Ctrl+5"}, Kind: "phrase", Help: "figures over groups and the settings their cues were made with",
		Acts: map[string]page.Act{"row-add": page.As(h, "phrase"), "delete": remove, "row-remove": remove},
		Rows: p.t, Draw: func(r image.Rectangle) { p.t.Draw(r) }}}}
}

// listed gives the phrases of all songs in the order of the setlist.
func (p *phrases) listed() []table.Row {
	var list []table.Row
	for _, s := range page.Setlist(p.h.Plan()) {
		for _, x := range s.Phrases {
			list = append(list, table.Row{Key: string(s.ID) + "/" + string(x.ID), Ref: timeline.Ref{Kind: "phrase", Song: s.ID, ID: x.ID}, Record: x})
		}
	}
	return list
}

func (p *phrases) columns() []table.Column {
	title := table.Column{Title: "Phrase", Width: 170, Text: func(e *table.Row) string { return e.Record.(*timeline.Phrase).Title() }}
	song := table.Column{Title: "Song", Width: 150, Text: func(e *table.Row) string { return page.NameOf(p.h.Show(), []string{"song"}, "", e.Ref.Song) }}
	cues := table.Column{Title: "Cues", Width: 56, Right: true, Text: func(e *table.Row) string {
		n := 0
		if s := p.h.Show().Song(e.Ref.Song); s != nil {
			for _, c := range s.Cues {
				if c.Group == e.Ref.ID {
					n++
				}
			}
		}
		return strconv.Itoa(n)
	}}
	return []table.Column{title, song, table.Field(p.h, "phrase", "lane", 130), table.Field(p.h, "phrase", "target", 130), table.Field(p.h, "phrase", "shape", 84), table.Field(p.h, "phrase", "order", 100),
		table.Field(p.h, "phrase", "at", 84), table.Field(p.h, "phrase", "to", 84), table.Field(p.h, "phrase", "every", 84), cues, table.Field(p.h, "phrase", "open", 70), table.Field(p.h, "phrase", "seed", 60)}
}
