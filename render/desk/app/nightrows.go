package app

import (
	"cmp"
	"strconv"
	"strings"

	"emberbeat/timeline"
)

// nightRow is one thing that a night says: an item of one of its lists.
type nightRow struct {
	word   string // kind of it: "cut"
	field  string // list it stands in
	n      int    // place in it, from 1
	text   string
	reason string
	cues   int // touched, -1 where that is no question or not known yet
}

// nightRows lists all that a night says besides its set and venue.
func (a *App) nightRows(n *timeline.Night) []nightRow {
	var rows []nightRow
	add := func(word, field string, place int, text, reason string, cues int) {
		rows = append(rows, nightRow{word, field, place + 1, text, reason, cues})
	}
	for i, c := range n.Cuts {
		add("cut", "cuts", i, a.selectorText(c.Selector), c.Reason, -1)
	}
	for i, s := range n.Swaps {
		add("swap", "swaps", i, a.selectorText(s.Selector)+" for "+a.nameOf([]string{"article"}, "", s.To)+", same hits", s.Reason, -1)
	}
	for i, c := range n.Rig {
		text := c.Kind + " " + a.nameOf([]string{c.Kind}, "", c.ID) + " is out of the rig"
		if !c.Out {
			text = c.Kind + " " + a.nameOf([]string{c.Kind}, "", c.ID) + " is plugged into " + a.nameOf([]string{"bank", "device"}, "", c.Unit) + " output " + strconv.Itoa(c.Output)
		}
		add("out", "rig-changes", i, text, c.Why, -1)
	}
	for i, s := range n.Shifts {
		add("shift", "shifts", i, a.shiftText(s), "", -1)
	}
	if t := a.tonight(); t != nil && len(t.Changes) == len(rows) { // both list cuts, swaps, rig and shifts in this order
		for i := range rows {
			rows[i].cues = t.Changes[i].Cues
		}
	}
	for i, c := range n.Conditions {
		add("condition", "conditions", i, c, "", -1)
	}
	for i, d := range n.Distances {
		add("distance", "distances", i, a.distanceText(d), d.Clause, -1)
	}
	for i, f := range n.Fills {
		add("fill", "fills", i, a.nameOf([]string{"supply"}, "", f.Supply)+" weighed: "+strconv.FormatFloat(f.Kg, 'f', -1, 64)+" kg", "", -1)
	}
	for i, x := range n.Accepted {
		add("accepted", "accepted", i, x.Rule+" of "+a.recordText(x.Record), x.By+": "+x.Reason, -1)
	}
	return rows
}

// recordText names the record of an acceptance.
func (a *App) recordText(text string) string {
	if text == "" {
		return "the show"
	}
	return a.refName(text)
}

// selectorText says what a cut or swap chooses.
func (a *App) selectorText(s timeline.Selector) string {
	switch s.What {
	case "family":
		return "family " + s.ID
	case "lane", "cue":
		for _, g := range a.work.shown.Songs {
			if l := g.Lane(timeline.ID(s.ID)); s.What == "lane" && l != nil {
				return "lane " + laneName(l) + " of " + g.FullTitle()
			}
			if c := g.Cue(timeline.ID(s.ID)); s.What == "cue" && c != nil {
				return "cue at " + c.At.String() + " of " + g.FullTitle()
			}
		}
		return s.What + " " + s.ID + " (gone)"
	}
	return s.What + " " + a.nameOf([]string{s.What}, "", timeline.ID(s.ID))
}

func (a *App) shiftText(s timeline.Shift) string {
	text := a.nameOf([]string{"song"}, "", s.Song)
	if s.Start != nil {
		text += " starts at " + s.Start.String()
	}
	if s.By != 0 {
		text += " moved by " + s.By.Text(4) + " s"
	}
	return text
}

// distanceText says what a distance asks for.
func (a *App) distanceText(d timeline.Distance) string {
	var parts []string
	if d.AtLeast > 0 {
		parts = append(parts, strconv.FormatFloat(d.AtLeast, 'f', -1, 64)+" m")
	}
	if d.Fallout > 0 {
		parts = append(parts, strconv.FormatFloat(d.Fallout, 'f', -1, 64)+" times the fallout radius")
	}
	text := "at least " + strings.Join(parts, " or ") + " to " + string(d.To)
	var whose []string
	for _, f := range d.Families {
		whose = append(whose, string(f))
	}
	for _, id := range d.Articles {
		whose = append(whose, a.nameOf([]string{"article"}, "", id))
	}
	if len(whose) == 0 {
		return text + ", from every effect"
	}
	return text + ", from " + strings.Join(whose, ", ")
}

// selectorChoices gives what can be cut or swapped of a kind, by id and by name.
func (a *App) selectorChoices(what string) (ids, names []string) {
	w := a.work
	add := func(id, name string) { ids, names = append(ids, id), append(names, name) }
	switch what {
	case "family":
		for _, f := range timeline.Families() {
			if w.usesFamily(f) {
				add(string(f), string(f))
			}
		}
	case "lane":
		for _, g := range w.setlist() {
			for _, l := range g.Lanes {
				add(string(l.ID), g.FullTitle()+": "+laneName(l))
			}
		}
	case "cue":
		for _, c := range w.selected() {
			add(string(c.ID), "cue at "+c.At.String()+" of "+w.songInView().FullTitle())
		}
	case "song":
		for _, g := range w.setlist() {
			add(string(g.ID), g.FullTitle())
		}
	default:
		return a.recordChoices(what)
	}
	return ids, names
}

// recordChoices gives the records of a kind by id and by name, in the order of names.
func (a *App) recordChoices(kind string) (ids, names []string) {
	ids, names = a.choices(&timeline.Field{Ref: []string{kind}}, "")
	return ids[1:], names[1:]
}

// usesFamily reports whether the rig holds an effect of a family.
func (w *work) usesFamily(f timeline.Family) bool {
	for _, u := range w.plan.Units.All {
		if art := w.shown.Stock.Article(u.Placed.Article); art != nil && art.Family == f {
			return true
		}
	}
	return false
}

// nightCell gives the text of a column of the table of a night.
func nightCell(r *nightRow, col int) string {
	switch col {
	case 0:
		return r.word
	case 1:
		return r.text
	case 2:
		if r.cues >= 0 {
			return strconv.Itoa(r.cues)
		}
		return ""
	}
	return cmp.Or(r.reason, "")
}
