package inspector

import (
	"image"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
	"emberbeat/timeline/given"
)

// Inspector shows records and what the user has typed of them that cannot stand.
type Inspector struct {
	h      Host
	wrong  map[string]string // by field
	focus  bool              // the first field shall get the focus
	kind   int               // of the list of records
	rows   widget.Selection
	by     change // of chosen cues
	before before
	kept   bool // what the program keeps for itself is shown
}

// New gives an inspector that shows nothing yet.
func New(h Host) *Inspector { return &Inspector{h: h, wrong: map[string]string{}} }

// Focus brings the focus to the first field when it is drawn next.
func (p *Inspector) Focus() { p.focus = true }

// labelWide is the logical width of the names of fields.
const labelWide = 92

// Draw shows every field of records of one kind, to be changed.
func (p *Inspector) Draw(r image.Rectangle, refs ...timeline.Ref) {
	u := p.h.UI()
	if len(refs) == 0 {
		u.Paragraph(r, render.TypeLabel, render.InkFaint, "Choose a row of the table, or several: their values are shown and changed here.")
		return
	}
	kind := timeline.KindOf(refs[0].Kind)
	var recs []timeline.Record
	for _, ref := range refs {
		if rec := page.Find(p.h.Show(), ref); rec != nil {
			recs = append(recs, rec)
		}
	}
	if kind == nil || len(recs) == 0 {
		return
	}
	k := u.Stack(r, 6)
	p.head(k.Top(44), kind, refs, recs)
	if kind.Name == "cue" && p.drawCues(k.Rest(), kind, refs, recs) {
		return
	}
	p.fields(k.Rest(), kind, refs, recs)
}

// fields shows every field as the table of the kind has it; what a program keeps for itself stands at the end, and is closed until it is asked for.
func (p *Inspector) fields(r image.Rectangle, kind *timeline.Kind, refs []timeline.Ref, recs []timeline.Record) {
	u := p.h.UI()
	var list, kept []*timeline.Field
	for i := range kind.Fields {
		if f := &kind.Fields[i]; f.Kept {
			kept = append(kept, f)
		} else {
			list = append(list, f)
		}
	}
	high := 0
	for _, f := range list {
		high += page.FieldHeight(f, recs[0])
	}
	if len(kept) > 0 {
		high += page.FieldRow
		if p.kept {
			high += len(kept) * page.FieldRow
		}
	}
	area := u.BeginScroll("fields", r, u.Px(high+8))
	form := u.Form(area, labelWide)
	u.Push(refs[0].String())
	from := p.above(refs, recs)
	for i, f := range list {
		p.field(&form, kind, f, refs, recs, i, from[f.Name])
	}
	if len(kept) > 0 {
		if now := u.Checkbox("kept", form.Row("File"), "hashes and counts", p.kept); now != p.kept {
			p.kept = now
			p.h.Again()
		}
		for _, f := range kept {
			if p.kept {
				p.field(&form, kind, f, refs, recs, -1, "")
			}
		}
	}
	u.Pop()
	u.EndScroll()
}

// above gives what holds for a single lane where it says nothing itself, and where that comes from, by field; nothing for other records.
func (p *Inspector) above(refs []timeline.Ref, recs []timeline.Record) map[string]string {
	lane, ok := recs[0].(*timeline.Lane)
	if !ok || len(recs) > 1 {
		return nil
	}
	plan := p.h.SongPlan(refs[0].Song)
	if plan == nil {
		return nil
	}
	from := map[string]string{}
	for _, v := range given.OfLane(p.h.Show(), plan, lane) {
		text := ""
		switch {
		case v.Own || v.Text == "" && v.Several == 0:
			continue
		case v.Several > 0:
			text = "each its own"
		case v.Field == "article":
			text = page.NameOf(p.h.Show(), []string{"article"}, "", timeline.ID(v.Text))
		default:
			text = page.Short(v.Text) + " s"
		}
		from[v.Field] = text + " · " + sourceWords(v)
	}
	return from
}

// head says what is shown.
func (p *Inspector) head(r image.Rectangle, kind *timeline.Kind, refs []timeline.Ref, recs []timeline.Record) {
	u := p.h.UI()
	k := u.Stack(r, 0)
	top := u.Stack(k.Top(24), 8)
	if u.Button("to-records", top.Right(80), "Records") {
		p.h.Use("records")
	}
	u.Tip("Lists every kind of record in the place of this", p.h.Key("records"))
	called := func() string { return p.h.Show().CalledIn(refs[0].Song, recs[0]) } // which looks at all of its kind
	title, sub := kind.Name, kind.Help
	switch c, isCue := recs[0].(*timeline.Cue); {
	case isCue && len(recs) > 1:
		title, sub = page.CountedKind(len(recs), kind), "what differs shows from what to what"
	case isCue:
		title = "cue at " + c.At.Beside(p.h.Work().InView().Beats)
		if l := p.h.Work().InView().Lane(c.Lane); l != nil {
			sub = page.LaneName(p.h.Show(), l)
		} else {
			sub = called()
		}
	case len(recs) > 1:
		title = page.CountedKind(len(recs), kind)
	default:
		if name := called(); name != "" {
			title, sub = name, kind.Name+": "+kind.Help
		}
	}
	u.Label(top.Rest(), render.TypeStrong, render.InkText, page.Upper(title))
	u.Label(k.Top(18), render.TypeSmall, render.InkSecondary, sub)
}
