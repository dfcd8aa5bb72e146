package rule

import (
	"emberbeat/timeline"
)

// lastUse is a song that has used a unit.
type lastUse struct {
	song int
	busy *busy
}

// leftover is how long a unit stays busy into a song because of an earlier
// one: its free time, counted from the start of the later song's audio.
type leftover struct {
	until timeline.Time
	song  int
	apart timeline.Time // from the start of the earlier song to that of the later
}

// recoveryInSet compares the commands at the start of each song with what the
// songs before it leave behind.
func recoveryInSet(r *setRun) {
	used := make([][]lastUse, len(r.plan.Units.All))
	longest := make([]timeline.Time, len(r.plan.Units.All)) // most that any song leaves behind, from its own start
	for j := range r.plan.Songs {
		ps := r.song(j)
		for i := range ps.Uses {
			u := &ps.Uses[i]
			unit := u.Unit.Index
			if len(used[unit]) > 0 {
				exact, rounded := r.leftovers(used[unit], longest[unit], j, u)
				r.overhang(exact, rounded, j, u)
			}
			b := &r.results[j].sum.busy[i]
			used[unit] = append(used[unit], lastUse{j, b})
			longest[unit] = max(longest[unit], b.free, b.freeRounded)
		}
	}
}

// leftovers finds what keeps a unit busy longest into song j, exactly and
// after rounding. It stops looking back where nothing can reach the unit's
// first command any more.
func (r *setRun) leftovers(used []lastUse, longest timeline.Time, j int, u *timeline.UnitUse) (exact, rounded leftover) {
	first := &r.song(j).Commands[u.Commands[0]]
	reach := min(first.At, first.Rounded) - r.settings.most(recoveryExtra)
	exact.until, rounded.until = reach, reach
	for k := len(used) - 1; k >= 0; k-- {
		l := used[k]
		if !r.order.both(l.song, j) {
			continue
		}
		apart := r.order.between(l.song, j)
		if t := l.busy.free - apart; t > exact.until {
			exact = leftover{t, l.song, apart}
		}
		if t := l.busy.freeRounded - apart; t > rounded.until {
			rounded = leftover{t, l.song, apart}
		}
		if r.order.surely(l.song) && longest-apart <= reach {
			break
		}
	}
	return exact, rounded
}

// overhang reports every command of song j that comes before its unit is free.
func (r *setRun) overhang(exact, rounded leftover, j int, u *timeline.UnitUse) {
	ps := r.song(j)
	for _, k := range u.Commands {
		c := &ps.Commands[k]
		t := r.tune(j, c.Unit, c.Article)
		extra := t.of(recoveryExtra).time
		e := early{exact.until + extra - c.At, rounded.until + extra - c.Rounded}
		switch {
		case max(exact.until, rounded.until)+r.settings.most(recoveryExtra) <= min(c.At, c.Rounded):
			return
		case c.Article.SingleUse || !e.fails():
		case e.exact > 0:
			r.tooEarly(t, exact, r.results[exact.song].sum.busyCommand(u.Unit, r.song(exact.song), false), j, c, e)
		default:
			r.tooEarly(t, rounded, r.results[rounded.song].sum.busyCommand(u.Unit, r.song(rounded.song), true), j, c, e)
		}
	}
}

func (r *setRun) tooEarly(t *tuning, l leftover, before *timeline.Command, j int, c *timeline.Command, e early) {
	ps, earlier := r.song(j), r.song(l.song)
	extra := t.of(recoveryExtra).time
	f := about(ps.SongPlan, c.Cue, c.Hit)
	f.Others = []timeline.Ref{cueRef(earlier.SongPlan, before.Cue)}
	fillEarly(&f, t, before, c, l.apart+c.At-before.At, e)
	f.Text += "; the last command is in song " + songName(earlier)
	f.Spans = []Span{
		{Name: "open", From: before.At - l.apart, To: before.End() - l.apart},
		{Name: "recovering", From: before.End() - l.apart, To: before.Free() + extra - l.apart},
		{Name: "next command", From: c.At, To: c.At},
	}
	f.Grounds = r.rule.recoveryGrounds(t, before)
	f.Fix = r.longerGap(j, max(e.exact, e.rounded))
	r.add(t, j, c.Unit.Name, f)
}

// busyCommand gives the command that frees a unit last in a song.
func (s *summary) busyCommand(u *timeline.Unit, ps *timeline.PlanSong, rounded bool) *timeline.Command {
	for i := range ps.Uses {
		if ps.Uses[i].Unit == u {
			if rounded {
				return &ps.Commands[s.busy[i].commandRounded]
			}
			return &ps.Commands[s.busy[i].command]
		}
	}
	return nil
}

// longerGap makes the changeover before a song longer, where the set is one
// that can be edited and nothing is left out before it.
func (r *setRun) longerGap(j int, by timeline.Time) *Fix {
	set := r.plan.Set
	if set == nil || j == 0 || !r.order.surely(j-1) {
		return nil
	}
	before := r.plan.Songs[j-1].Entry
	items := make([]string, len(set.Entries))
	changed := 0
	for i, e := range set.Entries {
		if e == before && changed == 0 && r.nthPlayed(i) == j-1 {
			e.Gap = roundUp(e.Gap + by)
			before, changed = e, i+1
		}
		items[i] = e.String()
	}
	if changed == 0 {
		return nil
	}
	return fixList("make the changeover before this song "+span(before.Gap), timeline.Ref{Kind: "set", ID: set.ID}, "entries", items)
}

// nthPlayed gives the place in the plan of the entry with an index in the set,
// or -1.
func (r *setRun) nthPlayed(index int) int {
	set, n := r.plan.Set, -1
	for i, e := range set.Entries {
		if n+1 < len(r.plan.Songs) && r.plan.Songs[n+1].Entry == e {
			n++
			if i == index {
				return n
			}
		} else if i == index {
			return -1
		}
	}
	return -1
}
