package song

import (
	"slices"
	"strings"

	"emberbeat/render"
	"emberbeat/render/widget"
)

// textDialog asks for a line of text.
type textDialog struct {
	title, hint, verb, text string
	take                    func(string) error
	bad                     string
}

func (d *textDialog) draw(sp *Page) bool {
	u := sp.h.UI()
	b := u.BeginDialog("text", d.title, 480, 178)
	k := u.Stack(b.Body, 8)
	e := u.TextField("value", k.Top(widget.RowHeight), d.text, widget.TextSpec{Hint: d.hint, Error: d.bad})
	if e.Changed || e.Committed {
		d.text, d.bad = e.Text, ""
	}
	u.Label(k.Rest(), render.TypeSmall, render.InkSecondary, d.hint)
	choice := b.Buttons(widget.Choice{Label: "Cancel"}, widget.Choice{Label: d.verb, Main: true})
	b.End()
	if choice == 1 || e.Enter {
		if err := d.take(strings.TrimSpace(d.text)); err != nil {
			d.bad = err.Error()
			sp.h.Fail(err)
			return false
		}
		return true
	}
	return choice == 0 || b.Closed || slices.ContainsFunc(u.Input().Keys, func(p widget.Press) bool { return p.Key == widget.KeyEscape })
}

func (sp *Page) askGo() {
	sp.open(&textDialog{title: "Go to", verb: "Go", hint: "41.2   1:42.5   03:01:22:10   +2 bars   a name", take: sp.jump})
}

// jump goes to a place and brings the timeline into view.
func (sp *Page) jump(text string) error {
	err := sp.GoTo(text)
	if err == nil {
		sp.h.Turn("")
	}
	return err
}
