package rule

import (
	"fmt"

	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:    "nec-limit",
	Summary: "more net explosive content stands at a position or on site than is allowed at one time",
	Reason: "All pieces that stand at a position count, spares and what no cue commands included; for a venue and a permit all that is on site. Time separates effects and not what is stored. A limit that is not given is " +
		"not compared.",
	Scope:    WholeSet,
	Severity: Error,
	Settings: []Setting{
		{Name: "position", Unit: "g", Field: "position nec-limit", Mark: timeline.Label, Source: "label or permit", Help: "most at one position; 0 = not given"},
		{Name: "venue", Unit: "g", Field: "venue nec-limit", Mark: timeline.Label, Source: "the venue", Help: "most on site; 0 = not given"},
		{Name: "permit", Unit: "g", Field: "night permits, or venue permits", Mark: timeline.Label, Source: "the permit", Help: "nec= of each"},
	},
	set: checkNECLimits,
})

func checkNECLimits(r *setRun) {
	at := map[*timeline.StagePosition]float64{}
	all := 0.0
	for i := range r.onSite().Loads {
		l := &r.onSite().Loads[i]
		all += l.NEC()
		if l.Unit.Position != nil {
			at[l.Unit.Position] += l.NEC()
		}
	}
	for _, p := range r.plan.Show.Rig.Positions {
		if p.NEC > 0 {
			r.aboveNEC(at[p], p.NEC, "at "+r.name(p), "of the position", rigRef("position", p.ID), "nec-limit")
		}
	}
	if v := r.plan.Venue; v != nil {
		if v.NEC > 0 {
			r.aboveNEC(all, v.NEC, "on site", "of the venue", rigRef("venue", v.ID), "nec-limit")
		}
		for _, p := range v.Permits {
			r.permitNEC(all, p, rigRef("venue", v.ID))
		}
	}
	if n := r.plan.Night; n != nil {
		for _, p := range n.Permits {
			r.permitNEC(all, p, rigRef("night", n.ID))
		}
	}
}

func (r *setRun) permitNEC(all float64, p timeline.Permit, ref timeline.Ref) {
	if p.NEC > 0 {
		r.aboveNEC(all, p.NEC, "on site", "of the permit "+p.Name, ref, "permits")
	}
}

// aboveNEC reports grams above a limit, to the milligram that masses are kept in.
func (r *setRun) aboveNEC(grams, limit float64, where, whose string, ref timeline.Ref, field string) {
	if grams-limit < 0.0005 {
		return
	}
	f := Finding{Ref: ref, Text: fmt.Sprintf("%s of net explosive content stand %s, and the limit %s is %s", r.given("g", roundTo(grams, 3)), where, whose, r.given("g", limit))}
	f.Values = []Value{measure("nec", roundTo(grams, 3), "g"), measure("limit", limit, "g")}
	f.Grounds = []Ground{ofRecord(ref, field, r.given("g", limit), timeline.Label)}
	f.Help = "place or load less, or ask for another limit" + deferral
	r.add(r.settings.at(nil, nil, nil), -1, "", f)
}
