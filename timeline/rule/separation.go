package rule

import (
	"fmt"

	"emberbeat/timeline"
	"emberbeat/timeline/figure"
)

var _ = enter(Rule{
	Name:    separationName,
	Summary: "an effect stands nearer to an audience line than is asked for",
	Reason: "Required is the largest of the article's label distance, what the venue's rule set asks for, what its permit and tonight's officer ask for, and the article's clear " +
		"zone and fallout radius, in which nobody belongs. The finding says which governs. Measured on the plan from the unit's position to the nearest point of the line; height is " +
		"not counted. Required is rounded up and what is kept is rounded down to a tenth of a metre, and what is printed is what is judged. A line rocket needs half its corridor, or its fallout radius, along its whole line; a tilted comet, mine or airburst keeps its label distance, " +
		"clear zone and fallout as far as it may come down, any other tilted effect from its axis. Nothing that glows comes nearer than a rule set says of that. No rule set applies unless the venue names one. What is not given is not compared: see not-checked.",
	Scope:    WholeSet,
	Severity: Error,
	Settings: []Setting{
		{Name: "separation", Unit: "m", Field: "article separation", Mark: timeline.CommonPractice, Source: "the article's own mark and source", Help: "label distance to the audience; 0 = not given"},
		{Name: "clear", Unit: "m", Field: "article clear, or article fallout", Mark: timeline.CommonPractice, Source: "the article's own mark and source", Help: "zone and fallout radius in which nobody belongs; 0 = not given"},
		{Name: "distances", Field: "ruleset distances, or venue distances, or night distances", Mark: timeline.CommonPractice, Source: "the record's own", Help: "what rule set, permit and officer ask for"},
		{Name: "extra", Default: "0", Unit: "m", Mark: timeline.Judgement, Source: "none: a margin of your own", Help: "added to what is asked"},
		throwSetting(),
		{Name: "corridor", Field: "article corridor", Mark: timeline.CommonPractice, Source: "the article's own mark and source", Help: "width that stays free along a line; 0 = not given"},
		inRecord("article height", "m", "how far a tilted effect reaches"),
	},
	set: checkSeparation,
})

// separationExtra is the place of the setting extra, here and in performers.
var separationExtra = setting("extra", "separation", "performers")

func checkSeparation(r *setRun) {
	v := r.plan.Venue
	if v == nil || len(v.Audience) == 0 {
		return
	}
	r.eachArticle(func(a *timeline.Article, uses []*setUse) {
		list := r.askedOf(a, timeline.ToAudience)
		for _, line := range v.Audience {
			if most, ok := mostAsked(list); ok {
				r.tooNear(a, uses, list, most.metres, line)
			}
		}
		r.shortOfAudience(a, uses, fromTrack)
	})
}

// tooNear reports the units of an article that stand too near to a line.
func (r *setRun) tooNear(a *timeline.Article, uses []*setUse, list []asked, most float64, line timeline.PlanLine) {
	short := r.nearer(a, uses, most, func(p timeline.Point) float64 { return fromSegment(p, line.From, line.To) })
	if len(short) == 0 {
		return
	}
	first := r.earliest(usesOf(short))
	t := r.tune(first.song, first.unit, a)
	nearest := nearestOf(short)
	p := figure.Row{Required: most + t.of(separationExtra).plain, Planned: nearest.away}.Printed()
	f := r.firstUse(rigRef("article", a.ID), first)
	f.Others = append(f.Others, rigRef("venue", r.plan.Venue.ID))
	f.Text = fmt.Sprintf("%s stands %s from %s and needs %s: %s governs", r.name(a), r.down(p.Planned), lineName(line.Name, "audience line"), r.up(p.Required), list[0].by)
	f.Values = []Value{word("line", line.String()), measure("required", p.Required, "m"), word("governs", list[0].by)}
	f.Grounds = r.rule.with(separationExtra, t, grounds(list)...)
	f.whoIsNear(short)
	f.Help = fmt.Sprintf("move it %s further away, move the line, swap it or cut it for the night%s", r.up(roundTo(p.Required-p.Planned, 1)), deferral)
	f.Fix = r.cutTonight(short, "too near to "+lineName(line.Name, "audience line"))
	r.add(t, first.song, "", f)
}

// nearer lists the uses of an article whose unit lies nearer to something than
// a distance and the margin of the rule.
func (r *setRun) nearer(a *timeline.Article, uses []*setUse, needs float64, from func(timeline.Point) float64) []near {
	var short []near
	for _, u := range uses {
		if u.unit.Position == nil {
			continue
		}
		t := r.tune(u.song, u.unit, a)
		if away := from(pointOf(u.unit.Position)); !t.off && (figure.Row{Required: needs + t.of(separationExtra).plain, Planned: away}).State() == figure.Short {
			short = append(short, near{u, away})
		}
	}
	return short
}
