package rule

import (
	"cmp"
	"fmt"
	"slices"

	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:    "dense",
	Summary: "more reports in a short time than an audience bears well",
	Reason: "Hits of the family report are counted in every window of the given length, both its ends included. A report on each of several units " +
		"counts each.",
	Scope:    InSong,
	Severity: Warning,
	Settings: []Setting{
		{Name: "most", Default: "4", Mark: timeline.Judgement, Source: "our judgement", Help: "so many reports are no warning yet"},
		{Name: "window", Default: "10", Unit: "s", Mark: timeline.Judgement, Source: "our judgement", Help: "length of the window"},
	},
	song: checkDense,
})

var (
	denseMost   = setting("most", "dense")
	denseWindow = setting("window", "dense")
)

// checkDense reports each run of crowded windows once, at its fullest.
func checkDense(r *songRun) {
	var hits []*timeline.Command
	for i := range r.plan.Commands {
		if c := &r.plan.Commands[i]; c.Article.Family.IsReport() && !r.tune(c).off {
			hits = append(hits, c)
		}
	}
	slices.SortStableFunc(hits, func(a, b *timeline.Command) int { return cmp.Compare(a.Hit, b.Hit) })
	start, worst, worstStart := 0, -1, 0
	for i := range hits {
		t := r.tune(hits[i])
		for hits[i].Hit-hits[start].Hit > t.of(denseWindow).time {
			start++
		}
		switch {
		case float64(i-start+1) <= t.of(denseMost).plain:
			r.crowded(hits, worstStart, worst)
			worst = -1
		case worst < 0 || i-start > worst-worstStart:
			worst, worstStart = i, start
		}
	}
	r.crowded(hits, worstStart, worst)
}

// crowded reports the hits from start to end, if there is an end.
func (r *songRun) crowded(hits []*timeline.Command, start, end int) {
	if end < 0 {
		return
	}
	c := hits[start]
	t := r.tune(hits[end])
	n := end - start + 1
	f := about(r.plan, c.Cue, c.Hit)
	for _, h := range hits[start+1 : end+1] {
		if o := cueRef(r.plan, h.Cue); h.Cue != c.Cue && !slices.Contains(f.Others, o) {
			f.Others = append(f.Others, o)
		}
	}
	within := hits[end].Hit - c.Hit
	f.Text = fmt.Sprintf("%d reports within %s; more than %s in %s is a lot for an audience", n, span(within), t.of(denseMost).text, span(t.of(denseWindow).time))
	f.Values = []Value{count("reports", n), seconds("within", within), {Name: "most", Text: t.of(denseMost).text, Number: true}, seconds("window", t.of(denseWindow).time)}
	f.Spans = []Span{{"window", c.Hit, c.Hit + t.of(denseWindow).time}, {"first", c.Hit, c.Hit}, {"last", hits[end].Hit, hits[end].Hit}}
	f.Grounds = []Ground{r.rule.fromSetting(denseMost, t), r.rule.fromSetting(denseWindow, t)}
	f.Help = "spread them out or take some out"
	r.add(t, "", f)
}
