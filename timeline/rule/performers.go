package rule

import (
	"fmt"
	"math"
	"slices"

	"emberbeat/timeline"
	"emberbeat/timeline/figure"
)

var _ = enter(Rule{
	Name:    performersName,
	Summary: "an effect reaches a performer's mark or a zone that must stay clear",
	Reason: "Around a unit lie its article's clear zone and fallout radius, and what rule set, permit and officer ask for towards performers; the largest governs. It must not reach the " +
		"circle of a mark; a clear zone of the venue must not be reached by clear zone and fallout. Measured on the plan; height is not counted. Along the line of a line rocket, the path of a tilted shot and the axis of what is tilted the same " +
		"stays free as for separation; an axis is looked at in space, up to above a head. A mark that names a song counts there alone, " +
		"between its times; the effect counts from the command or the hit less its lead spread to its closing, which is seen by the lead later, or to the end of its hang time, and its lead spread.",
	Scope:    WholeSet,
	Severity: Error,
	Settings: []Setting{
		{Name: "clear", Unit: "m", Field: "article clear, or article fallout", Mark: timeline.CommonPractice, Source: "the article's own mark and source", Help: "circle around the unit in which nobody may be; 0 = not given"},
		{Name: "performers", Unit: "m", Field: "venue performers", Mark: timeline.Measured, Source: "the venue", Help: "marks with their radius, and when they count"},
		{Name: "distances", Field: "ruleset distances, or venue distances, or night distances", Mark: timeline.CommonPractice, Source: "the record's own", Help: "what rule set, permit and officer ask for"},
		{Name: "extra", Default: "0", Unit: "m", Mark: timeline.Judgement, Source: "none: a margin of your own", Help: "added to what is asked"},
		throwSetting(),
		{Name: "corridor", Field: "article corridor", Mark: timeline.CommonPractice, Source: "the article's own mark and source", Help: "width that stays free along a line; 0 = not given"},
		inRecord("article height", "m", "how far a tilted effect reaches"),
	},
	set: checkPerformers,
})

func checkPerformers(r *setRun) {
	v := r.plan.Venue
	if v == nil || len(v.Performers)+len(v.Clear) == 0 {
		return
	}
	r.eachArticle(func(a *timeline.Article, uses []*setUse) {
		list := r.askedOf(a, timeline.ToPerformers)
		for _, m := range v.Performers {
			r.reaches(a, uses, list, m, "performer's mark")
		}
		own := ownOf(list)
		for _, m := range v.Clear {
			r.reaches(a, uses, own, m, "clear zone")
		}
		r.shortOfPerformers(a, uses, fromTrack)
	})
}

// reaches reports the units of an article that reach a mark while it counts.
func (r *setRun) reaches(a *timeline.Article, uses []*setUse, list []asked, m timeline.PlanMark, kind string) {
	most, ok := mostAsked(list)
	if !ok {
		return
	}
	short := r.nearer(a, uses, most.metres, func(p timeline.Point) float64 { return max(0, math.Hypot(p.X-m.At.X, p.Y-m.At.Y)-m.Radius) })
	if len(short) == 0 {
		return
	}
	short, at := r.during(a, short, m)
	if len(short) == 0 {
		return
	}
	t := r.tune(at.song, at.unit, a)
	nearest := nearestOf(short)
	p := figure.Row{Required: most.metres + t.of(separationExtra).plain, Planned: nearest.away}.Printed()
	f := r.metAt(rigRef("article", a.ID), at)
	f.Others = append(f.Others, rigRef("venue", r.plan.Venue.ID))
	f.Text = fmt.Sprintf("%s stands %s from %s and needs %s: %s governs; %s meanwhile", r.name(a), r.down(p.Planned), lineName(m.Name, kind), r.up(p.Required), most.by, often(at.commands, at.presses))
	f.Values = []Value{word(kind, m.String()), measure("required", p.Required, "m"), word("governs", most.by)}
	f.Values = append(f.Values, withPresses(at.presses, count("commands", at.commands))...)
	f.Grounds = r.rule.with(separationExtra, t, grounds(list)...)
	f.whoIsNear(short)
	f.Help = fmt.Sprintf("move one of them %s further away, let the mark be left in that time, swap the effect or cut it for the night%s", r.up(roundTo(p.Required-p.Planned, 1)), deferral)
	f.Fix = r.cutTonight(short, "reaches "+lineName(m.Name, kind))
	r.add(t, at.song, "", f)
}

// meeting is the first command of some units while a mark counts, and how many
// there are; or the first key that is meant for them where no command is.
type meeting struct {
	song, command int // song -1 = a key alone
	commands      int
	presses       int
	unit          *timeline.Unit
	hand          *timeline.HandKey
}

// metAt starts a finding at a meeting.
func (r *setRun) metAt(ref timeline.Ref, at meeting) Finding {
	if at.song < 0 {
		return r.aboutKey(ref, at.hand)
	}
	ps := r.song(at.song)
	c := &ps.Commands[at.command]
	f := about(ps.SongPlan, c.Cue, c.Hit)
	f.Ref, f.Others = ref, []timeline.Ref{cueRef(ps.SongPlan, c.Cue)}
	from, to := c.Zone()
	f.Spans = []Span{{"zone", from, to}, {"open", c.At, c.End()}}
	return f
}

// during keeps the uses that are played while a mark counts.
func (r *setRun) during(a *timeline.Article, short []near, m timeline.PlanMark) (kept []near, at meeting) {
	if m.Song == "" {
		first := r.earliest(usesOf(short))
		at = meeting{song: first.song, command: int(first.first), unit: first.unit, hand: first.hand}
		for _, n := range short {
			at.commands += n.use.cues
			at.presses += n.use.presses
		}
		return short, at
	}
	at.song = -1
	counted := make([]int, len(short))
	for i := range r.plan.Songs {
		if ps := r.song(i); ps.Song.ID == m.Song {
			r.countDuring(a, short, m, i, counted, &at)
			r.countKeysDuring(a, short, m, i, counted, &at)
		}
	}
	for i, n := range short {
		if counted[i] > 0 {
			kept = append(kept, n)
		}
	}
	return kept, at
}

// countDuring counts the commands of a song that fall into a mark's time.
func (r *setRun) countDuring(a *timeline.Article, short []near, m timeline.PlanMark, song int, counted []int, at *meeting) {
	ps := r.song(song)
	for k := range ps.Commands {
		c := &ps.Commands[k]
		if c.Article != a {
			continue
		}
		i := slices.IndexFunc(short, func(n near) bool { return n.use.unit == c.Unit })
		if i < 0 {
			continue
		}
		if from, to := c.Zone(); !m.During(ps.Song.ID, from, to) {
			continue
		}
		if at.commands == 0 {
			at.song, at.command, at.unit = song, k, c.Unit
		}
		at.commands++
		counted[i]++
	}
}

// countKeysDuring counts the keys that may be pressed in a song while a mark
// counts.
func (r *setRun) countKeysDuring(a *timeline.Article, short []near, m timeline.PlanMark, song int, counted []int, at *meeting) {
	for i := range r.plan.Keys {
		k := &r.plan.Keys[i]
		for j := range k.Uses {
			u := &k.Uses[j]
			n := slices.IndexFunc(short, func(x near) bool { return x.use.unit == u.Unit })
			if u.Article != a || n < 0 || !mayMeet(r.plan, k, u, m) {
				continue
			}
			if at.hand == nil {
				at.hand = k
			}
			if at.unit == nil {
				at.unit = u.Unit
			}
			at.presses += k.Cue.Presses
			counted[n]++
		}
	}
}

// mayMeet reports whether a key may be pressed in a mark's song while it counts.
func mayMeet(p *timeline.Plan, k *timeline.HandKey, u *timeline.HandUse, m timeline.PlanMark) bool {
	if k.Song < 0 {
		return true
	}
	return p.Songs[k.Song].Song.ID == m.Song && slices.ContainsFunc(k.Spans, func(s timeline.HandSpan) bool {
		return m.During(m.Song, s.From, s.To+max(u.Open, u.Article.Lead+u.Article.Hang)+u.Article.Spread)
	})
}
