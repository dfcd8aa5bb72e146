package widget

import (
	"cmp"
	"image"
	"slices"

	"emberbeat/render"
)

// Command is what a palette offers.
type Command struct {
	ID    string
	Label string
	Place string // where else it is found, as in "Edit"; shown faint and searched too
	Keys  string
	Off   string // why it cannot be used now; "" where it can
}

// Palette is a list of commands that is narrowed by typing. Its zero value is a palette that was just opened.
type Palette struct {
	Query string
	sel   Selection
	found []int
	score []int
	seen  string // the query and
	count int    // the number of commands that found is for
}

// Size of the palette in logical pixels.
const (
	paletteWide = 560
	paletteHigh = 420
)

// Palette shows p over the window as long as it is called. done says that it was left; id is then the chosen command, "" for none.
func (u *UI) Palette(key string, p *Palette, hint string, commands []Command) (id string, done bool) {
	d := u.BeginDialog(key, hint, paletteWide, paletteHigh)
	body := u.Stack(image.Rect(d.Body.Min.X, d.Body.Min.Y, d.Body.Max.X, d.foot.Max.Y-u.Px(dialogPad)), Gap)
	used := u.paletteKeys(p)
	if e := u.TextField("query", body.Top(30), p.Query, TextSpec{Hint: "type a part of its name"}); e.Changed {
		p.Query = e.Text
	}
	p.narrow(commands)
	foot := body.Bottom(18)
	spec := TableSpec{
		Columns: []Column{{}, {Width: 110}}, Rows: len(p.found), Empty: "No command has these letters in this order. Backspace takes the last one away.",
		Cell: func(b []byte, row, _ int) []byte { return append(b, commands[p.found[row]].Label...) },
	}
	spec.Draw = func(row, col int, r image.Rectangle) bool { return u.drawCommand(&commands[p.found[row]], col, r) }
	e := u.Table("list", body.Rest(), &p.sel, &spec)
	if n := len(p.found); n > 0 {
		p.sel.Only(min(p.sel.Cursor, n-1))
		c := &commands[p.found[p.sel.Cursor]]
		u.paletteFoot(foot, c)
		if (used || e.Used) && c.Off == "" {
			id, done = c.ID, true
		}
	}
	d.End()
	return id, done || d.Closed
}

// paletteKeys moves the list while the field has the focus and says whether Enter was pressed.
func (u *UI) paletteKeys(p *Palette) bool {
	for _, k := range []struct {
		key Key
		by  int
	}{{KeyUp, -1}, {KeyDown, 1}, {KeyPageUp, -10}, {KeyPageDown, 10}} {
		for u.take(k.key, 0) {
			p.sel.Cursor = max(min(p.sel.Cursor+k.by, len(p.found)-1), 0)
		}
	}
	return u.take(KeyEnter, 0)
}

// narrow finds the commands for the query, the best first, equals in the order of the table.
func (p *Palette) narrow(commands []Command) {
	if p.seen == p.Query && p.count == len(commands) {
		return
	}
	if p.seen != p.Query {
		p.sel.Only(0)
	}
	p.seen, p.count = p.Query, len(commands)
	p.found = p.found[:0]
	p.score = slices.Grow(p.score[:0], len(commands))[:len(commands)]
	for i := range commands {
		score, ok := Match(p.Query, commands[i].Label)
		if !ok {
			if score, ok = Match(p.Query, commands[i].Place+" "+commands[i].Label); ok {
				score /= 2
			}
		}
		if p.score[i] = score; ok {
			p.found = append(p.found, i)
		}
	}
	slices.SortStableFunc(p.found, func(a, b int) int { return cmp.Compare(p.score[b], p.score[a]) })
}

// drawCommand draws a command's cell: its name and place, or its keys.
func (u *UI) drawCommand(c *Command, col int, r image.Rectangle) bool {
	s := u.Scene()
	if col == 1 {
		if c.Keys != "" {
			u.keyCap(r, c.Keys)
		}
		return true
	}
	ink := render.InkText
	if c.Off != "" {
		ink = render.InkFaint
	}
	r.Min.X = s.TextCut(r, render.TypeLabel, ink, c.Label) + s.Px(10)
	s.TextCut(r, render.TypeSmall, render.InkFaint, c.Place)
	return true
}

// paletteFoot says what Enter does, or why nothing.
func (u *UI) paletteFoot(r image.Rectangle, c *Command) {
	if c.Off != "" {
		u.Label(r, render.TypeSmall, render.InkText, "Not now: "+c.Off)
		return
	}
	u.Label(r, render.TypeSmall, render.InkSecondary, "Enter uses it, Esc leaves")
}
