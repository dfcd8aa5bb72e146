package rule

import (
	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:    "single-use",
	Summary: "something that can be used once per show is commanded again",
	Reason: "A single-use effect is gone after its first command, and so is everything else on the same igniter output. Songs that are declared " +
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

// checkSingleUse walks the set in order and remembers, for every unit or
// shared igniter output, the songs that have used it.
func checkSingleUse(r *setRun) {
	used := make([][]spent, len(r.units))
	for j := range r.plan.Songs {
		ps := r.song(j)
		for _, i := range r.results[j].sum.single {
			c := &ps.Commands[i]
			circuit := r.units[c.Unit.Index].circuit
			if before := r.usedBefore(used[circuit], j, c); before != nil {
				r.usedTwice(j, c, before)
			}
			if !firesWith(used[circuit], j, c) { // a repeat as well: where its song is played, the first may not be
				used[circuit] = append(used[circuit], spent{j, c})
			}
		}
	}
}

// usedBefore finds an earlier command that uses up what c needs: in this song
// another than its own pulse, or in a song that may be played the same night.
func (r *setRun) usedBefore(list []spent, j int, c *timeline.Command) *spent {
	for i := range list {
		s := &list[i]
		if s.song == j && !onePulse(s.command, c) || s.song != j && r.order.both(s.song, j) {
			return s
		}
	}
	return nil
}

func firesWith(list []spent, j int, c *timeline.Command) bool {
	for i := range list {
		if list[i].song == j && onePulse(list[i].command, c) {
			return true
		}
	}
	return false
}

// onePulse reports whether two commands are one: of two units that hang on one
// output, given at the same instant.
func onePulse(a, b *timeline.Command) bool { return a.Unit != b.Unit && a.At == b.At }

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
	f.Text = c.Article.Name + " is used up " + where + " at " + at
	if before.command.Unit != c.Unit {
		f.Text += " by " + before.command.Unit.Placed.Name + " on the same output"
	}
	f.Values = []Value{word("first cue", cueRef(earlier.SongPlan, before.command.Cue).String()), word("first timecode", at)}
	if before.song == j {
		f.Spans = []Span{{"first use", before.command.At, before.command.At}, {"again", c.At, c.At}}
	}
	f.Grounds = []Ground{ofArticle(c.Article, "single-use", "true")}
	f.Help = "aim this cue at another unit, use a refillable article, or disable one of the two cues"
	f.Fix = disableCue(ps.SongPlan, c.Cue)
	r.add(r.tune(j, c.Unit, c.Article), j, c.Unit.Placed.Name, f)
}

// disableCue gives the fix that keeps a cue but neither plans nor checks it.
func disableCue(p *timeline.SongPlan, c *timeline.Cue) *Fix {
	return &Fix{Label: "disable the cue", Edits: []timeline.Edit{setField(cueRef(p, c), "disabled", "true")}}
}
