package rule

import (
	"cmp"
	"slices"

	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:    "duty",
	Summary: "a unit is open for longer than its duty limit allows in a sliding window",
	Reason: "Valves, burners and feeds heat up: an article's duty limit says how long it may be open in all within any window of a given length. Every " +
		"window that ends with the closing of the unit is added up, what several cues hold open at once counted once; no other can hold more. Within a song and across the songs of the set, with the " +
		"changeovers of the running order; exact times. With alternatives the shortest way and the one that leaves most are taken, each on its own: rather one finding too many.",
	Scope:    Neighbours,
	Severity: Error,
	Settings: []Setting{
		{Name: "duty-open", Unit: "s", Field: "article duty-open", Mark: timeline.CommonPractice, Source: "the article's own mark and source", Help: "most open time in a duty window"},
		{Name: "duty-window", Unit: "s", Field: "article duty-window", Mark: timeline.CommonPractice, Source: "the article's own mark and source", Help: "length of the duty window"},
	},
	song: dutyInSong,
	set:  dutyInSet,
})

// limited reports whether an article has a duty limit.
func limited(a *timeline.Article) bool { return a.DutyOpen > 0 && a.DutyWindow > 0 }

// openWithin adds up how long a unit is open from one time to another through the
// listed commands, which are in order; what several of them hold open counts
// once. None of them is open for longer than longest.
func openWithin(p *timeline.SongPlan, list []int32, from, to, longest timeline.Time) timeline.Time {
	first := len(list)
	for first > 0 && p.Commands[list[first-1]].At+longest > from {
		first--
	}
	var sum timeline.Time
	for _, k := range list[first:] {
		c := &p.Commands[k]
		if end := min(c.End(), to); end > from {
			sum += max(0, end-max(c.At, from))
			from = max(from, end)
		}
	}
	return sum
}

func longestOpen(p *timeline.SongPlan, list []int32) timeline.Time {
	var t timeline.Time
	for _, k := range list {
		t = max(t, p.Commands[k].Open)
	}
	return t
}

func dutyInSong(r *songRun) {
	for i := range r.plan.Uses {
		u := &r.plan.Uses[i]
		longest := timeline.Time(-1)
		for n, k := range u.Commands {
			c := &r.plan.Commands[k]
			if !limited(c.Article) {
				continue
			}
			if longest < 0 {
				longest = longestOpen(r.plan, u.Commands)
			}
			open := openWithin(r.plan, u.Commands[:n+1], c.End()-c.Article.DutyWindow, c.End(), longest)
			if open > c.Article.DutyOpen {
				r.overDuty(u, n, c, open)
			}
		}
	}
}

// overDuty reports the nth command of a unit.
func (r *songRun) overDuty(u *timeline.UnitUse, n int, c *timeline.Command, open timeline.Time) {
	f := about(r.plan, c.Cue, c.Hit)
	r.fillDuty(&f, c, open)
	if n > 0 {
		f.Others = []timeline.Ref{cueRef(r.plan, r.plan.Commands[u.Commands[n-1]].Cue)}
	}
	// Shortening moves the window as well, so that more may come into it at its other end.
	before := u.Commands[:n]
	longest := longestOpen(r.plan, before)
	less, ok := leastTime(c.Open, func(less timeline.Time) bool {
		end := c.End() - less
		return c.Open-less+openWithin(r.plan, before, end-c.Article.DutyWindow, min(c.At, end), longest) <= c.Article.DutyOpen
	})
	if ok && roundDown(c.Open-less) > 0 {
		f.Fix = setOpen(r.plan, c.Cue, roundDown(c.Open-less))
	}
	r.add(r.tune(c), c.Unit.Name, f)
}

func (e *env) fillDuty(f *Finding, c *timeline.Command, open timeline.Time) {
	a := c.Article
	f.Text = "open for " + span(open) + " in all within " + span(a.DutyWindow) + "; " + e.name(a) + " may be open for " + span(a.DutyOpen)
	f.Values = []Value{seconds("open", open), seconds("duty open", a.DutyOpen), seconds("duty window", a.DutyWindow)}
	f.Grounds = []Ground{ofArticle(a, "duty-open", span(a.DutyOpen)), ofArticle(a, "duty-window", span(a.DutyWindow))}
	f.Spans = []Span{{"duty window", c.End() - a.DutyWindow, c.End()}, {"open", c.At, c.End()}}
	f.Help = "take " + span(open-a.DutyOpen) + " of open time out of that window: shorten this cue or those before it, or spread them"
}

// limitedUse is a unit with a duty limit in one song.
type limitedUse struct {
	use     int32         // index into SongPlan.Uses
	longest timeline.Time // open time of any of its commands
	window  timeline.Time // longest duty window of its articles
}

// dutyUse is what one song does with a unit that has a duty limit.
type dutyUse struct {
	song int
	limitedUse
}

// dutyInSet adds what earlier songs leave in the windows at the start of each
// song. Of alternatives the one that leaves most counts.
func dutyInSet(r *setRun) {
	used := make([][]dutyUse, len(r.plan.Units.All))
	for j := range r.plan.Songs {
		ps := r.song(j)
		for _, l := range r.results[j].sum.duty {
			u := &ps.Uses[l.use]
			before := used[u.Unit.Index]
			if len(before) > 0 {
				r.dutyAfter(before, j, u, l)
			}
			used[u.Unit.Index] = append(before, dutyUse{j, l})
		}
	}
}

// dutyAfter checks the commands of a unit in song j whose windows reach back
// into earlier songs.
func (r *setRun) dutyAfter(used []dutyUse, j int, u *timeline.UnitUse, l limitedUse) {
	ps := r.song(j)
	left := -never // when the last of the earlier songs is through
	for _, e := range used {
		if r.order.both(e.song, j) {
			left = max(left, r.results[e.song].sum.busy[e.use].free-r.order.between(e.song, j))
		}
	}
	for n, k := range u.Commands {
		c := &ps.Commands[k]
		if c.At-l.window >= left {
			return // no window of a later one reaches back so far
		}
		from := c.End() - c.Article.DutyWindow
		if !limited(c.Article) || from >= left {
			continue
		}
		here := openWithin(ps.SongPlan, u.Commands[:n+1], from, c.End(), l.longest)
		before := r.openInAll(used, j, u.Commands[:n+1], from, c.End()) - here
		if before <= 0 || here > c.Article.DutyOpen || here+before <= c.Article.DutyOpen {
			continue
		}
		f := about(ps.SongPlan, c.Cue, c.Hit)
		r.fillDuty(&f, c, here+before)
		f.Text += "; " + span(before) + " of it in earlier songs"
		more, ok := leastTime(c.Article.DutyWindow, func(more timeline.Time) bool {
			return here+r.openBefore(used, j, from+more, c.End()+more) <= c.Article.DutyOpen // a longer gap parts what overlaps
		})
		if ok {
			f.Fix = r.longerGap(j, more)
		}
		r.add(r.tune(j, c.Unit, c.Article), j, c.Unit.Name, f)
	}
}

// openInAll adds up how long a unit is open within a window counted from the
// start of song j, in this song through the listed commands and in earlier ones.
// What is open in both at once counts once; with alternatives, of which the ways
// from song to song differ, the window itself is the most.
func (r *setRun) openInAll(used []dutyUse, j int, here []int32, from, to timeline.Time) timeline.Time {
	ps := r.song(j)
	if r.order.soon != nil {
		return min(to-from, openWithin(ps.SongPlan, here, from, to, longestOpen(ps.SongPlan, here))+r.openBefore(used, j, from, to))
	}
	var spans []Span
	add := func(p *timeline.SongPlan, list []int32, apart timeline.Time) {
		for _, k := range list {
			c := &p.Commands[k]
			if s := (Span{From: max(c.At-apart, from), To: min(c.End()-apart, to)}); s.To > s.From {
				spans = append(spans, s)
			}
		}
	}
	add(ps.SongPlan, here, 0)
	for _, e := range used {
		if r.order.both(e.song, j) {
			add(r.song(e.song).SongPlan, r.song(e.song).Uses[e.use].Commands, r.order.between(e.song, j))
		}
	}
	slices.SortFunc(spans, func(a, b Span) int { return cmp.Compare(a.From, b.From) })
	var sum timeline.Time
	for _, s := range spans {
		if s.To > from {
			sum += s.To - max(s.From, from)
			from = s.To
		}
	}
	return sum
}

// openBefore adds up how long a unit is open in earlier songs within a window
// counted from the start of song j.
func (r *setRun) openBefore(used []dutyUse, j int, from, to timeline.Time) timeline.Time {
	var sure timeline.Time
	most := map[string]timeline.Time{}
	for _, e := range used {
		if !r.order.both(e.song, j) {
			continue
		}
		ps, apart := r.song(e.song), r.order.between(e.song, j)
		list := ps.Uses[e.use].Commands
		until := to + apart
		if r.order.soon != nil {
			until = never // on a longer way than the shortest, more of it may be over by then
		}
		open := openWithin(ps.SongPlan, list, from+apart, until, e.longest)
		if r.order.surely(e.song) {
			sure += open
		} else {
			most[r.order.alt[e.song]] = max(most[r.order.alt[e.song]], open)
		}
	}
	for _, t := range most {
		sure += t
	}
	return sure
}
