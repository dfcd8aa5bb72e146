package rule

import (
	"fmt"

	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:    "lead-spread",
	Summary: "an article's hit may lie further beside the music than an audience overlooks",
	Reason: "Two shots of one article do not take the same time: the spread is how far a hit may lie before or after the mean. No cue can make up for it, only " +
		"an article with less spread, or a place in the music where nobody counts. One note for each article that the set plays.",
	Scope:    WholeSet,
	Severity: Note,
	Settings: []Setting{
		{Name: "spread", Unit: "s", Field: "article spread", Mark: timeline.CommonPractice, Source: "the article's own mark and source", Help: "half width of the lead's spread"},
		{Name: "most", Default: "0.0450", Unit: "s", Mark: timeline.Published, Source: "ITU-R BT.1359-1: sound 45 ms before the picture is noticed", Help: "a spread that is not worth a note"},
	},
	set: checkLeadSpread,
})

// spreadMost is the place of the setting most.
var spreadMost = setting("most", "lead-spread")

func checkLeadSpread(r *setRun) {
	r.eachArticle(func(a *timeline.Article, uses []*setUse) {
		var wide []*setUse
		total := 0
		for _, u := range uses {
			if u.song >= 0 && a.Spread > r.tune(u.song, u.unit, a).of(spreadMost).time {
				wide = append(wide, u)
				total += u.cues
			}
		}
		if len(wide) == 0 {
			return
		}
		first := r.earliest(wide)
		t := r.tune(first.song, first.unit, a)
		f := r.firstUse(rigRef("article", a.ID), first)
		f.Text = fmt.Sprintf("%s may hit %s before or after the music; more than %s is noticed; %s", r.name(a), span(a.Spread), span(t.of(spreadMost).time), timeline.Counted(total, "command"))
		f.Values = []Value{seconds("spread", a.Spread), seconds("most", t.of(spreadMost).time), count("commands", total)}
		f.Grounds = []Ground{ofArticle(a, "spread", span(a.Spread)), r.rule.fromSetting(spreadMost, t)}
		f.Help = "measure its lead again, use an article with less spread, or raise the setting most to " + span(a.Spread)
		r.add(t, first.song, "", f)
	})
}
