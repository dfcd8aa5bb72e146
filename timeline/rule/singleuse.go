package rule

import (
	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:    "single-use",
	Summary: "something that can be used once per show is commanded again",
	Reason: "A single-use effect is gone once its output has opened: by a cue of its own, by one of another unit on the same output, or by any article that an igniter output has fired before. Songs that are declared " +
		"alternatives of each other may both use it, because one of them is played; nothing else relaxes this.",
	Scope:    WholeSet,
	Severity: Error,
	Settings: []Setting{
		{Name: "single-use", Field: "article single-use", Mark: timeline.CommonPractice, Source: "the article's own mark and source", Help: "the article can be commanded once per show"},
	},
	set: checkSingleUse,
})

// spent is the first command that used something up in a song.
type spent struct {
	song    int
	command *timeline.Command
}

// checkSingleUse walks the set in order and remembers, for every unit, the
// songs that have used it.
func checkSingleUse(r *setRun) {
	used := make([][]spent, len(r.units))
	for j := range r.plan.Songs {
		ps := r.song(j)
		for _, i := range r.results[j].sum.single {
			c := &ps.Commands[i]
			list := used[c.Unit.Index]
			if before := r.usedBefore(list, j); before != nil && c.Article.SingleUse && !saidOfCarrier(c.With) {
				r.usedTwice(j, c, before)
			}
			if len(list) == 0 || list[len(list)-1].song != j { // a repeat as well: where its song is played, the first may not be
				used[c.Unit.Index] = append(list, spent{j, c})
			}
		}
	}
}

// usedBefore finds an earlier command of a unit in song j, or in one that may be
// played the same night.
func (r *setRun) usedBefore(list []spent, j int) *spent {
	for i := range list {
		if s := &list[i]; s.song == j || r.order.both(s.song, j) {
			return s
		}
	}
	return nil
}

// saidOfCarrier reports whether what is said of the unit that a cue aims at is
// enough: it is used up itself, and whatever used up the one that opens with it
// has used it as well.
func saidOfCarrier(with *timeline.Unit) bool {
	return with != nil && with.Article != nil && with.Article.SingleUse
}

func (r *setRun) usedTwice(j int, c *timeline.Command, before *spent) {
	ps, earlier := r.song(j), r.song(before.song)
	f := about(ps.SongPlan, c.Cue, c.Hit)
	f.Others = []timeline.Ref{cueRef(earlier.SongPlan, before.command.Cue)}
	where := "earlier in this song"
	if before.song != j {
		where = "in song " + songName(earlier)
	}
	at := ps.Rate.Label(before.command.Frame)
	if before.song != j {
		at = earlier.Rate.Label(before.command.Frame)
	}
	f.Text = r.name(c.Article) + " is used up " + where + " at " + at
	switch {
	case before.command.With != nil:
		f.Text += " by " + before.command.With.Name + " on the same output"
	case before.command.Article != c.Article:
		f.Text += " by a command of " + r.name(before.command.Article)
	}
	f.Values = []Value{word("first cue", cueRef(earlier.SongPlan, before.command.Cue).String()), word("first timecode", at)}
	if before.song == j {
		f.Spans = []Span{{"first use", before.command.At, before.command.At}, {"again", c.At, c.At}}
	}
	f.Grounds = []Ground{ofArticle(c.Article, "single-use", "true")}
	f.Help = "aim this cue at another unit, use a refillable article, or disable one of the two cues"
	f.Fix = disableCue(ps.SongPlan, c.Cue)
	r.add(r.tune(j, c.Unit, c.Article), j, c.Unit.Name, f)
}

// disableCue gives the fix that keeps a cue but neither plans nor checks it.
func disableCue(p *timeline.SongPlan, c *timeline.Cue) *Fix {
	return fixField("disable the cue", cueRef(p, c), "disabled", "true")
}
