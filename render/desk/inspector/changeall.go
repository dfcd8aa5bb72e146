package inspector

import (
	"fmt"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
	"emberbeat/timeline/together"
)

// byHigh is the logical height of what chosen cues are changed by.
const byHigh = headHigh + 3*rowHigh + 44 + 34

// change is what stands in the fields of what all chosen cues are changed by.
type change struct{ later, longer, stronger string }

// read gives what the fields come to.
func (b change) read() (by together.By, err error) {
	if by.Later, err = together.ParseStep(b.later); err != nil {
		return by, err
	}
	if by.Longer, err = together.ParsePercent(b.longer); err != nil {
		return by, err
	}
	by.Stronger, err = together.ParsePercent(b.stronger)
	return by, err
}

// changeAll asks what all chosen cues are changed by, says what that comes to, and changes them as one step.
func (c *cues) changeAll() {
	p := c.p
	u := p.h.UI()
	c.head("Change all by", "")
	for _, f := range []struct {
		name, key, hint string
		text            *string
		check           func(string) error
	}{
		{"Later", "by-later", "1 beat, -40 ms", &p.by.later, func(t string) error { _, err := together.ParseStep(t); return err }},
		{"Longer", "by-longer", "0 %", &p.by.longer, func(t string) error { _, err := together.ParsePercent(t); return err }},
		{"Level", "by-level", "0 %", &p.by.stronger, func(t string) error { _, err := together.ParsePercent(t); return err }},
	} {
		v, src := c.row(f.name)
		if e := u.TextField(f.key, v, *f.text, widget.TextSpec{Hint: f.hint, Check: f.check}); e.Changed || e.Committed {
			*f.text = e.Text
			p.h.Again()
		}
		u.Label(src, render.TypeSmall, render.InkSecondary, map[string]string{"Later": "beats, s or ms", "Longer": "of what holds", "Level": "of what holds"}[f.name])
	}
	by, err := p.by.read()
	var edit timeline.Edit
	off, text := "", "Every cue is changed, or none is."
	switch {
	case err != nil:
		off = err.Error()
	case by.None():
		off = "nothing is given that they change by"
	default:
		if edit, err = by.Edit(p.h.Show(), c.plan, c.list); err != nil {
			off = err.Error()
			text = page.Upper(off)
			break
		}
		key := fmt.Sprint("together", p.by, c.refs)
		switch f := p.h.Work().Foresee(key, edit); {
		case f == nil || !f.Done || f.Key != key:
			text = "Looking what this would change…"
		case f.Err != nil:
			text = page.Upper(f.Err.Error())
		default:
			text = page.Upper(f.Found())
		}
	}
	u.Paragraph(c.k.Top(40), render.TypeSmall, render.InkSecondary, text)
	k := u.Stack(c.k.Top(widget.RowHeight), 8)
	label := "Change " + timeline.Counted(len(c.list), "cue")
	if off == "" {
		off = page.NeedEdit(p.h)
	}
	if u.Off(off).Button("change-all", k.Right(u.ButtonWidth(label)), label) && p.h.Do("change "+timeline.Counted(len(c.list), "cue")+" together", edit) {
		p.by = change{}
	}
}
