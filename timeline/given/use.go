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
	m, mine := CommandsOf(p, c), map[int]bool{}
	use := m.UseOf(c)
	if use.First == nil {
		return use
	}
	for _, cmd := range m.of[c] {
		mine[cmd.Unit.Index] = true
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

// Commands are the commands of some cues of a song by their cue, found in one look at all of the song's; what only opens with another is none of them.
type Commands struct {
	plan *timeline.SongPlan
	of   map[*timeline.Cue][]*timeline.Command

	show  *timeline.Show // that values are of
	known map[alike][]Value
}

// alike is what the values of a cue depend on where its commands play one article, or it has none.
type alike struct {
	lane, target, article timeline.ID
	open                  timeline.Time
	level                 int
	plays                 *timeline.Article
}

// CommandsOf gives the commands of some cues.
func CommandsOf(p *timeline.SongPlan, cues ...*timeline.Cue) *Commands {
	m := &Commands{plan: p, of: make(map[*timeline.Cue][]*timeline.Command, len(cues))}
	for _, c := range cues {
		m.of[c] = nil
	}
	for i := 0; i < len(p.Commands); {
		cue, end := p.Commands[i].Cue, i+1
		for end < len(p.Commands) && p.Commands[end].Cue == cue { // a cue's commands mostly stand together
			end++
		}
		if list, asked := m.of[cue]; asked {
			list = slices.Grow(list, end-i)
			for ; i < end; i++ {
				if p.Commands[i].With == nil {
					list = append(list, &p.Commands[i])
				}
			}
			m.of[cue] = list
		}
		i = end
	}
	return m
}

// UseOf is the function UseOf for one of the cues, but for what comes before and after it.
func (m *Commands) UseOf(c *timeline.Cue) Use {
	var use Use
	for i, cmd := range m.of[c] {
		if i == 0 {
			use.First = cmd
		}
		use.Units++
		use.Lead.add(cmd.Lead, i == 0)
		use.Spread.add(cmd.Article.Spread, i == 0)
		use.Recovery.add(cmd.Article.Recovery, i == 0)
		use.Open.add(cmd.Open, i == 0)
		if !slices.Contains(use.Articles, cmd.Article) {
			use.Articles = append(use.Articles, cmd.Article)
		}
	}
	return use
}
