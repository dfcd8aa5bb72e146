package rule

import (
	"math"
	"slices"

	"emberbeat/timeline"
	"emberbeat/timeline/figure"
	"emberbeat/timeline/reach"
)

// Spacing is what is kept, and what is asked for, between one unit that plays
// one article and something on the stage plan that people stand at. Metres, on
// the plan, an axis and its reach in space. It says what the rules separation,
// performers, reach and tilted-distance compare.
type Spacing struct {
	Unit    *timeline.Unit
	Article *timeline.Article
	Kind    SpacingKind
	Place   int    // of the line, mark or zone in the venue's list
	Name    string // of it
	Needs   float64
	Away    float64
	By      string         // what governs: "label distance"
	Of      From           // what Away is measured from
	From    timeline.Point // the unit's place, or the point of its axis or path
	To      timeline.Point // the nearest point of the line or circle
	Short   bool           // Away is less than Needs
	Never   bool           // the mark counts in a song while the unit plays nothing
}

// SpacingKind says what a spacing is to.
type SpacingKind string

// What a spacing is to.
const (
	ToLine SpacingKind = "audience line"
	ToMark SpacingKind = "performer's mark"
	ToZone SpacingKind = "clear zone"
)

// Conflict reports whether the rule would find something here.
func (c *Spacing) Conflict() bool { return c.Short && !c.Never }

// Played says which articles each unit of a plan plays. It is costly to make
// and can be kept while positions, lines and marks are moved about.
type Played struct {
	plan *timeline.Plan
	uses map[timeline.ID][]playedUse // by placed effect
}

type playedUse struct {
	article *timeline.Article
	song    *timeline.Song // where it is first played
}

// PlayedOn looks through a plan.
func PlayedOn(p *timeline.Plan) *Played {
	pl := &Played{plan: p, uses: map[timeline.ID][]playedUse{}}
	type pair struct {
		unit    *timeline.Unit
		article *timeline.Article
	}
	seen := map[pair]bool{}
	for i := range p.Songs {
		ps := &p.Songs[i]
		for k := range ps.Commands {
			c := &ps.Commands[k]
			if at := (pair{c.Unit, c.Article}); !seen[at] {
				seen[at] = true
				pl.uses[c.Unit.Placed.ID] = append(pl.uses[c.Unit.Placed.ID], playedUse{c.Article, ps.Song})
			}
		}
	}
	return pl
}

// Articles gives what is played on a placed effect, in the order of first use.
func (pl *Played) Articles(placed timeline.ID) []*timeline.Article {
	var list []*timeline.Article
	for _, u := range pl.uses[placed] {
		list = append(list, u.article)
	}
	return list
}

// Spacings lists what a plan keeps between effects and people: for every unit
// with a position and every article it plays, each audience line, performer's
// mark and clear zone of the venue, in that order. Without a venue there are
// none. What asks for no distance is not in the list.
func Spacings(p *timeline.Plan) []Spacing { return PlayedOn(p).Spacings(p) }

// Spacings is the same for a plan whose rig, venue or night has been changed
// while what it plays stays the same.
func (pl *Played) Spacings(p *timeline.Plan) []Spacing {
	v := p.Venue
	if v == nil {
		return nil
	}
	w := &spacer{pl: pl, plan: p, spaces: newSpaces(p)}
	for _, u := range p.Units.All {
		if u.Position == nil {
			continue
		}
		for _, use := range pl.uses[u.Placed.ID] {
			w.use(v, u, use)
		}
	}
	return w.list
}

// Required lists what is asked for between an article and people of a plan's
// venue, what governs first.
func Required(p *timeline.Plan, a *timeline.Article, to timeline.DistanceTo) []Asked {
	var list []Asked
	all := askedFor(p, a, to)
	unlabelled := slices.ContainsFunc(all, func(x asked) bool { return x.by == labelDistance && x.lacks != "" })
	for _, x := range all {
		if unlabelled && x.by == falloutRadius {
			continue // a fallout radius alone is no distance to an audience
		}
		if figure.Known(x.metres) && !x.glowing {
			list = append(list, Asked{x.metres, x.by, x.ground})
		}
	}
	return list
}

// spacer gathers spacings.
type spacer struct {
	pl     *Played
	plan   *timeline.Plan
	spaces *spaces
	list   []Spacing
}

func (w *spacer) use(v *timeline.Venue, u *timeline.Unit, use playedUse) {
	c := Spacing{Unit: u, Article: use.article}
	asked := askedFor(w.plan, use.article, timeline.ToAudience)
	for i, l := range v.Audience {
		c.Name = l.Name
		w.add(c, target{ToLine, i}, asked, use, func(p timeline.Point) timeline.Point { return nearestPoint(p, l.From, l.To) })
	}
	asked = askedFor(w.plan, use.article, timeline.ToPerformers)
	for i, m := range v.Performers {
		w.mark(c, target{ToMark, i}, m, asked, use)
	}
	for i, m := range v.Clear {
		w.mark(c, target{ToZone, i}, m, ownOf(asked), use)
	}
}

func (w *spacer) mark(c Spacing, t target, m timeline.PlanMark, list []asked, use playedUse) {
	c.Name, c.Never = m.Name, !playsDuring(w.pl.plan, c.Unit.Placed.ID, use.article, m)
	w.add(c, t, list, use, func(p timeline.Point) timeline.Point { return rimPoint(p, m) })
}

// add takes the row that is hardest to keep.
func (w *spacer) add(c Spacing, at target, list []asked, use playedUse, nearest func(timeline.Point) timeline.Point) {
	t := w.spaces.to[at.to()].at(use.song, c.Unit, use.article)
	if t.off {
		return
	}
	noReach := w.spaces.reach.at(use.song, c.Unit, use.article).off
	row := w.spaces.row(c.Unit, use.article, at, list, t.of(separationExtra).plain, func(r *Row) bool { return r.From != FromEnvelope || !noReach && r.State() == figure.Short })
	if row == nil {
		return
	}
	p := row.Printed()
	c.Kind, c.Place, c.Needs, c.Away, c.By, c.Of, c.Short = at.kind, at.place, p.Required, p.Planned, row.By, row.From, row.State() == figure.Short
	c.From, c.To = w.ends(c.Unit, use.article, at, row, nearest)
	w.list = append(w.list, c)
}

// ends gives the points between which a row is measured, as they are drawn on the
// plan.
func (w *spacer) ends(u *timeline.Unit, a *timeline.Article, at target, row *Row, nearest func(timeline.Point) timeline.Point) (from, to timeline.Point) {
	from = pointOf(u.Position)
	x := w.spaces.of(u, a, at.to())
	if row.From == FromUnit || x.Track == nil {
		return from, nearest(from)
	}
	line := timeline.PlanLine{}
	if at.kind == ToLine {
		line = w.spaces.venue.Audience[at.place]
	} else {
		line.From = w.spaces.markOf(at).At
		line.To = line.From
	}
	p, _ := figure.Closest(x.Track.From, x.Track.To, figure.Point(line.From), figure.Point(line.To))
	return timeline.Point(p), nearest(timeline.Point(p))
}

// rimPoint gives the point of a mark's circle that is nearest to a place; the
// place itself where it lies inside.
func rimPoint(p timeline.Point, m timeline.PlanMark) timeline.Point {
	away := math.Hypot(p.X-m.At.X, p.Y-m.At.Y)
	if away <= m.Radius {
		return p
	}
	k := m.Radius / away
	return timeline.Point{X: m.At.X + k*(p.X-m.At.X), Y: m.At.Y + k*(p.Y-m.At.Y)}
}

// playsDuring reports whether a plan plays an article on a placed effect while
// a mark counts.
func playsDuring(p *timeline.Plan, placed timeline.ID, a *timeline.Article, m timeline.PlanMark) bool {
	if m.Song == "" {
		return true
	}
	for i := range p.Songs {
		ps := &p.Songs[i]
		if ps.Song.ID != m.Song {
			continue
		}
		for k := range ps.Commands {
			c := &ps.Commands[k]
			if c.Unit.Placed.ID != placed || c.Article != a {
				continue
			}
			if from, to := c.Zone(); m.During(m.Song, from, to) {
				return true
			}
		}
	}
	for i := range p.Keys {
		k := &p.Keys[i]
		for j := range k.Uses {
			if u := &k.Uses[j]; u.Unit.Placed.ID == placed && u.Article == a && mayMeet(p, k, u, m) {
				return true
			}
		}
	}
	return false
}

// Turned is what a unit that does not stand upright plays, as it lies on the plan:
// from its place to the end of its axis, its path or its line.
type Turned struct {
	Unit     *timeline.Unit
	Article  *timeline.Article
	From, To timeline.Point
	Half     float64 // m on both sides that it can fill, or that must stay free
	Aim      string  // "leans 80° to the audience"
}

// TurnedOn lists what a plan plays on units that do not stand upright.
func (pl *Played) TurnedOn(p *timeline.Plan) []Turned {
	s := newSpaces(p)
	var list []Turned
	for _, u := range p.Units.All {
		for _, use := range pl.uses[u.Placed.ID] {
			x := s.of(u, use.article, timeline.ToAudience)
			if x == nil || x.Track == nil {
				continue
			}
			half := 0.0
			if x.Envelope != nil {
				half = x.Envelope.Widest()
			}
			if beside := x.Beside(); figure.Known(beside) {
				half = max(half, beside)
			}
			list = append(list, Turned{u, use.article, timeline.Point(x.Track.From), timeline.Point(x.Track.To), half, reach.Printed(u, use.article)})
		}
	}
	return list
}
