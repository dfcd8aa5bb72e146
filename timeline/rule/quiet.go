package rule

import (
	"fmt"
	"slices"

	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:    "quiet",
	Summary: "an effect falls into a quiet or dark window of the venue",
	Reason: "A venue may allow no effects, or none of some families, between two times of day or in named songs or sections. An effect counts from its command, or its hit, to its closing or the end " +
		"of its hang time. Times of day count from the hour at which the night begins and the set times of the plan; a show runs early or late, so what lies nearer to such a window than the " +
		"slack is found as well. Without that hour nothing is compared with times of day: see not-checked.",
	Scope:    WholeSet,
	Severity: Error,
	Settings: []Setting{
		{Name: "quiet-windows", Field: "venue quiet-windows", Mark: timeline.Measured, Source: "the venue", Help: "when, and which families"},
		{Name: "slack", Default: "300", Unit: "s", Mark: timeline.Judgement, Source: "our judgement", Help: "how much a show may run early or late; windows between times of day alone"},
	},
	set: checkQuiet,
})

// quietSlack is the place of its setting.
var quietSlack = setting("slack", "quiet")

// quietHit is what falls into a window in one song.
type quietHit struct {
	song, command int
	commands      int
}

func checkQuiet(r *setRun) {
	v := r.plan.Venue
	if v == nil {
		return
	}
	for i := range v.Windows {
		q := &v.Windows[i]
		found := map[*timeline.Article]*quietHit{}
		var order []*timeline.Article
		for j := range r.plan.Songs {
			spans, _ := r.plan.QuietIn(q, j)
			if len(spans) == 0 {
				continue
			}
			ps := r.song(j)
			for k := range ps.Commands {
				c := &ps.Commands[k]
				t := r.tune(j, c.Unit, c.Article)
				if t.off || !q.Covers(c.Article) || !falls(c, spans, slackOf(q, t)) {
					continue
				}
				if found[c.Article] == nil {
					found[c.Article] = &quietHit{song: j, command: k}
					order = append(order, c.Article)
				}
				found[c.Article].commands++
			}
		}
		for _, a := range order {
			r.disturbs(q, a, found[a])
		}
	}
}

func slackOf(q *timeline.QuietWindow, t *tuning) timeline.Time {
	if q.From == "" {
		return 0
	}
	return t.of(quietSlack).time
}

// falls reports whether an effect is seen or heard in one of some spans, or
// nearer to it than the slack. Spans have no end of their own: what begins as
// one ends is out of it.
func falls(c *timeline.Command, spans []timeline.TimeSpan, slack timeline.Time) bool {
	from, to := min(c.At, c.Hit), max(c.End(), c.Hit+c.Article.Hang)
	for _, s := range spans {
		if from < s.To+slack && to >= s.From-slack {
			return true
		}
	}
	return false
}

func (r *setRun) disturbs(q *timeline.QuietWindow, a *timeline.Article, hit *quietHit) {
	ps, v := r.song(hit.song), r.plan.Venue
	c := &ps.Commands[hit.command]
	t := r.tune(hit.song, c.Unit, a)
	f := about(ps.SongPlan, c.Cue, c.Hit)
	f.Ref, f.Others = rigRef("venue", v.ID), []timeline.Ref{rigRef("article", a.ID), cueRef(ps.SongPlan, c.Cue)}
	f.Text = fmt.Sprintf("%s of %s in the window %q", timeline.Counted(hit.commands, "command"), r.name(a), q.Name)
	if at, ok := r.plan.TimeOfDay(hit.song, c.Hit); ok && q.From != "" {
		f.Text += fmt.Sprintf(", %s to %s: the first hits at about %s", q.From, q.To, (at % (24 * 60 * timeline.Minute)).Clock(0))
	}
	f.Values = []Value{word("window", q.String()), word("article", string(a.ID)), count("commands", hit.commands)}
	f.Grounds = []Ground{ofRecord(f.Ref, "quiet-windows", q.String(), timeline.Measured)}
	if q.From != "" {
		f.Grounds = append(f.Grounds, r.rule.fromSetting(quietSlack, t))
	}
	f.Help = "cut these hits for the night, swap the article, or move the song in the running order"
	r.add(t, hit.song, "", f)
}

// timeOfDayAsked reports whether a window of the venue takes the hour at which
// the night begins, and nobody has said it.
func (r *setRun) timeOfDayAsked(v *timeline.Venue) bool {
	n := r.plan.Night
	return (n == nil || n.Begins == "") && slices.ContainsFunc(v.Windows, func(q timeline.QuietWindow) bool { return q.From != "" })
}
