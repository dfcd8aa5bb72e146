package rule

import "emberbeat/timeline"

var _ = enter(Rule{
	Name:     "open-time",
	Summary:  "an open time is shorter or longer than the article allows",
	Reason:   "Below its shortest open time an effect does not build up; above its longest it overheats, runs empty or is no longer what was tested.",
	Scope:    InSong,
	Severity: Error,
	Settings: []Setting{
		{Name: "open-min", Unit: "s", Field: "article open-min", Mark: timeline.CommonPractice, Source: "the article's own mark and source", Help: "shortest open time; 0 = no limit"},
		{Name: "open-max", Unit: "s", Field: "article open-max", Mark: timeline.CommonPractice, Source: "the article's own mark and source", Help: "longest open time; 0 = no limit"},
	},
	song: checkOpenTime,
})

func checkOpenTime(r *songRun) {
	var last *timeline.Command // with a finding
	var f Finding
	for i := range r.plan.Commands {
		c := &r.plan.Commands[i]
		if last != nil && c.Cue == last.Cue && c.Article == last.Article && c.At == last.At && c.Open == last.Open {
			r.add(r.tune(c), c.Unit.Name, f) // what is said differs in the unit alone
			continue
		}
		limit, text, field := c.Article.OpenMin, " is less than the least ", "open-min"
		if c.Open >= limit {
			limit, text, field = c.Article.OpenMax, " is more than the most ", "open-max"
			if limit == 0 || c.Open <= limit {
				continue
			}
		}
		last, f = c, about(r.plan, c.Cue, c.Hit)
		f.Text = "open for " + span(c.Open) + text + r.name(c.Article) + " allows, " + span(limit)
		f.Values = []Value{seconds("open", c.Open), seconds("least", c.Article.OpenMin), seconds("most", c.Article.OpenMax)}
		f.Spans = []Span{{"open", c.At, c.End()}, {"allowed", c.At, c.At + limit}}
		f.Grounds = []Ground{ofArticle(c.Article, field, span(limit))}
		f.Help = "give the cue an open time of " + span(limit)
		f.Fix = setOpen(r.plan, c.Cue, limit)
		r.add(r.tune(c), c.Unit.Name, f)
	}
}
