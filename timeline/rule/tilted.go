package rule

import "emberbeat/timeline"

var _ = enter(Rule{
	Name:    "tilted-distance",
	Summary: "where a tilted effect comes down is nearer to people than rule set, permit or officer ask of its device",
	Reason: "Rule sets, permits and officers mostly measure from the device, and separation and performers do so. What is tilted comes nearer with its axis or its path: the same distance is looked at from there, on the " +
		"plan, so that somebody asks what is meant. Label distance, clear zone and fallout are kept from there by separation and performers.",
	Scope:    WholeSet,
	Severity: Warning,
	Settings: []Setting{
		{Name: "distances", Field: "ruleset distances, or venue distances, or night distances", Mark: timeline.CommonPractice, Source: "the record's own", Help: "what rule set, permit and officer ask for"},
		inRecord("article height", "m", "how far a tilted effect reaches"),
	},
	set: func(r *setRun) {
		if r.plan.Venue == nil {
			return
		}
		r.eachArticle(func(a *timeline.Article, uses []*setUse) {
			r.shortOfPeople(a, uses, func(row *Row) bool { return row.words && row.From != FromUnit })
		})
	},
})

// fromTrack tells the rows that an article's own distances ask for along its
// axis, path or line: errors, of separation and performers.
func fromTrack(row *Row) bool {
	return !row.words && row.From != FromUnit && row.From != FromEnvelope
}
