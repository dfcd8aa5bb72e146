package inspector

import (
	"image"

	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// DrawRecords lists one kind of record, so that each can be opened in the inspector, added or taken out.
func (p *Inspector) DrawRecords(r image.Rectangle) {
	u, w := p.h.UI(), p.h.Work()
	kinds := timeline.Kinds()
	var names []string
	for _, k := range kinds {
		names = append(names, page.Upper(k.Plural))
	}
	k := u.Stack(r, 6)
	head := u.Stack(k.Top(widget.RowHeight), 8)
	if u.Button("to-inspector", head.Right(86), "Inspector") {
		p.h.Use("records")
	}
	u.Tip("Goes back to the values of what is chosen", p.h.Key("records"))
	if now, changed := u.Dropdown("kind", head.Rest(), names, p.kind); changed {
		p.kind = now
		p.rows.Clear()
	}
	kind := kinds[p.kind]
	var recs []timeline.Record
	if !kind.InSong || w.Song != "" {
		recs = kind.List(w.Show, w.Song)
	}
	foot := u.Stack(k.Bottom(widget.RowHeight), 6)
	called := w.Show.Names()
	name := func(r timeline.Record) string { return called.Called(w.Song, r) }
	ref := func(i int) timeline.Ref {
		r := timeline.Ref{Kind: kind.Name, ID: recs[i].RecordID()}
		if kind.InSong {
			r.Song = w.Song
		}
		return r
	}
	why := page.NeedEdit(p.h)
	if kind.Name == "show" && why == "" {
		why = "a show has one head"
	}
	if kind.InSong && w.Song == "" && why == "" {
		why = "the show has no song yet"
	}
	if u.Off(why).Button("add-record", foot.Left(74), "Add") {
		p.addRecord(kind)
	}
	at := p.rows.Cursor
	if why == "" && (at >= len(recs) || !p.rows.Has(at)) {
		why = "choose a record first"
	}
	if u.Off(why).Button("remove-record", foot.Left(84), "Remove") {
		r := ref(at)
		if p.h.Do("remove "+kind.Name+" "+name(recs[at]), page.Remove(r)) {
			p.rows.Clear()
		}
	}
	spec := widget.TableSpec{
		Columns: []widget.Column{{}}, Rows: len(recs), Empty: "No " + kind.Plural + " yet: " + kind.Help + ".",
		Cell: func(b []byte, row, _ int) []byte { return append(b, name(recs[row])...) },
	}
	if e := u.List("records."+kind.Name, k.Rest(), &p.rows, &spec); e.Used && e.Row < len(recs) {
		p.Open(ref(e.Row))
	}
}

// Open shows a record where it can be seen best.
func (p *Inspector) Open(r timeline.Ref) {
	if r.Kind == "cue" {
		p.h.Beside(timeline.Ref{})
		p.h.Work().View().Choose(r.ID)
		return
	}
	p.h.Beside(r)
}

// addRecord adds a record of a kind with its defaults and shows it.
func (p *Inspector) addRecord(kind *timeline.Kind) {
	w := p.h.Work()
	r := timeline.Ref{Kind: kind.Name}
	if kind.InSong {
		r.Song = w.Song
	}
	r.ID = w.NewIDs()(kind.Name, r.Song)
	if p.h.Do("add "+kind.Name, w.Plan.Add(r)) {
		w.Refresh()
		p.Open(r)
	}
}
