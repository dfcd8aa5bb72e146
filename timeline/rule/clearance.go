package rule

import (
	"math"
	"slices"

	"emberbeat/timeline"
)

// Clearance is how far one unit stands from the people nearest to it where it
// plays an article, beside what is asked for: a line of a permit's table.
type Clearance struct {
	Unit     *timeline.Unit
	Article  *timeline.Article
	To       timeline.DistanceTo // ToAudience or ToPerformers
	Nearest  string              // the line or mark nearest to it; "" where the venue gives none that counts
	Measured bool                // the unit has a position and there is a Nearest
	Planned  float64             // m on the plan, of what is measured
	Required float64             // m; 0 = nothing gives a distance
	Asked    []Asked             // all that asks for one, what governs first
}

// Asked is a distance that something asks for.
type Asked struct {
	Metres float64
	By     string // "label distance", "rule set \"…\" FC 3309.12", "permit", "officer"
	Ground Ground
}

// Short reports whether the unit stands nearer than is asked for, as the rules
// separation and performers find it.
func (c *Clearance) Short() bool { return c.Measured && above(c.Required, c.Planned) }

// Clearances lists, for every unit and article that a plan plays, the distance
// to the nearest audience line and to the nearest performer's mark while that
// counts. By unit, then as articles are first played; audience before
// performers.
func Clearances(p *timeline.Plan) []Clearance {
	r := &setRun{env: newEnv(p), plan: p}
	var list []Clearance
	for _, use := range playedOn(p) {
		list = append(list, r.clearance(use, timeline.ToAudience), r.clearance(use, timeline.ToPerformers))
	}
	return list
}

// playedOn lists which articles are played on each unit, each with its first
// command; what keys of the operator's plan alone are meant for comes last.
func playedOn(p *timeline.Plan) []setUse {
	byUnit := make([][]setUse, len(p.Units.All))
	for i := range p.Songs {
		for k := range p.Songs[i].Commands {
			c := &p.Songs[i].Commands[k]
			u := &byUnit[c.Unit.Index]
			if !slices.ContainsFunc(*u, func(x setUse) bool { return x.article == c.Article }) {
				*u = append(*u, setUse{unit: c.Unit, article: c.Article, song: i, first: int32(k)})
			}
		}
	}
	for i := range p.Keys {
		k := &p.Keys[i]
		for j := range k.Uses {
			x := &k.Uses[j]
			u := &byUnit[x.Unit.Index]
			if !slices.ContainsFunc(*u, func(y setUse) bool { return y.article == x.Article }) {
				*u = append(*u, setUse{unit: x.Unit, article: x.Article, song: -1, hand: k})
			}
		}
	}
	var all []setUse
	for _, u := range p.Units.All {
		all = append(all, byUnit[u.Index]...)
	}
	return all
}

func (r *setRun) clearance(use setUse, to timeline.DistanceTo) Clearance {
	c := Clearance{Unit: use.unit, Article: use.article, To: to}
	rule := &separationRule
	if to == timeline.ToPerformers {
		rule = &performersRule
	}
	for _, a := range r.askedOf(use.article, to) {
		c.Asked = append(c.Asked, Asked{a.metres, a.by, a.ground})
	}
	r.rule, r.settings = rule, &r.env.settings[indexOf(rule.Name)]
	if len(c.Asked) > 0 {
		c.Required = c.Asked[0].Metres + r.tune(use.song, use.unit, use.article).of(separationExtra).plain
	}
	if r.plan.Venue != nil && use.unit.Position != nil {
		c.measure(r.plan, pointOf(use.unit.Position))
		r.alongPath(&c, use)
	}
	return c
}

// alongPath looks along the path of a line rocket or a tilted shot, and takes
// what is asked there where it is harder to keep than what is asked of the unit.
func (r *setRun) alongPath(c *Clearance, use setUse) {
	t := r.tune(use.song, use.unit, use.article)
	p, ok := use.unit.Path(use.article, t.of(pathThrow).plain)
	if !ok || p.Half == 0 {
		return
	}
	required := p.Half + t.of(separationExtra).plain
	nearer := func(name string, away float64) {
		if !c.Measured || required-away > c.Required-c.Planned {
			by, grounds := r.pathAsks(use.article, &p, t)
			c.Asked = append([]Asked{{p.Half, by, grounds[0]}}, slices.DeleteFunc(c.Asked, func(a Asked) bool { return a.By == by })...)
			c.Nearest, c.Planned, c.Required, c.Measured = name, away, required, true
		}
	}
	if c.To == timeline.ToAudience {
		for _, l := range r.plan.Venue.Audience {
			nearer(lineName(l.Name, "audience line"), p.AwayFromLine(l.From, l.To))
		}
		return
	}
	for _, m := range r.plan.Venue.Performers {
		if playsDuring(r.plan, use.unit.Placed.ID, use.article, m) {
			nearer(lineName(m.Name, "performer's mark"), max(0, p.Away(m.At)-m.Radius))
		}
	}
}

// measure finds the nearest line or mark.
func (c *Clearance) measure(p *timeline.Plan, at timeline.Point) {
	nearer := func(name string, away float64) {
		if !c.Measured || away < c.Planned {
			c.Nearest, c.Planned, c.Measured = name, away, true
		}
	}
	if c.To == timeline.ToAudience {
		for _, l := range p.Venue.Audience {
			nearer(lineName(l.Name, "audience line"), fromSegment(at, l.From, l.To))
		}
		return
	}
	for _, m := range p.Venue.Performers {
		if playsDuring(p, c.Unit.Placed.ID, c.Article, m) {
			nearer(lineName(m.Name, "performer's mark"), max(0, math.Hypot(at.X-m.At.X, at.Y-m.At.Y)-m.Radius))
		}
	}
}

// Reach gives how high above the stage floor an article reaches at a unit, in
// metres with the venue's tolerance, and the least trim height that allows it.
func Reach(v *timeline.Venue, u *timeline.Unit, a *timeline.Article) (top, needs float64) {
	z := 0.0
	if u.Position != nil {
		z = u.Position.Z
	}
	top = z + a.Height*(1+v.Tolerance)
	if p, ok := u.Path(a, 1); ok && p.Line { // its height is the length of its line
		top = p.Top + a.Corridor/2
	}
	return top, top + v.Margin
}
