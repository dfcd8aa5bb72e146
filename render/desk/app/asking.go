package app

import (
	"errors"
	"fmt"
	"image"
	"slices"
	"strconv"
	"strings"

	"emberbeat/render"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// ask is one value that a dialog asks for: a line of text, one of several names, several of them, or yes or no.
type ask struct {
	name              string // the field that an error is about
	label, hint, help string
	unit              string
	text              string
	names             []string // to choose one of; nil asks for text
	at                int
	many              []bool // of names, which are chosen: several can be
	flag, on          bool   // asks for yes or no
	off               func(d *asking) string
}

// asking is a dialog of values that shows what they come to while they are changed, and makes the change as one step. What is shown and
// what is done is one outcome.
type asking struct {
	title, verb string
	fields      []*ask
	work        func(a *App, d *asking) outcome
	caution     string

	out   outcome
	plan  *timeline.Plan // that out was worked out on
	stale bool           // a value has changed since
	sel   widget.Selection
	picks widget.Selection
}

// outcome is what the values of a dialog come to.
type outcome struct {
	change change
	err    error    // why it cannot be done, and what would be valid
	head   []string // of the table that is shown
	rows   [][]string
	lines  []string // below the table
	offer  string   // what would do instead, "" for nothing
	accept func(d *asking)
}

// field gives the value with a name.
func (d *asking) field(name string) *ask {
	i := slices.IndexFunc(d.fields, func(f *ask) bool { return f.name == name })
	return d.fields[i]
}

// count reads the whole number in a field; what is none becomes -1, which no model takes.
func (d *asking) count(name string) int {
	n, err := strconv.Atoi(strings.TrimSpace(d.field(name).text))
	if err != nil {
		return -1
	}
	return n
}

// whole reads a whole number within bounds, or says what would be valid.
func (d *asking) whole(name string, from, to int) (int, error) {
	text := strings.TrimSpace(d.field(name).text)
	n, err := strconv.Atoi(text)
	if err != nil || n < from || n > to {
		return 0, &timeline.ValueError{Field: name, Value: text, Want: "must be a whole number from " + strconv.Itoa(from) + " to " + strconv.Itoa(to)}
	}
	return n, nil
}

// refresh works out anew what the values come to, if they or the show have changed.
func (d *asking) refresh(a *App) {
	if d.plan == a.work.plan && !d.stale {
		return
	}
	d.plan, d.stale = a.work.plan, false
	d.out = d.work(a, d)
	if d.out.err == nil && len(d.out.change.edits) > 0 {
		_, d.out.err = a.work.s.Show().Edit(d.out.change.edits...)
	}
}

// wrong says what is wrong with the value of a field, "" where nothing is or the error is about none or another.
func (d *asking) wrong(f *ask) string {
	var bad *timeline.ValueError
	if errors.As(d.out.err, &bad) && bad.Field == f.name && f.name != "" {
		return bad.Want
	}
	return ""
}

// problem says why the change cannot be made, with the field as it is called in the dialog.
func (d *asking) problem() string {
	var bad *timeline.ValueError
	if !errors.As(d.out.err, &bad) {
		return upper(d.out.err.Error())
	}
	for _, f := range d.fields {
		if f.name == bad.Field {
			if bad.Value == "" {
				return f.label + " " + bad.Want
			}
			return fmt.Sprintf("%s: %q %s", f.label, bad.Value, bad.Want)
		}
	}
	return upper(bad.Error())
}

// why says why the change cannot be made.
func (d *asking) why() string {
	if d.out.err != nil {
		return d.problem()
	}
	if len(d.out.change.edits) == 0 {
		return "there is nothing to change"
	}
	return ""
}

// Size of such a dialog in logical pixels.
const (
	askWide  = 960
	askHigh  = 560
	askForm  = 330
	askLabel = 96
	askBoxes = 6 // rows of a list of boxes
)

func (d *asking) draw(a *App) bool {
	d.refresh(a)
	u := a.ui
	b := u.BeginDialog("asking", d.title, askWide, askHigh)
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
	a.dialog = nil
	before := a.work.s.Show()
	if !a.doAsked(d.out.change, func(a *App) { a.chooseMade(before) }) {
		a.dialog = d
		return false
	}
	return true
}

// form draws the values and reports whether Enter was pressed in a field.
func (d *asking) form(a *App, r image.Rectangle) (enter bool) {
	u := a.ui
	high := 0
	for _, f := range d.fields {
		high += fieldHigh
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
	if d.out.err == nil || len(d.out.rows) > 0 {
		u.Table("preview", k.Rest(), &d.sel, d.table())
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

// show opens the dialog.
func (d *asking) show(a *App) {
	d.stale = true
	a.dialog = d
}
