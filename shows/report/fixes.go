package report

import (
	"slices"

	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// OfferedFix is one change that solves findings of one cause: of all of them that
// nobody has accepted, or of one.
type OfferedFix struct {
	Rule  string
	Where string // which findings: "12 in songs 1, 2, 8"
	Fix   *rule.Fix
}

// Fixes lists the changes that are offered for the findings of a list, of one rule
// or ("") of all, the gravest findings first. One that the show would refuse is
// none. Where findings of one cause would write the same twice, only the first of
// those is offered: what the others need is found anew after it.
func (l *Findings) Fixes(name string) []OfferedFix {
	found := make([]rule.Finding, len(l.List))
	for i, at := range l.places {
		found[i] = l.found[at]
	}
	type place struct {
		on    timeline.Ref
		field string
	}
	taken := map[place]bool{}
	var list []OfferedFix
	offer := func(g *FindingGroup, where string, fix *rule.Fix, places ...place) {
		if slices.ContainsFunc(places, func(p place) bool { return taken[p] }) {
			return
		}
		if _, err := l.plan.Show.Edit(fix.Edits...); err != nil {
			return
		}
		for _, p := range places {
			taken[p] = true
		}
		list = append(list, OfferedFix{g.Rule, where, fix})
	}
	groups := GroupFindings(l.plan, found)
	for i := range groups {
		g := &groups[i]
		if name != "" && g.Rule != name || !rule.Fixes(g.Rule) {
			continue
		}
		var places []place
		for _, at := range g.Found {
			if f := &found[at]; f.Fix != nil && f.Accepted == nil {
				places = append(places, place{f.Fix.On, f.Fix.Field})
			}
		}
		if g.Fix != nil {
			offer(g, g.Where, g.Fix, places...)
			continue
		}
		for _, at := range g.Found {
			if f := &found[at]; f.Fix != nil && f.Accepted == nil {
				offer(g, whereOf([]int{at}, found), f.Fix, place{f.Fix.On, f.Fix.Field})
			}
		}
	}
	return list
}
