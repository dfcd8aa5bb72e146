package rule

import (
	"fmt"
	"slices"
	"strings"

	"emberbeat/timeline"
)

// NotChecked is the rule that tells what is not given.
const NotChecked = "not-checked"

var _ = enter(Rule{
	Name:    NotChecked,
	NoData:  true,
	Summary: "something is not given, and what needs it was not compared",
	Reason: "Nothing is assumed about a place or an article. What a rule needs and nobody has written down is not compared, and this note says so, for the absence of findings " +
		"would otherwise be taken for an answer. What distances and heights need is graver: see not-measured. For nights with a venue, and for circuits.",
	Scope:    WholeSet,
	Severity: Note,
	set:      checkNotChecked,
	rig:      checkCircuitsGiven,
})

var _ = enter(Rule{
	Name:     "unknown-rule-set",
	Summary:  "a venue names a rule set that is not known",
	Reason:   "A rule set that nobody has written down asks for nothing: what it would ask for is not compared.",
	Scope:    WholeSet,
	Severity: Warning,
	set:      checkRuleSetKnown,
})

func checkRuleSetKnown(r *setRun) {
	v := r.plan.Venue
	if v == nil || v.RuleSet == "" || RuleSetOf(r.plan.Show, v) != nil {
		return
	}
	var ids []string
	for _, set := range RuleSets(r.plan.Show) {
		ids = append(ids, string(set.ID))
	}
	f := Finding{Ref: rigRef("venue", v.ID), Text: fmt.Sprintf("%s names the rule set %q, and there is none of that name", r.name(v), v.RuleSet), Values: []Value{word("rule set", v.RuleSet)}}
	f.Help = "add it to the show, or name one of: " + strings.Join(ids, ", ")
	r.add(r.settings.at(nil, nil, nil), -1, "", f)
}

// missing notes what a venue or a night does not give.
func (r *setRun) missing(ref timeline.Ref, text string, what []string, help string) {
	if len(what) == 0 {
		return
	}
	f := Finding{Ref: ref, Text: text + strings.Join(what, ", "), Values: []Value{word("missing", strings.Join(what, ", "))}, Help: help + deferral}
	r.add(r.settings.at(nil, nil, nil), -1, "", f)
}

func checkNotChecked(r *setRun) {
	v := r.plan.Venue
	if v == nil {
		return
	}
	ref := rigRef("venue", v.ID)
	r.missing(ref, r.name(v)+skippedFor, r.notGiven(v), "write it down with the venue, or leave a line for it on the permit pack")
	r.missing(ref, "written in words that no rule reads: ", r.inWords(v), "look at them yourself; distances can be written as such")
	r.lineWithoutEnd(ref)
	r.notLabelled()
}

// notGiven lists the numbers that a venue or its night leaves open.
func (r *setRun) notGiven(v *timeline.Venue) (list []string) {
	add := func(gone bool, what string) {
		if gone {
			list = append(list, what)
		}
	}
	limit, _ := r.placeWind()
	gas, fire, ends := false, false, false
	r.eachArticle(func(a *timeline.Article, _ []*setUse) {
		gas, fire, ends = gas || givesCO2(a), fire || burns(a), ends || a.Expires != ""
	})
	add(len(v.Performers) == 0, "performers' marks (performers, heat)")
	add(limit == 0, "wind limit (wind)")
	add(gas && v.Volume == 0, "volume (gas-in-room, gas-mean)")
	add(gas && v.Area == 0, "floor area (gas-layer)")
	add(fire && len(v.Cloths) == 0, "cloths and set (cloth)")
	add(fire && len(v.Exits) == 0, "ways out (exit-reach)")
	add(fire && len(v.Extinguisher) == 0, "extinguishers (extinguisher)")
	add(v.RuleSet == "", "rule set (separation)")
	add(ends && r.plan.Night != nil && r.plan.Night.Date == "", "date of the night (expiry)")
	add(r.timeOfDayAsked(v), "hour at which the night begins (quiet)")
	d, asks := deadlineOf(r.plan)
	add(asks && r.plan.Night.Notified == "" && r.facts.Today == "", fmt.Sprintf("today, and the day of notice, which must be by %s (notice-missed)", d.last))
	licences, ages := 0, 0
	for _, p := range r.plan.Crew() {
		licences += b2i(p.Licence != "" && p.Expires == "")
		ages += b2i(p.Age == 0 && handles(p))
	}
	add(licences > 0, "last day of "+timeline.Counted(licences, "licence")+" (licence-expiry)")
	add(ages > 0, "age of "+timeline.Counted(ages, "person")+" (age)")
	return list
}

// inWords lists what venue and night say in words alone.
func (r *setRun) inWords(v *timeline.Venue) (list []string) {
	if n := len(v.Conditions); n > 0 {
		list = append(list, timeline.Counted(n, "condition")+" of the permit")
	}
	if n := r.plan.Night; n != nil && len(n.Conditions) > 0 {
		list = append(list, timeline.Counted(len(n.Conditions), "condition")+" of the night")
	}
	if n := len(v.Quiet); n > 0 {
		list = append(list, timeline.Counted(n, "quiet window"))
	}
	return list
}

// lineWithoutEnd notes the line rockets that the set plays and whose lines end
// nowhere.
func (r *setRun) lineWithoutEnd(ref timeline.Ref) {
	var names []string
	for _, uses := range r.merged {
		if len(uses) > 0 && uses[0].unit.End == nil && uses[0].article.Family.AlongLine() {
			names = append(names, uses[0].unit.Name)
		}
	}
	if len(names) > 0 {
		r.missing(ref, "line rockets without an end of their line, so that nothing was compared along it (separation, performers, roof): ", []string{some(names)}, "write down the position where the line ends")
	}
}

// notLabelled notes the articles without what a formula or a limit needs: without
// a wind limit where the place has one, without a use of fuel.
func (r *setRun) notLabelled() {
	var gust, fallout, fuel []*timeline.Article
	limit, _ := r.placeWind()
	formula := r.asksFallout()
	r.eachArticle(func(a *timeline.Article, _ []*setUse) {
		if limit > 0 && a.Wind == 0 {
			gust = append(gust, a)
		}
		if a.Fallout == 0 && formula(a) {
			fallout = append(fallout, a)
		}
		if a.Family.Class() == timeline.Hot && (a.UseRate+a.UseEach == 0) {
			fuel = append(fuel, a)
		}
	})
	r.lacking(fallout, "has no fallout radius, from which a distance is computed (separation, performers)")
	r.lacking(gust, "has no wind limit (wind)")
	r.lacking(fuel, "has no use per second (heat)")
}

// asksFallout gives a function that says whether a distance for an article is
// computed from its fallout radius.
func (r *setRun) asksFallout() func(*timeline.Article) bool {
	var all []timeline.Distance
	if set := RuleSetOf(r.plan.Show, r.plan.Venue); set != nil {
		all = append(all, set.Distances...)
	}
	all = append(all, r.plan.Venue.Distances...)
	if r.plan.Night != nil {
		all = append(all, r.plan.Night.Distances...)
	}
	return func(a *timeline.Article) bool {
		return slices.ContainsFunc(all, func(d timeline.Distance) bool {
			return d.Fallout > 0 && (d.Covers(a, timeline.ToAudience) || d.Covers(a, timeline.ToPerformers))
		})
	}
}

// lacking notes articles that lack the same, each with what it lacks.
func (r *setRun) lacking(list []*timeline.Article, what string) {
	for _, a := range list {
		f := Finding{Ref: rigRef("article", a.ID), Text: r.name(a) + " " + what, Values: []Value{word("missing", what)}, Help: "write it down with the article" + deferral}
		r.add(r.settings.at(nil, nil, a), -1, "", f)
	}
}

// checkCircuitsGiven notes the figures that circuits and their banks lack.
func checkCircuitsGiven(r *rigRun) {
	r.eachCircuit(func(h hung, u *timeline.Unit, _ []string) {
		l, err := r.plan.Show.CircuitLoad(h.circuit, h.typ)
		if err != nil || len(l.Missing) == 0 {
			return
		}
		f := Finding{Ref: rigRef("circuit", h.circuit.ID)}
		f.Text = r.name(h.circuit) + " does not give, so that its current was not compared (circuit): " + strings.Join(l.Missing, ", ")
		f.Values = []Value{word("missing", strings.Join(l.Missing, ", "))}
		f.Help = "write it down from the maker's sheet, and measure on site" + deferral
		r.add(r.tune(u, u.Article), "", f)
	})
}
