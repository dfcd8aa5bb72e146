package rule

import (
	"fmt"

	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:    "wind",
	Summary: "an article may be fired up to less wind than the place allows",
	Reason: "The place stops at its own wind limit or at that of its rule set, whichever is lower. An article with a lower one must be held earlier, and somebody must know. Where either " +
		"limit is not given nothing is compared: see not-checked.",
	Scope:    WholeSet,
	Severity: Warning,
	Settings: []Setting{
		{Name: "wind", Unit: "m/s", Field: "article wind", Mark: timeline.Judgement, Source: "the article's own mark and source", Help: "wind up to which it may be fired; 0 = not given"},
		{Name: "limit", Unit: "m/s", Field: "venue wind, or ruleset wind", Mark: timeline.CommonPractice, Source: "the record's own", Help: "nothing may be fired above it; 0 = not given"},
	},
	set: checkWind,
})

// placeWind gives the wind at which the place stops, and where that stands;
// 0 where neither venue nor rule set says.
func (r *setRun) placeWind() (limit float64, at []Ground) {
	v := r.plan.Venue
	if v == nil {
		return 0, nil
	}
	if limit = v.Wind; limit > 0 {
		at = append(at, ofRecord(rigRef("venue", v.ID), "wind", r.given("m/s", limit), ""))
	}
	if set := RuleSetOf(r.plan.Show, v); set != nil && set.Wind > 0 {
		g := Ground{rigRef("ruleset", set.ID), "wind", r.given("m/s", set.Wind), set.Mark, set.Source}
		if limit == 0 || set.Wind < limit {
			return set.Wind, append([]Ground{g}, at...)
		}
		at = append(at, g)
	}
	return limit, at
}

func checkWind(r *setRun) {
	limit, at := r.placeWind()
	if limit == 0 {
		return
	}
	r.eachArticle(func(a *timeline.Article, uses []*setUse) {
		if a.Wind == 0 || a.Wind >= limit {
			return
		}
		first := r.earliest(uses)
		f := r.firstUse(rigRef("article", a.ID), first)
		f.Others = append(f.Others, rigRef("venue", r.plan.Venue.ID))
		f.Text = fmt.Sprintf("%s may be fired up to %s, and the place goes on up to %s", r.name(a), r.given("m/s", a.Wind), r.given("m/s", limit))
		f.Values = []Value{measure("article", a.Wind, "m/s"), measure("place", limit, "m/s")}
		f.Grounds = append([]Ground{ofArticle(a, "wind", r.given("m/s", a.Wind))}, at...)
		f.Help = "hold it from " + r.given("m/s", a.Wind) + " on: write that on the hold sheet, or swap it" + deferral
		r.add(r.tune(first.song, first.unit, a), first.song, "", f)
	})
}
