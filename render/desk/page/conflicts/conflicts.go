package conflicts

import (
	"cmp"
	"image"
	"strconv"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/desk/page/table"
	"emberbeat/render/widget"
	"emberbeat/shows/report/merged"
	"emberbeat/timeline"
	"emberbeat/timeline/merge"
)

// ID is that of the page.
const ID = "conflicts"

// Conflicts is the page with what it remembers.
type Conflicts struct {
	h    page.Host
	t    *table.Table
	Side widget.Selection // which choice is looked at
	diff widget.Selection
	made widget.Selection // of the findings that the merge made

	of    *timeline.Show // whose conflicts these are
	list  []merge.Conflict
	bad   error
	would map[string]string // what a choice would do, by conflict and side, as far as that is known
}

// New gives the page of conflicts and its commands.
func New(h page.Host) page.Family {
	p := &Conflicts{h: h}
	p.t = table.New(h, table.Spec{List: p.listed, Columns: p.columns, Buttons: []string{"conflict-take", "conflict-go"},
		Empty: "No conflict is left. Merge a copy… in the menu Show joins another person's edits; what both did in two ways comes here."})
	take := page.Command{ID: "conflict-take", Name: "Take the choice", Help: "settles the chosen conflict as the choice below it says; it can be undone", Off: p.needChoice, Run: p.take}
	return page.Family{State: p,
		Pages: []page.Page{{ID: ID, Name: "Conflicts", Part: "Checks", Help: "what two edits did to one thing in two ways, side by side, and what each choice does to the findings; Enter takes the choice",
			Draw: p.draw, Rows: p.t, Acts: map[string]page.Act{"edit-values": take.Act()}}},
		Commands: []page.Command{take,
			{ID: "conflict-go", Name: "Show the record", Help: "goes to the record that the chosen conflict is about", Off: p.needRecord, Run: func() { p.h.Go(p.chosen().Ref) }}},
	}
}

// read lists the conflicts of the show anew where it is another one.
func (p *Conflicts) read() {
	s := p.h.Show()
	if s == p.of {
		return
	}
	p.of, p.would = s, map[string]string{}
	p.list, p.bad = nil, nil
	if s != nil {
		p.list, p.bad = merge.Open(s)
	}
}

func (p *Conflicts) listed() []table.Row {
	p.read()
	var rows []table.Row
	for i, line := range merged.NewConflicts(p.list) {
		rows = append(rows, table.Row{Key: strconv.Itoa(i) + line.Key, Ref: p.list[i].Ref, Record: page.Find(p.of, p.list[i].Ref), More: i})
	}
	return rows
}

func (p *Conflicts) columns() []table.Column {
	says := func(title string, s merge.Side) table.Column {
		return table.Column{Title: title, Width: 190, Text: func(e *table.Row) string {
			c := &p.list[e.More.(int)]
			text := merged.Shown(c, s)
			if c.Held == s {
				text += "  (held)"
			}
			return text
		}}
	}
	return []table.Column{
		{Title: "What", Text: func(e *table.Row) string { return page.Upper(p.list[e.More.(int)].Said()) }},
		says("Before", merge.Base), says("Ours", merge.Ours), says("Theirs", merge.Theirs)}
}

// chosen gives the conflict of the row that is chosen, or nil.
func (p *Conflicts) chosen() *merge.Conflict {
	if p.h.Show() == nil || p.h.InView() != ID {
		return nil
	}
	p.read()
	rows := p.t.Chosen()
	if len(rows) != 1 || rows[0].More.(int) >= len(p.list) {
		return nil
	}
	return &p.list[rows[0].More.(int)]
}

const chooseFirst = "choose one conflict on the page Conflicts first"

// side gives the choice that is looked at, "" for none.
func (p *Conflicts) side(c *merge.Conflict) merge.Side {
	rows := p.Side.Rows()
	if len(rows) != 1 || rows[0] >= len(c.Options) {
		return ""
	}
	return c.Options[rows[0]].Side
}

func (p *Conflicts) needChoice() string {
	if why := page.NeedEdit(p.h); why != "" {
		return why
	}
	c := p.chosen()
	switch {
	case c == nil:
		return chooseFirst
	case p.side(c) == "":
		return "choose below what it shall be"
	}
	return ""
}

func (p *Conflicts) needRecord() string {
	c := p.chosen()
	switch {
	case c == nil:
		return chooseFirst
	case page.Find(p.h.Show(), c.Ref) == nil:
		return "the record is not there"
	}
	return ""
}

// take settles the chosen conflict.
func (p *Conflicts) take() {
	c := p.chosen()
	s := p.side(c)
	edit, err := c.Settle(s)
	if err != nil {
		p.h.Warn(err.Error())
		return
	}
	if p.h.Do("settle "+c.Key()+": "+string(s), edit) {
		p.Side.Clear()
		p.t.Again()
	}
}

func (p *Conflicts) draw(r image.Rectangle) {
	p.read()
	u := p.h.UI()
	k := u.Stack(r, 8)
	if p.bad != nil {
		u.Paragraph(k.Top(40), render.TypeLabel, render.InkText, page.Upper(p.bad.Error()))
	}
	p.h.Joined(&k, &p.made, 5)
	above := k.Top(k.Rest().Dy() * 100 / int(u.Scene().Scale) * 45 / 100)
	used := p.t.Draw(above)
	c := p.chosen()
	if c == nil {
		return
	}
	u.Label(k.Top(22), render.TypeLabel, render.InkText, page.Upper(c.Said()))
	p.choices(k.Top(34+26*len(c.Options)), c, used >= 0)
	s := p.side(c)
	if s == "" {
		u.Paragraph(k.Rest(), render.TypeLabel, render.InkFaint, "Choose what it shall be: then stands here which findings come and go with it.")
		return
	}
	if len(p.would) < len(c.Options) {
		return // each choice is looked at once, before one is looked at closely
	}
	edit, _ := c.Settle(s)
	p.h.Foresee(&k, &p.diff, p.key(c, s), edit)
}

func (p *Conflicts) key(c *merge.Conflict, s merge.Side) string {
	return "settle " + c.Key() + " " + string(s)
}

// choices draws the choices of a conflict, each with what it holds and what it does.
func (p *Conflicts) choices(r image.Rectangle, c *merge.Conflict, focus bool) {
	p.look(c)
	spec := widget.TableSpec{Rows: len(c.Options),
		Columns: []widget.Column{{Title: "Choice", Width: 110}, {Title: "It is then", Width: 300}, {Title: "What it does to the plan in view"}},
		Cell: func(b []byte, row, col int) []byte {
			s := c.Options[row].Side
			return append(b, []string{sideWords[s] + held(c, s), thenWords(c, s), cmp.Or(p.would[p.key(c, s)], "looking…")}[col]...)
		}}
	if e := p.h.UI().Table("choices", r, &p.Side, &spec); e.Used && p.needChoice() == "" {
		p.take()
	}
}

// look finds out what one of the choices would do that is not known yet.
func (p *Conflicts) look(c *merge.Conflict) {
	if len(p.would) > 0 {
		if _, of := p.would[p.key(c, c.Options[0].Side)]; !of {
			clear(p.would) // of another conflict
		}
	}
	for _, o := range c.Options {
		key := p.key(c, o.Side)
		if _, known := p.would[key]; known {
			continue
		}
		edit, err := c.Settle(o.Side)
		if err != nil {
			p.would[key] = err.Error()
			continue
		}
		if text, known := p.h.Would(key, edit); known {
			p.would[key] = text
			p.h.Again()
			continue
		}
		return
	}
}

var sideWords = map[merge.Side]string{merge.Ours: "Ours", merge.Theirs: "Theirs", merge.Base: "As before", merge.Both: "Both"}

func held(c *merge.Conflict, s merge.Side) string {
	if c.Held == s {
		return " (held)"
	}
	return ""
}

// thenWords says what a record or field is with a choice.
func thenWords(c *merge.Conflict, s merge.Side) string {
	switch {
	case s == merge.Both:
		return "both stand"
	case c.Says[s] != "":
		return c.Says[s]
	case len(c.Fields) > 0:
		return "nothing there"
	}
	return "not there"
}

// Known counts the choices of the chosen conflict of which it is known what they do.
func (p *Conflicts) Known() int { return len(p.would) }
