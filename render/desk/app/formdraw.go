package app

import (
	"image"
	"slices"
	"strings"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
)

// Size of a form in logical pixels.
const (
	formWide  = 960
	formHigh  = 560
	formLeft  = 330
	formLabel = 96
	formAbout = 60
	formBoxes = 6 // rows of a list of boxes
)

// draw shows what is asked beside what it comes to.
func (f *form) draw(a *App) bool {
	f.refresh(a)
	u := a.ui
	b := u.BeginDialog("form", f.title, formWide, formHigh)
	if f.spec.About != "" {
		k := u.Stack(b.Body, 8)
		h := u.ParagraphHeight(b.Body.Dx(), render.TypeLabel, f.spec.About)
		u.Paragraph(k.Top(min(h*100/int(u.Scene().Scale)+2, formAbout)), render.TypeLabel, render.InkText, f.spec.About)
		b.Body = k.Rest()
	}
	body := u.Stack(b.Body, 16)
	enter := f.values(a, body.Left(formLeft))
	f.refresh(a)
	f.preview(a, body.Rest())
	enter = u.Take(widget.KeyEnter, widget.Ctrl) || enter
	choice := b.Buttons(widget.Choice{Label: "Cancel"}, widget.Choice{Label: f.verb, Main: true, Off: f.why()})
	b.End()
	if choice == 1 || enter && f.why() == "" {
		return f.take(a)
	}
	return choice == 0 || b.Closed
}

// take makes the change and chooses the rows of what it has made.
func (f *form) take(a *App) bool {
	open := a.dialog
	a.dialog = nil
	before := a.work.Session.Show()
	if !a.doAsked(f.out.change, func(a *App) {
		a.chooseMade(before)
		if f.spec.Done != nil {
			f.spec.Done(f.args)
		}
	}) {
		a.dialog = open
		return false
	}
	return true
}

// values draws the fields and reports whether Enter was pressed in a field.
func (f *form) values(a *App, r image.Rectangle) (enter bool) {
	u := a.ui
	high := 0
	for _, v := range f.fields {
		high += page.FieldRow
		if v.many != nil {
			high += formBoxes * widget.LineHeight
		}
	}
	form := u.Form(u.BeginScroll("values", r, u.Px(high+8)), formLabel)
	for _, v := range f.fields {
		off := ""
		if v.off != nil {
			off = v.off()
		}
		u.PushOff(off)
		enter = f.value(a, &form, v) || enter
		u.PopOff()
	}
	u.EndScroll()
	return enter
}

// value draws one value.
func (f *form) value(a *App, form *widget.Form, v *formField) (enter bool) {
	u := a.ui
	switch {
	case v.many != nil:
		spec := widget.ChecksSpec{Rows: len(v.names), On: func(row int) bool { return v.many[row] }, Empty: v.hint,
			Label: func(b []byte, row int) []byte { return append(b, v.names[row]...) }}
		if row, ok := u.Checks(v.name, form.Rows(v.label, formBoxes*widget.LineHeight), &f.picks, &spec); ok {
			v.many[row] = !v.many[row]
			f.stale, a.again = true, true
		}
	case v.number != nil:
		spec := *v.number
		spec.Error = f.wrong(v)
		if e := u.Number(v.name, form.Row(v.label), v.amount, &spec); e.Changed {
			v.amount, f.stale = e.Value, true
			a.again = true
		}
	case v.flag:
		if now := u.Checkbox(v.name, form.Row(v.label), v.hint, v.on); now != v.on {
			v.on = now
			f.stale, a.again = true, true
		}
	case v.names != nil:
		if now, changed := u.Dropdown(v.name, form.Row(v.label), v.names, v.at); changed {
			v.at = now
			f.stale, a.again = true, true
		}
	default:
		e := u.TextField(v.name, form.Row(v.label), v.text, widget.TextSpec{Hint: v.hint, Unit: v.unit, Error: f.wrong(v)})
		if e.Changed || e.Committed {
			v.text, f.stale = e.Text, true
			a.again = true
		}
		enter = e.Enter
	}
	if v.help != "" {
		u.Tip(v.help, "")
	}
	return enter
}

// preview shows what the values come to: why they cannot stand, a table, what else is to be known, the caution.
func (f *form) preview(a *App, r image.Rectangle) {
	u := a.ui
	s := u.Scene()
	k := u.Stack(r, 8)
	lines := slices.Clone(f.out.Lines)
	if f.spec.Caution != "" {
		lines = append(lines, f.spec.Caution)
	}
	text := strings.Join(lines, "\n")
	if f.out.err != nil {
		text := f.problem()
		box := k.Top(f.high(a, r, text))
		s.Badge(box.Min, render.SevError)
		box.Min.X += s.Px(render.BadgeSize + 8)
		u.Paragraph(box, render.TypeLabel, render.InkText, text)
		if o := f.out.offer; o != nil {
			row := u.Stack(k.Top(widget.RowHeight), 8)
			if u.Button("offer", row.Left(u.ButtonWidth(o.Label)), o.Label) {
				for name, text := range o.Texts {
					f.field(name).text = text
				}
				f.stale, a.again = true, true
			}
			u.Tip("Takes what would work into the fields", "")
		}
	}
	high := u.ParagraphHeight(r.Dx()-s.Px(14), render.TypeSmall, text)
	foot := k.Bottom(min(high*100/int(s.Scale)+4, k.Rest().Dy()*100/int(s.Scale)/2))
	area := u.BeginScroll("lines", foot, high)
	u.Paragraph(area, render.TypeSmall, render.InkSecondary, text)
	u.EndScroll()
	switch {
	case f.out.err == nil && f.out.foresee != "":
		f.foresee(a, k.Rest())
	case f.out.err == nil || len(f.out.Rows) > 0:
		u.Table("preview", k.Rest(), &f.sel, f.table())
	}
}

// foresee shows how much would play otherwise, and which findings would come and go.
func (f *form) foresee(a *App, r image.Rectangle) {
	u := a.ui
	k := u.Stack(r, 4)
	x := a.work.Foresee(f.out.foresee, f.out.change.edits...)
	h := u.ParagraphHeight(k.Rest().Dx(), render.TypeLabel, x.Whole())
	u.Paragraph(k.Top(h*100/int(u.Scene().Scale)+2), render.TypeLabel, render.InkText, x.Whole())
	if x != nil && x.Done && x.Err == nil {
		a.diffTable("diff", k.Rest(), &f.sel, x.Findings, "No finding comes or goes.")
	}
}

// high gives the logical height of a text beside a badge.
func (f *form) high(a *App, r image.Rectangle, text string) int {
	s := a.ui.Scene()
	return a.ui.ParagraphHeight(r.Dx()-s.Px(render.BadgeSize+8), render.TypeLabel, text)*100/int(s.Scale) + 4
}

// table is the table of the outcome.
func (f *form) table() *widget.TableSpec {
	spec := &widget.TableSpec{Rows: len(f.out.Rows), Empty: "Nothing changes.",
		Cell: func(b []byte, row, col int) []byte { return append(b, f.out.Rows[row][col]...) }}
	for i, title := range f.out.Columns {
		width := 110
		if i == 0 {
			width = 0
		}
		spec.Columns = append(spec.Columns, widget.Column{Title: title, Width: width})
	}
	if len(spec.Columns) == 0 {
		spec.Columns = []widget.Column{{}}
	}
	return spec
}
