package app

import (
	"cmp"
	"slices"
	"strconv"

	"emberbeat/render/desk/openshow"
	"emberbeat/render/desk/page"
	"emberbeat/timeline"
	"emberbeat/timeline/field"
)

// What can be chosen in a form.

// fill gives the fields what can be chosen in the show as it stands.
func (f *form) fill(a *App) {
	for _, r := range f.rows {
		arg := r.arg
		if len(arg.Ref)+len(arg.Choices) == 0 && f.spec.Choices[arg.Name] == nil && arg.Offers(a.work.Show) == nil {
			continue
		}
		f.choose(a, r)
	}
}

// choose lists what can be chosen for an argument; what was chosen and is no more falls back to the first.
func (f *form) choose(a *App, r *formRow) {
	was := r.chosen()
	kinds, none := r.arg.Ref, ""
	if r.kind != nil {
		kinds = kinds[r.kind.at : r.kind.at+1]
	}
	if r.values, r.value.names = f.valuesOf(a, r, kinds), []string{}; len(r.values) == 0 && len(kinds) > 0 {
		none = noneOf(kinds[0])
	}
	var many []bool
	r.value.at = 0
	for i, v := range r.values {
		r.value.names = append(r.value.names, v.Name)
		many = append(many, slices.Contains(was, v.Value))
		if len(was) > 0 && was[0] == v.Value {
			r.value.at = i
		}
	}
	if r.value.text = ""; r.arg.Type == field.ListType && !f.spec.Sets[r.arg.Name] {
		r.value.many = slices.Clip(append([]bool{}, many...))
	}
	if f.spec.Off[r.arg.Name] == nil {
		r.value.off = func() string { return none }
	}
}

// valuesOf gives what an argument can be, of the kinds that are asked for.
func (f *form) valuesOf(a *App, r *formRow, kinds []string) []page.Choice {
	arg := r.arg
	if own := f.spec.Choices[arg.Name]; own != nil {
		return own()
	}
	var list []page.Choice
	if offers := arg.Offers(a.work.Show); offers != nil {
		for _, x := range offers {
			list = append(list, page.Choice{Value: x.Value, Name: x.Name})
		}
		return list
	}
	for _, word := range arg.Choices {
		list = append(list, page.Choice{Value: word, Name: cmp.Or(word, "none")})
	}
	if len(arg.Ref) > 0 && arg.Need == "" && arg.Type != field.ListType {
		list = append(list, page.Choice{Name: "none"})
	}
	for _, kind := range kinds {
		ids, names := a.selectorChoices(kind)
		for i, id := range ids {
			v := page.Choice{Value: id, Name: names[i]}
			if arg.Kinded {
				v.Value = kind + "=" + id
			}
			switch {
			case arg.Kinded && len(kinds) > 1:
				v.Name = kindWord(kind) + " " + v.Name
			case len(kinds) > 1:
				v.Name += "  (" + kindWord(kind) + ")"
			}
			list = append(list, v)
		}
	}
	return list
}

// kindWord is what a kind is called in a choice of kinds.
func kindWord(kind string) string {
	if kind == "placed" {
		return "placed effect"
	}
	return kind
}

// noneOf says that there is nothing of a kind to choose.
func noneOf(kind string) string {
	k := timeline.KindOf(kind)
	switch {
	case kind == "cue":
		return "no cue is selected in the timeline"
	case k == nil:
		return "the rig has no effect of any " + kind
	case k.Part == timeline.StockPart:
		return "the stock has no " + kindWord(kind)
	case k.Part == timeline.RigPart:
		return "the rig has no " + kindWord(kind)
	}
	return "the show has no " + kindWord(kind)
}

// selectorChoices gives what an operation can be about of a kind, by id and by name.
func (a *App) selectorChoices(what string) (ids, names []string) {
	w := a.work
	add := func(id, name string) { ids, names = append(ids, id), append(names, name) }
	switch what {
	case "family":
		for _, f := range timeline.Families() {
			if usesFamily(w, f) {
				add(string(f), string(f))
			}
		}
	case "lane":
		for _, g := range w.Setlist() {
			for _, l := range g.Lanes {
				add(string(l.ID), g.FullTitle()+": "+page.LaneName(a.work.Show, l))
			}
		}
	case "cue":
		for _, c := range w.Selected() {
			add(string(c.ID), "cue at "+c.At.String()+" of "+w.InView().FullTitle())
		}
	case "song":
		for _, g := range w.Setlist() {
			add(string(g.ID), g.FullTitle())
		}
	case "wire":
		for _, x := range w.Show.Rig.Wires {
			add(string(x.ID), a.nameOf([]string{"placed"}, "", x.Placed)+" on "+a.nameOf([]string{"bank", "device"}, "", x.Driver)+" output "+strconv.Itoa(x.Output))
		}
	default:
		return a.recordChoices(what)
	}
	return ids, names
}

// recordChoices gives the records of a kind by id and by name, in the order of names.
func (a *App) recordChoices(kind string) (ids, names []string) {
	ids, names = page.Choices(a.work.Show, &timeline.Field{Ref: []string{kind}}, "")
	return ids[1:], names[1:]
}

// usesFamily reports whether the rig holds an effect of a family.
func usesFamily(w *openshow.Work, f timeline.Family) bool {
	for _, u := range w.Plan.Units.All {
		if art := w.Show.Stock.Article(u.Placed.Article); art != nil && art.Family == f {
			return true
		}
	}
	return false
}
