package table

import (
	"image"
	"maps"

	"emberbeat/render/desk/page"
	"emberbeat/timeline"
)

// Buttons are the commands above a table of one kind of record.
var Buttons = []string{"row-add", "row-copy", "row-remove"}

// Records gives a page that lists one kind of record, which the page names, in a table; where it says no list, all of them, and where it
// says no buttons, the usual ones. Every command for rows does there what is usual; acts of the page itself come before.
func Records(h page.Host, p page.Page, spec Spec) page.Page {
	if spec.List == nil {
		spec.List = Of(h, p.Kind)
	}
	if spec.Buttons == nil {
		spec.Buttons = Buttons
	}
	t := New(h, spec)
	p.Acts = t.with(p.Acts, p.Kind)
	p.Rows = t
	p.Draw = func(r image.Rectangle) { t.Draw(r) }
	return p
}

// with gives what the commands for rows do, with delete and duplicate as other keys of them, and a page's own acts before them.
func (l *Table) with(own map[string]page.Act, kind string) map[string]page.Act {
	add := page.Act{Off: page.With(l.h, page.NeedEdit), Run: func() { l.add(timeline.KindOf(kind)) }}
	copied := page.Act{Off: page.With(l.h, page.NeedChosenEdit), Run: l.copy}
	remove := page.Act{Off: page.With(l.h, page.NeedChosenEdit), Run: l.remove}
	acts := map[string]page.Act{"row-add": add, "row-copy": copied, "duplicate": copied, "row-remove": remove, "delete": remove}
	maps.Copy(acts, own)
	return acts
}

// add adds a record with its defaults, chooses it and brings the focus to its first field.
func (l *Table) add(kind *timeline.Kind) {
	r := timeline.Ref{Kind: kind.Name, ID: l.h.NewIDs()(kind.Name, "")}
	if l.h.Do("add "+kind.Name, l.h.Plan().Add(r)) {
		l.Want([]timeline.Ref{r})
		l.h.Inspect()
	}
}

// copy makes a copy of each chosen record, named as one, and chooses the copies.
func (l *Table) copy() {
	chosen := l.h.Chosen()
	kind := timeline.KindOf(chosen[0].Kind)
	give := l.h.NewIDs()
	var recs []timeline.Record
	var refs []timeline.Ref
	for _, ref := range chosen {
		r := kind.Clone(page.Find(l.h.Show(), ref))
		timeline.SetID(r, give(kind.Name, ref.Song))
		timeline.SetKept(r, nil)
		if f := kind.Field("name"); f != nil && f.Get(r).Text != "" {
			if err := f.Set(r, timeline.Value{Text: f.Get(r).Text + " copy"}); err != nil {
				l.h.Warn(err.Error())
				return
			}
		}
		recs = append(recs, r)
		refs = append(refs, timeline.Ref{Kind: kind.Name, Song: ref.Song, ID: r.RecordID()})
	}
	if l.h.Do("copy "+page.CountedKind(len(recs), kind), page.Put(refs[0].Song, recs...)) {
		l.Want(refs)
	}
}

// remove takes the chosen records out as one step. The draft refuses it while others name them.
func (l *Table) remove() {
	refs := l.h.Chosen()
	kind := timeline.KindOf(refs[0].Kind)
	l.h.DoAsked("remove "+page.CountedKind(len(refs), kind), func() {
		l.Clear()
		l.h.Choose()
	}, page.Remove(refs...))
}
