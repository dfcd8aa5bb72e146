package app

import (
	"fmt"
	"slices"

	"emberbeat/timeline"
)

// needFed says what is missing before effects can be fed from a supply.
func needFed(a *App) string {
	if why := needPlaced(a); why != "" {
		return why
	}
	if len(a.work.shown.Rig.Supplies) == 0 {
		return "there is no supply yet: add one on the page Supplies first"
	}
	return ""
}

// askFeed asks which supply feeds the chosen placed effects.
func (a *App) askFeed() {
	ids := a.chosenPlaced()
	supply, supplies := a.choiceOf("supply", "Supply", "supply", "", true)
	supply.names[0] = "none: take them off"
	supply.at = min(1, len(supplies)-1)
	d := &asking{title: "Feed " + counted(len(ids), "placed effect"), verb: "Feed", fields: []*ask{supply}}
	d.work = func(a *App, _ *asking) outcome { return a.fed(ids, supplies[supply.at]) }
	d.show(a)
}

// fed is what feeding placed effects from one supply, and from no other, comes to.
func (a *App) fed(ids []timeline.ID, from timeline.ID) outcome {
	var recs []timeline.Record
	out := outcome{head: []string{"Effect", "Was fed by", "Is fed by"}}
	for _, s := range a.work.s.Show().Rig.Supplies {
		next := *s
		next.Feeds = slices.DeleteFunc(slices.Clone(s.Feeds), func(id timeline.ID) bool { return slices.Contains(ids, id) })
		if s.ID == from {
			next.Feeds = append(next.Feeds, ids...)
		}
		if !slices.Equal(next.Feeds, s.Feeds) {
			recs = append(recs, &next)
		}
	}
	name := a.nameOf([]string{"supply"}, "", from)
	medium := ""
	if s := a.work.shown.Rig.Supply(from); s != nil {
		medium = s.Medium
	}
	for _, id := range ids {
		was := namesWith(a.work.shown.Rig.Supplies, func(s *timeline.Supply) (string, []timeline.ID) { return s.Name, s.Feeds }, id)
		out.rows = append(out.rows, []string{a.nameOf([]string{"placed"}, "", id), was, name})
		p := a.work.shown.Rig.PlacedEffect(id)
		if p == nil || from == "" {
			continue
		}
		if art := a.work.shown.Stock.Article(p.Article); art != nil && art.Medium != medium {
			out.lines = append(out.lines, fmt.Sprintf("%s uses %s, and %s holds %s.", p.Name, orNothing(art.Medium), name, orNothing(medium)))
		}
	}
	if len(recs) > 0 {
		out.change = change{"feed " + counted(len(ids), "placed effect"), []timeline.Edit{func(d *timeline.Draft) error {
			d.Put("", recs...)
			return nil
		}}}
	}
	return out
}

func orNothing(medium string) string {
	if medium == "" {
		return "nothing"
	}
	return medium
}
