package app

import (
	"image"
	"slices"
	"strings"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
)

func (d *asking) draw(a *App) bool {
	d.refresh(a)
	u := a.ui
	b := u.BeginDialog("asking", d.title, askWide, askHigh)
	if d.about != "" {
		k := u.Stack(b.Body, 8)
		h := u.ParagraphHeight(b.Body.Dx(), render.TypeLabel, d.about)
		u.Paragraph(k.Top(min(h*100/int(u.Scene().Scale)+2, askAbout)), render.TypeLabel, render.InkText, d.about)
		b.Body = k.Rest()
	}
	body := u.Stack(b.Body, 16)
	enter := d.form(a, body.Left(askForm))
	d.refresh(a)
	d.preview(a, body.Rest())
	enter = u.Take(widget.KeyEnter, widget.Ctrl) || enter
	choice := b.Buttons(widget.Choice{Label: "Cancel"}, widget.Choice{Label: d.verb, Main: true, Off: d.why()})
	b.End()
	if choice == 1 || enter && d.why() == "" {
		return d.take(a)
	}
	return choice == 0 || b.Closed
}

// take makes the change and chooses the rows of what it has made.
func (d *asking) take(a *App) bool {
	open := a.dialog
	a.dialog = nil
	before := a.work.s.Show()
	if !a.doAsked(d.out.change, func(a *App) {
		a.chooseMade(before)
		if d.then != nil {
			d.then(a)
		}
	}) {
		a.dialog = open
		return false
	}
	return true
}

// form draws the values and reports whether Enter was pressed in a field.
func (d *asking) form(a *App, r image.Rectangle) (enter bool) {
	u := a.ui
	high := 0
	for _, f := range d.fields {
		high += page.FieldRow
		if f.many != nil {
			high += askBoxes * widget.LineHeight
		}
	}
	form := u.Form(u.BeginScroll("values", r, u.Px(high+8)), askLabel)
	for _, f := range d.fields {
		off := ""
		if f.off != nil {
			off = f.off(d)
		}
		u.PushOff(off)
		enter = d.value(a, &form, f) || enter
		u.PopOff()
	}
	u.EndScroll()
	return enter
}

// value draws one value.
func (d *asking) value(a *App, form *widget.Form, f *ask) (enter bool) {
	u := a.ui
	switch {
	case f.many != nil:
		spec := widget.ChecksSpec{Rows: len(f.names), On: func(row int) bool { return f.many[row] }, Empty: f.hint,
			Label: func(b []byte, row int) []byte { return append(b, f.names[row]...) }}
		if row, ok := u.Checks(f.name, form.Rows(f.label, askBoxes*widget.LineHeight), &d.picks, &spec); ok {
			f.many[row] = !f.many[row]
			d.stale, a.again = true, true
		}
	case f.number != nil:
		spec := *f.number
		spec.Error = d.wrong(f)
		if e := u.Number(f.name, form.Row(f.label), f.amount, &spec); e.Changed {
			f.amount, d.stale = e.Value, true
			a.again = true
		}
	case f.flag:
		if now := u.Checkbox(f.name, form.Row(f.label), f.hint, f.on); now != f.on {
			f.on = now
			d.stale, a.again = true, true
		}
	case f.names != nil:
		if now, changed := u.Dropdown(f.name, form.Row(f.label), f.names, f.at); changed {
			f.at = now
			d.stale, a.again = true, true
		}
	default:
		e := u.TextField(f.name, form.Row(f.label), f.text, widget.TextSpec{Hint: f.hint, Unit: f.unit, Error: d.wrong(f)})
		if e.Changed || e.Committed {
			f.text, d.stale = e.Text, true
			a.again = true
		}
		enter = e.Enter
	}
	if f.help != "" {
		u.Tip(f.help, "")
	}
	return enter
}

// preview shows what the values come to: why they cannot stand, a table, what else is to be known, the caution.
func (d *asking) preview(a *App, r image.Rectangle) {
	u := a.ui
	s := u.Scene()
	k := u.Stack(r, 8)
	lines := slices.Clone(d.out.lines)
	if d.caution != "" {
		lines = append(lines, d.caution)
	}
	text := strings.Join(lines, "\n")
	if d.out.err != nil {
		text := d.problem()
		box := k.Top(d.high(a, r, text))
		s.Badge(box.Min, render.SevError)
		box.Min.X += s.Px(render.BadgeSize + 8)
		u.Paragraph(box, render.TypeLabel, render.InkText, text)
		if o := d.out.offer; o != "" {
			row := u.Stack(k.Top(widget.RowHeight), 8)
			if u.Button("offer", row.Left(u.ButtonWidth(o)), o) {
				d.out.accept(d)
				d.stale, a.again = true, true
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
	case d.out.err == nil && d.out.foresee != "":
		d.foresee(a, k.Rest())
	case d.out.err == nil || len(d.out.rows) > 0:
		u.Table("preview", k.Rest(), &d.sel, d.table())
	}
}

// foresee shows how much would play otherwise, and which findings would come and go.
func (d *asking) foresee(a *App, r image.Rectangle) {
	u := a.ui
	k := u.Stack(r, 4)
	f := a.foresee(d.out.foresee, d.out.change.edits...)
	h := u.ParagraphHeight(k.Rest().Dx(), render.TypeLabel, f.text())
	u.Paragraph(k.Top(h*100/int(u.Scene().Scale)+2), render.TypeLabel, render.InkText, f.text())
	if f != nil && f.done && f.err == nil {
		a.diffTable("diff", k.Rest(), &d.sel, f.Findings, "No finding comes or goes.")
	}
}

// high gives the logical height of a text beside a badge.
func (d *asking) high(a *App, r image.Rectangle, text string) int {
	s := a.ui.Scene()
	return a.ui.ParagraphHeight(r.Dx()-s.Px(render.BadgeSize+8), render.TypeLabel, text)*100/int(s.Scale) + 4
}

// table is the table of the outcome.
func (d *asking) table() *widget.TableSpec {
	spec := &widget.TableSpec{Rows: len(d.out.rows), Empty: "Nothing changes.",
		Cell: func(b []byte, row, col int) []byte { return append(b, d.out.rows[row][col]...) }}
	for i, title := range d.out.head {
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
