package rule

import (
	"math"
	"slices"

	"emberbeat/timeline"
	"emberbeat/timeline/figure"
	"emberbeat/timeline/reach"
)

// Row is one distance that something asks for between an effect and people. None
// replaces another: what is tilted keeps its distances from every point of its
// axis or path, and from its unit as well.
type Row struct {
	By      string     // "label distance", "rule set \"…\" FC 3309.12", "permit", "officer", "reach"
	From    From       // what it is measured from
	Figures figure.Row // m; unknown where not given
	Nearest string     // the line or mark; "" where there is none
	Lacks   string     // what is not given; "" = nothing
	Ground  Ground

	words bool    // the words that ask measure from the device
	unit  float64 // m on the plan from the unit itself
}

// From says what a distance is measured from.
type From string

// What distances are measured from.
const (
	FromUnit      From = "unit"
	FromAxis      From = "axis"
	FromPath      From = "path"
	FromLine      From = "line"
	FromParticles From = "path less fallout"
	FromEnvelope  From = "envelope"
)

// Printed gives the row's figures as they are printed and judged: required
// rounded up and planned rounded down to a tenth of a metre.
func (r *Row) Printed() figure.Row {
	p := r.Figures.Printed()
	if p.Planned < 0 { // how deep an envelope reaches is not told
		p.Planned = 0
	}
	return p
}

// State judges the row.
func (r *Row) State() figure.State { return r.Figures.State() }

func lack(r *Row) float64 { return r.Figures.Required - r.Figures.Planned }

// target is one line, mark or zone of a venue.
type target struct {
	kind  SpacingKind
	place int
}

func (t target) to() timeline.DistanceTo {
	if t.kind == ToLine {
		return timeline.ToAudience
	}
	return timeline.ToPerformers
}

// away gives the distances of a space from a target.
func (s *space) away(t target) reach.Distances {
	switch t.kind {
	case ToLine:
		return s.lines[t.place]
	case ToMark:
		return s.marks[t.place]
	}
	return s.clear[t.place]
}

// ownOf keeps what an article itself asks for.
func ownOf(list []asked) []asked {
	var own []asked
	for _, x := range list {
		if x.ground.Ref.Kind == "article" {
			own = append(own, x)
		}
	}
	return own
}

// rows gives every row between an article at a unit and a target, what is
// measured from the unit first. Without a position, or without a target
// (place below 0), nothing is planned.
func (s *spaces) rows(u *timeline.Unit, a *timeline.Article, at target, list []asked, extra float64) []Row {
	x := s.of(u, a, at.to())
	unknown := figure.Unknown()
	d := reach.Distances{Unit: unknown, Track: unknown, Space: unknown, Envelope: unknown}
	if x != nil && at.place >= 0 {
		d = x.away(at)
	}
	return s.rowsOf(x, a, d, list, extra)
}

// rowsOf gives the rows of a space (nil = it stands nowhere) at some distances.
func (s *spaces) rowsOf(x *space, a *timeline.Article, d reach.Distances, list []asked, extra float64) []Row {
	var rows []Row
	add := func(by string, from From, required, planned float64, g Ground) *Row {
		rows = append(rows, Row{By: by, From: from, Figures: figure.Row{Required: required, Planned: planned}, Ground: g, unit: figure.RoundedDown(d.Unit)})
		return &rows[len(rows)-1]
	}
	glows := a.Family.Class() == timeline.Spark || a.Family.Class() == timeline.Shot
	for _, y := range list {
		switch {
		case !y.glowing:
			r := add(y.by, FromUnit, y.metres+extra, d.Unit, y.ground)
			r.Lacks = y.lacks
		case glows && (x == nil || x.Track == nil && !x.Down):
			particles(add(y.by, FromParticles, y.metres+extra, d.Unit, y.ground), a)
		}
	}
	if x == nil {
		return rows
	}
	if x.Track != nil || x.Down {
		from, along := FromPath, d.Track
		if x.Track != nil {
			from = From(x.Track.Kind)
		}
		for _, y := range list {
			planned := along
			switch {
			case y.glowing:
				if glows {
					particles(add(y.by, FromParticles, y.metres+extra, along, y.ground), a)
				}
				continue
			case from == FromLine && y.ground.Field != "fallout": // along a line its corridor and its fallout stay free
				continue
			case y.ground.Ref.Kind == "article" && y.ground.Field != "fallout":
				planned = d.Space
			}
			r := add(y.by, from, y.metres+extra, planned, y.ground)
			r.words = y.ground.Ref.Kind != "article"
			r.Lacks = y.lacks
			if x.Down {
				r.Lacks = "points down: where it bounces to is not computed"
			}
		}
		if from == FromLine && a.Corridor > 0 {
			add("its line corridor", FromLine, a.Corridor/2+extra, along, ofArticle(a, "corridor", s.reach.base.told.Say("m", a.Corridor, 2)))
		}
	}
	if x.Envelope != nil {
		keep, name := s.keep(x)
		add("reach", FromEnvelope, keep, d.Envelope, ruleOf(reachName).fromSetting(name, s.reach.at(nil, x.Unit, a)))
	}
	return rows
}

// particles takes from what is planned the radius in which something may come
// down.
func particles(r *Row, a *timeline.Article) {
	if a.Fallout == 0 {
		r.Figures.Planned, r.Lacks = figure.Unknown(), "fallout not given"
		return
	}
	r.Figures.Planned = max(0, r.Figures.Planned-a.Fallout)
}

// shortRow is a use with a row that is short of a target.
type shortRow struct {
	near
	row   Row
	at    target
	asked []asked
}

func nearsOf(list []shortRow) []near {
	out := make([]near, len(list))
	for i := range list {
		out[i] = list[i].near
	}
	return out
}

// extraOf gives the margin of one's own for a use, in the rule at work.
func (r *setRun) extraOf(u *setUse) float64 {
	if !hasExtra(r.rule) {
		return 0
	}
	return r.tune(u.song, u.unit, u.article).of(separationExtra).plain
}

// shortRows lists the uses of an article with a row of some kind that is short,
// each with its worst.
func (r *setRun) shortRows(a *timeline.Article, uses []*setUse, at target, list []asked, of func(*Row) bool) []shortRow {
	var short []shortRow
	for _, u := range uses {
		x := r.spaces.of(u.unit, a, at.to())
		if x == nil {
			continue
		}
		var worst *Row
		rows := r.spaces.shortOf(x, at, list, r.extraOf(u))
		for i := range rows {
			if row := &rows[i]; of(row) && (worst == nil || lack(row) > lack(worst)) {
				worst = row
			}
		}
		if worst != nil && !r.tune(u.song, u.unit, a).off {
			short = append(short, shortRow{near{u, max(0, worst.Figures.Planned)}, *worst, at, list})
		}
	}
	return short
}

// anyShort keeps the uses that are short of anything at all: mostly none is, and
// what no cue can change is looked at once.
func (r *setRun) anyShort(a *timeline.Article, uses []*setUse, to timeline.DistanceTo, list []asked) []*setUse {
	var kept []*setUse
	for _, u := range uses {
		x := r.spaces.of(u.unit, a, to)
		if x == nil {
			continue
		}
		extra := r.extraOf(u)
		quiet, known := x.quiet[extra]
		if !known {
			quiet = !r.spaces.shortOfAny(x, list, extra)
			if x.quiet == nil {
				x.quiet = map[float64]bool{}
			}
			x.quiet[extra] = quiet
		}
		if !quiet {
			kept = append(kept, u)
		}
	}
	return kept
}

// shortOfAny reports whether a space is short of any line, mark or zone.
func (s *spaces) shortOfAny(x *space, list []asked, extra float64) bool {
	for i := range x.lines {
		if len(s.shortOf(x, target{ToLine, i}, list, extra)) > 0 {
			return true
		}
	}
	for i := range x.marks {
		if len(s.shortOf(x, target{ToMark, i}, list, extra)) > 0 {
			return true
		}
	}
	own := ownOf(list)
	for i := range x.clear {
		if len(s.shortOf(x, target{ToZone, i}, own, extra)) > 0 {
			return true
		}
	}
	return false
}

// shortKey is what the rows of a space that are short depend on.
type shortKey struct {
	at    target
	extra float64
}

// shortOf gives the rows of a space that are short of a target. They are worked
// out once: no cue can change them.
func (s *spaces) shortOf(x *space, at target, list []asked, extra float64) []Row {
	k := shortKey{at, extra}
	if rows, ok := x.short[k]; ok {
		return rows
	}
	rows := slices.DeleteFunc(s.rowsOf(x, x.Article, x.away(at), list, extra), func(r Row) bool { return r.State() != figure.Short })
	if x.short == nil {
		x.short = map[shortKey][]Row{}
	}
	x.short[k] = slices.Clip(rows)
	return rows
}

// row gives the worst of the rows of some kind; nil where there is none with
// figures.
func (s *spaces) row(u *timeline.Unit, a *timeline.Article, at target, list []asked, extra float64, of func(*Row) bool) *Row {
	var worst *Row
	rows := s.rows(u, a, at, list, extra)
	for i := range rows {
		if r := &rows[i]; of(r) && !math.IsNaN(lack(r)) && (worst == nil || lack(r) > lack(worst)) {
			worst = r
		}
	}
	return worst
}
