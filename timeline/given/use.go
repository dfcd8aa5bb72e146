package given

import (
	"slices"

	"emberbeat/timeline"
)

// Between is a time that units have alike, or the least and the most of theirs.
type Between struct{ Least, Most timeline.Time }

func (b *Between) add(t timeline.Time, first bool) {
	if first {
		*b = Between{t, t}
		return
	}
	b.Least, b.Most = min(b.Least, t), max(b.Most, t)
}

// With is what b and another come to together; where first is true there is nothing yet but the other.
func (b Between) With(other Between, first bool) Between {
	if first {
		return other
	}
	return Between{min(b.Least, other.Least), max(b.Most, other.Most)}
}

// Use is what a cue comes to on its units.
type Use struct {
	First    *timeline.Command // the earliest of its commands, nil where it leads to none
	Units    int
	Lead     Between // of the articles, with the latency of what drives them
	Spread   Between
	Recovery Between
	Open     Between
	Last     *timeline.Command // of another cue: the nearest before on one of its units, nil for none
	Next     *timeline.Command // the nearest after
	Articles []*timeline.Article
}

// UseOf tells what a cue comes to, and what comes before and after it on the same units.
func UseOf(p *timeline.SongPlan, c *timeline.Cue) Use {
	var use Use
	mine := map[int]bool{}
	for i := range p.Commands {
		cmd := &p.Commands[i]
		if cmd.Cue != c || cmd.With != nil {
			continue
		}
		first := use.First == nil
		if first {
			use.First = cmd
		}
		use.Units++
		mine[cmd.Unit.Index] = true
		use.Lead.add(cmd.Lead, first)
		use.Spread.add(cmd.Article.Spread, first)
		use.Recovery.add(cmd.Article.Recovery, first)
		use.Open.add(cmd.Open, first)
		if !slices.Contains(use.Articles, cmd.Article) {
			use.Articles = append(use.Articles, cmd.Article)
		}
	}
	if use.First == nil {
		return use
	}
	for i := range p.Commands {
		cmd := &p.Commands[i]
		switch {
		case cmd.Cue == c || !mine[cmd.Unit.Index]:
		case cmd.Hit < use.First.Hit || cmd.Hit == use.First.Hit && cmd.At < use.First.At:
			if use.Last == nil || cmd.Hit > use.Last.Hit {
				use.Last = cmd
			}
		case use.Next == nil || cmd.Hit < use.Next.Hit:
			use.Next = cmd
		}
	}
	return use
}
