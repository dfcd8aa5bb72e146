package app

import (
	"strconv"

	"emberbeat/timeline"
)

// selectorChoices gives what an operation can be about of a kind, by id and by name.
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
	case "wire":
		for _, x := range w.shown.Rig.Wires {
			add(string(x.ID), a.nameOf([]string{"placed"}, "", x.Placed)+" on "+a.nameOf([]string{"bank", "device"}, "", x.Driver)+" output "+strconv.Itoa(x.Output))
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
