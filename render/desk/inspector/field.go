package inspector

import (
	"image"
	"slices"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// common gives the value that all records have in a field; same is false where they differ.
func common(f *timeline.Field, recs []timeline.Record) (v timeline.Value, same bool) {
	v = f.Get(recs[0])
	for _, r := range recs[1:] {
		if !f.Get(r).Equal(v) {
			return timeline.Value{}, false
		}
	}
	return v, true
}

// Field draws a field of a record as it stands among its others, and makes the change that is asked for there.
func (p *Inspector) Field(form *widget.Form, on timeline.Ref, field string) {
	kind := timeline.KindOf(on.Kind)
	p.field(form, kind, kind.Field(field), []timeline.Ref{on}, []timeline.Record{page.Find(p.h.Show(), on)}, -1, "")
}

// Wrong says why what was given last to a field of records was refused, "" where it was not.
func (p *Inspector) Wrong(f *timeline.Field, refs []timeline.Ref) string {
	return p.wrong[fieldKey(f, refs)]
}

func fieldKey(f *timeline.Field, refs []timeline.Ref) string {
	return refs[0].String() + refs[0].Kind + "." + f.Name
}

// field draws one field of a form and makes the change it asks for; from is what holds where the records say nothing.
func (p *Inspector) field(form *widget.Form, kind *timeline.Kind, f *timeline.Field, refs []timeline.Ref, recs []timeline.Record, n int, from string) {
	u := p.h.UI()
	u.PushOff(page.NeedEdit(p.h))
	defer u.PopOff()
	row := form.Row(page.Label(f.Name))
	if f.Type != timeline.ListField {
		p.value(row, kind, f, refs, recs, n, from)
		return
	}
	v, same := common(f, recs)
	p.listField(form, row, kind.Name+"."+f.Name, f, refs, v, same)
	if f.Help != "" {
		u.Tip(f.Help, "")
	}
}

// value draws a value of records, of any type but a list, and makes the change it asks for. from is what holds where they say nothing, "" where nothing does.
func (p *Inspector) value(row image.Rectangle, kind *timeline.Kind, f *timeline.Field, refs []timeline.Ref, recs []timeline.Record, n int, from string) {
	u := p.h.UI()
	v, same := common(f, recs)
	key := kind.Name + "." + f.Name
	if p.focus && n == 0 {
		p.focus = false
		u.Focus(key)
	}
	switch {
	case f.Type == timeline.FlagField:
		on := v.Text == "true"
		if now := u.Checkbox(key, row, "", on); now != on {
			p.Assign(f, refs, flagText(now))
		}
	case len(f.Choices) > 0:
		p.chooseField(key, row, f, refs, v, same, f.Choices, f.Choices, from)
	case len(f.Ref) > 0:
		ids, names := page.Choices(p.h.Show(), f, refs[0].Song)
		p.chooseField(key, row, f, refs, v, same, ids, names, from)
	default:
		spec := widget.TextSpec{From: from, Unit: p.h.Show().Told().Unit(f.Unit), Error: p.Wrong(f, refs), Check: p.Check(f, refs)}
		text := page.Typed(p.h.Show().Told(), f, v)
		if zero, nothing := f.Zero(v); nothing && spec.From == "" { // unknown is never zero
			spec.From = zero
		}
		if !same {
			text = ""
			if spec.From == "" {
				spec.From = "differs"
			}
		}
		if spec.From != "" && text == "" {
			spec.Unit = ""
		}
		if e := u.TextField(key, row, text, spec); e.Committed {
			p.Assign(f, refs, e.Text)
		}
	}
	if f.Help != "" {
		u.Tip(f.Help, "")
	}
}

func flagText(on bool) string {
	if on {
		return "true"
	}
	return "false"
}

// Check says what would be valid where a text is not.
func (p *Inspector) Check(f *timeline.Field, refs []timeline.Ref) func(string) error {
	return func(text string) error { return page.CheckAssign(p.h, f, refs[0], timeline.AssignSet, text) }
}

// Assign gives all chosen records a value in a field, as one step; an empty text takes back what they say themselves.
func (p *Inspector) Assign(f *timeline.Field, refs []timeline.Ref, text string) {
	p.assignOp(f, refs, timeline.AssignSet, text)
}

func (p *Inspector) assignOp(f *timeline.Field, refs []timeline.Ref, op timeline.AssignOp, text string) {
	key := fieldKey(f, refs)
	delete(p.wrong, key)
	if !page.Assign(p.h, f, refs, op, text) {
		p.wrong[key] = p.h.Said()
	}
}

// chooseField draws a choice of words or records.
func (p *Inspector) chooseField(key string, row image.Rectangle, f *timeline.Field, refs []timeline.Ref, v timeline.Value, same bool, ids, names []string, from string) {
	at := -1
	if same {
		at = slices.Index(ids, v.Text)
	}
	if same && at < 0 { // what it names is gone: say so rather than hide it
		ids, names = append(slices.Clone(ids), v.Text), append(slices.Clone(names), v.Text+" (gone)")
		at = len(ids) - 1
	}
	if from != "" && len(ids) > 0 && ids[0] == "" {
		names = slices.Clone(names)
		names[0] = "as what stands above says"
	}
	if now, changed := p.h.UI().DropdownFrom(key, row, names, at, from); changed {
		p.Assign(f, refs, ids[now])
	}
}

// listField draws a list: each item to be changed or taken out, and a field to add one.
func (p *Inspector) listField(form *widget.Form, row image.Rectangle, key string, f *timeline.Field, refs []timeline.Ref, v timeline.Value, same bool) {
	u := p.h.UI()
	hint := "add an item"
	if !same {
		hint = "differs; adds to all"
	}
	if e := u.TextField(key, row, "", widget.TextSpec{Hint: hint, Check: p.checkItem(f, refs)}); e.Committed && e.Text != "" {
		p.assignOp(f, refs, timeline.AssignAdd, e.Text)
	}
	names, in := p.h.Show().Names(), refs[0].Song
	if refs[0].Kind == "song" {
		in = refs[0].ID
	}
	for i, item := range v.Items {
		if i == page.MostItems {
			return
		}
		u.PushRow(i)
		k := u.Stack(form.Row(""), 4)
		if u.IconButton("remove", k.Right(26), "×", "Takes this item out", "") {
			p.assignOp(f, refs, timeline.AssignRemove, item)
		}
		u.Label(k.Rest(), render.TypeLabel, render.InkText, names.SaidItem(f, in, item))
		u.Pop()
	}
}

func (p *Inspector) checkItem(f *timeline.Field, refs []timeline.Ref) func(string) error {
	return func(text string) error {
		if text == "" {
			return nil
		}
		return page.CheckAssign(p.h, f, refs[0], timeline.AssignAdd, text)
	}
}
