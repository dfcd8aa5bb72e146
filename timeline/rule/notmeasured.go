package rule

import (
	"slices"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/reach"
)

var _ = enter(Rule{
	Name:    "not-measured",
	NoData:  true,
	Summary: "a distance, a height or a line that reach, roof and distances need is not given",
	Reason: "What is not given never counts as nought: no distance, no reach and no height was compared with it, and the row of a permit pack says that it cannot be checked. For nights with a venue. " +
		"Of what is tilted see tilted-not-measured, of what stands nowhere not-placed.",
	Scope:    WholeSet,
	Severity: Warning,
	set:      checkNotMeasured,
})

var _ = enter(Rule{
	Name:    "tilted-not-measured",
	NoData:  true,
	Summary: "a tilted effect gives no height, no fallout radius or no label distance, or points where nothing can be computed",
	Reason: "Something that leans comes down or reaches elsewhere than over its unit. Without its height and its fallout radius nobody can say where, and without a label distance what must be kept from there. A shot " +
		"that points down bounces, which is not computed. For nights with a venue.",
	Scope:    WholeSet,
	Severity: Error,
	set:      checkTiltedNotMeasured,
})

var _ = enter(Rule{
	Name:     "not-placed",
	NoData:   true,
	Summary:  "an effect that must keep a distance stands nowhere on the stage plan",
	Reason:   "Flames, sparks, shots and cold jets are looked at from where they stand. Where a venue gives audience lines or marks and the unit has no position, none of them was compared.",
	Scope:    WholeSet,
	Severity: Error,
	set:      checkNotPlaced,
})

func checkNotMeasured(r *setRun) {
	v := r.plan.Venue
	if v == nil {
		return
	}
	var list []string
	if len(v.Audience) == 0 {
		list = append(list, "audience lines (separation, reach, heat)")
	}
	if v.Trim == 0 {
		list = append(list, "trim height (roof)")
	}
	r.missing(rigRef("venue", v.ID), r.name(v)+skippedFor, list, "write it down with the venue, or leave a line for it on the permit pack")
	r.eachArticle(func(a *timeline.Article, uses []*setUse) {
		r.lackingOf(a, uses, false)
	})
	if len(v.Audience)+len(v.Performers)+len(v.Clear) == 0 {
		r.notPlaced(func(*setUse) bool { return true })
	} else {
		r.notPlaced(func(u *setUse) bool { return !keepsDistance(u.article) })
	}
}

func checkTiltedNotMeasured(r *setRun) {
	if r.plan.Venue == nil {
		return
	}
	r.eachArticle(func(a *timeline.Article, uses []*setUse) { r.lackingOf(a, uses, true) })
}

func checkNotPlaced(r *setRun) {
	v := r.plan.Venue
	if v == nil || len(v.Audience)+len(v.Performers)+len(v.Clear) == 0 {
		return
	}
	r.notPlaced(func(u *setUse) bool { return keepsDistance(u.article) })
}

// keepsDistance reports whether people are kept away from an article by nature.
func keepsDistance(a *timeline.Article) bool {
	c := a.Family.Class()
	return c == timeline.Hot || c == timeline.Spark || c == timeline.Shot || c == timeline.Cold
}

// lackingOf reports what an article does not give, of its uses that are tilted or
// of those that are not.
func (r *setRun) lackingOf(a *timeline.Article, uses []*setUse, tilted bool) {
	var those []*setUse
	down := false
	for _, u := range uses {
		x := r.spaces.of(u.unit, a, timeline.ToAudience)
		leans := x != nil && x.Tilted
		if x == nil && r.unplacedLeans(u) {
			leans = true
		}
		if leans == tilted {
			those = append(those, u)
			down = down || x != nil && x.Down
		}
	}
	if len(those) == 0 {
		return
	}
	var list []string
	for _, l := range reach.Lacking(a, tilted) {
		list = append(list, map[string]string{"height": "no height (reach, roof, heat)", "fallout": "no fallout radius (separation, performers)"}[l.Field])
	}
	if slices.ContainsFunc(r.askedOf(a, timeline.ToAudience), func(x asked) bool { return x.by == labelDistance && x.lacks != "" }) {
		list = append(list, "no label distance (separation; neither rule set nor permit gives one)")
	}
	if down {
		list = append(list, "no figure for a shot that points down")
	}
	if len(list) == 0 {
		return
	}
	var names []string
	for _, u := range those {
		names = addOnce(names, u.unit.Name)
	}
	what := strings.Join(list, ", ")
	f := Finding{Ref: rigRef("article", a.ID)}
	f.Text = some(names) + ": " + r.name(a) + " gives " + what + ", so that it cannot be checked"
	if tilted {
		f.Text = some(names) + ": " + r.name(a) + whichWay(those[0].unit, a) + " gives " + what + ", so that it cannot be checked"
	}
	for _, u := range those {
		f.Others = addOnce(f.Others, rigRef("placed", u.unit.Placed.ID))
	}
	f.Values = []Value{word("missing", what), word("units", strings.Join(names, ", "))}
	f.Help = "write it down with the article" + deferral
	r.add(r.settings.at(nil, nil, a), -1, "", f)
}

// unplacedLeans reports whether a unit without a position is turned all the same.
func (r *setRun) unplacedLeans(u *setUse) bool {
	t := r.spaces.reach.at(nil, u.unit, u.article)
	return reach.Points(u.unit, u.article).Lean() > t.of(reachTilted).plain && u.article.Family.Space() != timeline.CurtainSpace
}

// notPlaced reports units that the set plays and that stand nowhere.
func (r *setRun) notPlaced(of func(*setUse) bool) {
	var names []string
	for _, uses := range r.merged {
		for i := range uses {
			if uses[i].unit.Position == nil && of(&uses[i]) {
				names = addOnce(names, uses[i].unit.Name)
			}
		}
	}
	if len(names) > 0 {
		r.missing(rigRef("venue", r.plan.Venue.ID), "without a position on stage, so that separation, performers, reach, heat and where they stand under the roof were not compared: ", []string{some(names)}, "give them a position")
	}
}

// skippedFor stands between what lacks data and which, each with the rules that need it in brackets.
const skippedFor = ": the rules in brackets were skipped, data missing: "
