package rule

import (
	"cmp"
	"fmt"
	"slices"

	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:    "wrong-medium",
	Summary: "units are fed with something else than their article uses",
	Reason: "After a swap or a change of stock a unit may still hang on the old cylinder. Nothing is drawn from a supply that holds another medium, " +
		"so that its level is no help either. One finding for each article and supply.",
	Scope:    WholeSet,
	Severity: Error,
	set:      checkMedium,
})

// checkMedium gathers, for each article, the uses on units that no supply
// feeds with what it needs, by the first supply that feeds them.
func checkMedium(r *setRun) {
	supplies := r.plan.Show.Rig.Supplies
	r.eachArticle(func(a *timeline.Article, uses []*setUse) {
		wrong := make([][]*setUse, len(supplies))
		for _, u := range uses {
			feeds := r.feeds.Of(u.unit)
			if len(feeds) > 0 && !slices.ContainsFunc(feeds, func(s int) bool { return supplies[s].Holds(a) }) {
				wrong[feeds[0]] = append(wrong[feeds[0]], u)
			}
		}
		for i, list := range wrong {
			if len(list) > 0 {
				r.wrongMedium(supplies[i], a, list)
			}
		}
	})
}

func (r *setRun) wrongMedium(s *timeline.Supply, a *timeline.Article, uses []*setUse) {
	first := r.earliest(uses)
	ref := rigRef("supply", s.ID)
	f := r.firstUse(ref, first)
	f.Others = append(f.Others, rigRef("article", a.ID))
	f.Text = fmt.Sprintf("%s uses %s, and %s, which feeds it, holds %s", a.Name, a.Medium, s.Name, s.Medium)
	f.Values = []Value{word("article", string(a.ID)), word("uses", a.Medium), word("holds", s.Medium)}
	f.Grounds = []Ground{ofArticle(a, "medium", a.Medium), ofRecord(ref, "medium", s.Medium, "")}
	f.Help = "feed it from a supply of " + a.Medium
	for _, u := range uses {
		r.add(r.tune(u.song, u.unit, a), first.song, u.unit.Name, f)
	}
}

// earliest gives the use that the set plays first; what keys alone are meant
// for comes last.
func (r *setRun) earliest(uses []*setUse) *setUse {
	return slices.MinFunc(uses, func(a, b *setUse) int {
		if a.song != b.song {
			return cmp.Compare(uint(a.song), uint(b.song))
		}
		return int(a.first - b.first) // commands are sorted by time
	})
}
