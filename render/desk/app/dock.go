package app

import (
	"image"

	"emberbeat/render/desk/page"
	"emberbeat/timeline"
)

// dock shows the stage, on the page of a song, and below it the inspector, or the list of records.
func (a *App) dock(r image.Rectangle) {
	u := a.ui
	a.ground(r)
	a.ruleLeft(r)
	rest := r
	if a.book.at == "" {
		u.Group("stage")
		rest = a.song.Stage(r)
	}
	u.Group("side")
	in := u.Inset(rest, 10)
	if a.panel.records {
		a.inspector.DrawRecords(in)
		return
	}
	a.inspector.Draw(in, a.inspected()...)
}

// inspected gives the records whose fields are shown: the selected cues, else the record last chosen, else the song.
func (a *App) inspected() []timeline.Ref {
	w := a.work
	if a.book.at != "" {
		return a.inspectedInBook()
	}
	if w.Data != nil && len(w.View().Selected) > 0 {
		var refs []timeline.Ref
		for _, c := range w.Selected() {
			refs = append(refs, timeline.Ref{Kind: "cue", Song: w.Song, ID: c.ID})
		}
		return refs
	}
	if r := a.panel.record; r.Kind != "" && find(w.Show, r) != nil {
		return []timeline.Ref{r}
	}
	if w.Song != "" {
		return []timeline.Ref{{Kind: "song", ID: w.Song}}
	}
	return []timeline.Ref{{Kind: "show", ID: w.Show.Head.ID}}
}

func find(s *timeline.Show, r timeline.Ref) timeline.Record { return page.Find(s, r) }

// nameOf gives the name of the record of one of some kinds with an id.
func (a *App) nameOf(kinds []string, song, id timeline.ID) string {
	return page.NameOf(a.work.Show, kinds, song, id)
}

func upper(s string) string { return page.Upper(s) }

// toInspector brings the focus to the first field of the inspector.
func (a *App) toInspector() {
	a.openDock()
	a.panel.records = false
	a.inspector.Focus()
}
