package rule

import (
	"slices"

	"emberbeat/timeline"
	"emberbeat/timeline/figure"
)

// Clearance is how far one unit keeps from people where it plays an article,
// beside all that is asked for: lines of a permit's table.
type Clearance struct {
	Unit    *timeline.Unit
	Article *timeline.Article
	To      timeline.DistanceTo // ToAudience or ToPerformers
	Rows    []Row               // one for each thing that asks, each to the line or mark it is hardest to keep from
	Governs int                 // the row that lacks most; -1 = none has figures
	State   figure.State        // of all rows

	// What governs, in short.
	Nearest  string  // the line or mark nearest to it; "" where the venue gives none that counts
	Measured bool    // the unit has a position and there is a Nearest
	Planned  float64 // m, of what is measured
	Required float64 // m; 0 = nothing gives a distance
	Asked    []Asked // all that asks for one, what governs first
}

// Asked is a distance that something asks for.
type Asked struct {
	Metres float64 // unknown where it cannot be computed
	By     string  // "label distance", "rule set \"…\" FC 3309.12", "permit", "officer"
	Ground Ground
}

// Short reports whether the unit comes nearer than is asked for, as the rules
// separation, performers, reach and tilted-distance find it.
func (c *Clearance) Short() bool { return c.State == figure.Short }

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
	at := indexOf(keptBy[to])
	r.rule, r.settings = &table[at], &r.env.settings[at]
	list, extra := r.askedOf(use.article, to), r.extraOf(&use)
	for _, a := range list {
		if figure.Known(a.metres) {
			c.Asked = append(c.Asked, Asked{a.metres, a.by, a.ground})
		}
	}
	for _, t := range r.targetsOf(use, to) {
		rows := r.spaces.rows(use.unit, use.article, t, list, extra)
		for i := range rows {
			if t.place >= 0 {
				rows[i].Nearest = r.nameOf(t)
			}
		}
		c.take(rows)
	}
	c.judge()
	return c
}

// targetsOf lists what counts for a use; where nothing does, one target that is
// none.
func (r *setRun) targetsOf(use setUse, to timeline.DistanceTo) []target {
	var list []target
	v := r.plan.Venue
	switch {
	case v == nil:
	case to == timeline.ToAudience:
		for i := range v.Audience {
			list = append(list, target{ToLine, i})
		}
	default:
		for i, m := range v.Performers {
			if playsDuring(r.plan, use.unit.Placed.ID, use.article, m) {
				list = append(list, target{ToMark, i})
			}
		}
	}
	if len(list) == 0 {
		return []target{{map[timeline.DistanceTo]SpacingKind{timeline.ToAudience: ToLine, timeline.ToPerformers: ToMark}[to], -1}}
	}
	return list
}

func (r *setRun) nameOf(t target) string {
	if t.kind == ToLine {
		return lineName(r.plan.Venue.Audience[t.place].Name, "audience line")
	}
	return lineName(r.spaces.markOf(t).Name, string(t.kind))
}

// take keeps of each row the one that is hardest to keep.
func (c *Clearance) take(rows []Row) {
	if c.Rows == nil {
		c.Rows = rows
		return
	}
	for i := range rows { // what asks is the same for every line
		if rows[i].Figures.Planned < c.Rows[i].Figures.Planned {
			c.Rows[i] = rows[i]
		}
	}
}

// judge says what governs.
func (c *Clearance) judge() {
	figures := make([]figure.Row, len(c.Rows))
	for i := range c.Rows {
		figures[i] = c.Rows[i].Figures
	}
	c.Governs, c.State = figure.Judge(figures)
	if c.Governs < 0 {
		if len(c.Asked) > 0 {
			c.Required = figure.RoundedUp(c.Asked[0].Metres)
		}
		return
	}
	row := &c.Rows[c.Governs]
	p := row.Printed()
	c.Nearest, c.Planned, c.Required, c.Measured = row.Nearest, p.Planned, p.Required, true
	c.Asked = append([]Asked{{row.Figures.Required, row.By, row.Ground}}, slices.DeleteFunc(c.Asked, func(a Asked) bool { return a.By == row.By })...)
	if c.To == timeline.ToAudience && row.By == falloutRadius && slices.ContainsFunc(c.Rows, func(r Row) bool { return r.By == labelDistance && r.Lacks != "" }) {
		c.Required, c.Asked = 0, nil // a fallout radius alone is no distance to an audience
	}
}

// Reach gives how high above the stage floor an article reaches at a unit, in
// metres with the venue's tolerance, and the least trim height that allows it;
// false where its height is not known.
func Reach(p *timeline.Plan, u *timeline.Unit, a *timeline.Article) (top, needs float64, ok bool) {
	if p.Venue == nil {
		return 0, 0, false
	}
	return newSpaces(p).top(u, a)
}

func (s *spaces) top(u *timeline.Unit, a *timeline.Article) (top, needs float64, ok bool) {
	x := s.of(u, a, timeline.ToAudience)
	if x == nil { // as if it stood on the stage floor; that it stands nowhere is said elsewhere
		at := *u
		at.Position = &timeline.StagePosition{}
		x = &space{model: s.assumed(&at, a, timeline.ToAudience)}
		x.Shape = x.model.Of(&at, a)
	}
	top, ok = x.model.Top(x.Shape)
	return top, top + s.venue.Margin, ok
}
