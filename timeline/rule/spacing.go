package rule

import (
	"math"

	"emberbeat/timeline"
)

// Spacing is what is kept, and what is asked for, between one unit that plays
// one article and something on the stage plan that people stand at. Metres, on
// the plan; height and tilt are not counted. It says what the rules separation
// and performers compare.
type Spacing struct {
	Unit    *timeline.Unit
	Article *timeline.Article
	Kind    SpacingKind
	Place   int    // of the line, mark or zone in the venue's list
	Name    string // of it
	Needs   float64
	Away    float64
	By      string         // what governs: "label distance"
	From    timeline.Point // the unit's place
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
	w := &spacer{pl: pl, r: &setRun{plan: p}}
	w.lines, w.marks = settingsOf(&separationRule, p.Show.Setting(separationRule.Name)), settingsOf(&performersRule, p.Show.Setting(performersRule.Name))
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
	r := &setRun{plan: p}
	var list []Asked
	for _, x := range r.askedOf(a, to) {
		list = append(list, Asked{x.metres, x.by, x.ground})
	}
	return list
}

// spacer gathers spacings.
type spacer struct {
	pl           *Played
	r            *setRun
	lines, marks settings
	list         []Spacing
}

func (w *spacer) use(v *timeline.Venue, u *timeline.Unit, use playedUse) {
	from := pointOf(u.Position)
	c := Spacing{Unit: u, Article: use.article, From: from, Kind: ToLine}
	asked := w.r.askedOf(use.article, timeline.ToAudience)
	for i, l := range v.Audience {
		c.Place, c.Name, c.To = i, l.Name, nearestPoint(from, l.From, l.To)
		w.add(c, asked, &w.lines, use)
	}
	asked = w.r.askedOf(use.article, timeline.ToPerformers)
	c.Kind = ToMark
	for i, m := range v.Performers {
		w.mark(c, i, m, asked, use)
	}
	own := asked[:0:0]
	for _, x := range asked {
		if x.ground.Ref.Kind == "article" {
			own = append(own, x)
		}
	}
	c.Kind = ToZone
	for i, m := range v.Clear {
		w.mark(c, i, m, own, use)
	}
}

func (w *spacer) mark(c Spacing, place int, m timeline.PlanMark, list []asked, use playedUse) {
	c.Place, c.Name, c.To, c.Never = place, m.Name, rimPoint(c.From, m), !playsDuring(w.pl.plan, c.Unit.Placed.ID, use.article, m)
	w.add(c, list, &w.marks, use)
}

func (w *spacer) add(c Spacing, list []asked, k *settings, use playedUse) {
	t := k.at(use.song, c.Unit, use.article)
	if len(list) == 0 || t.off {
		return
	}
	c.Needs, c.By = list[0].metres+t.of(separationExtra).plain, list[0].by
	c.Away = math.Hypot(c.To.X-c.From.X, c.To.Y-c.From.Y)
	c.Short = above(c.Needs, c.Away)
	w.list = append(w.list, c)
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
			if from, to := zoneTime(c); m.During(m.Song, from, to) {
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
