package permit

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"emberbeat/shows/report"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
	"emberbeat/timeline/figure"
	"emberbeat/timeline/reach"
	"emberbeat/timeline/rule"
	"emberbeat/timeline/units"
)

// FiringPoint is a place on stage where effects stand. Metres from the middle of
// the stage's front edge: x to the audience's right, y upstage, z up.
type FiringPoint struct {
	No       int      `json:"no"`       // on the stage plan
	Position string   `json:"position"` // id; "" = not given
	Name     string   `json:"name"`
	X        float64  `json:"x"`
	Y        float64  `json:"y"`
	Z        float64  `json:"z"`
	Effects  []string `json:"effects"` // placed effects that are in tonight's rig
	Articles []string `json:"articles"`
	Points   []string `json:"points"`     // of what does not stand upright: "jet 1: pan 0°, tilt −80°: leans 80° to the audience"
	Fallout  float64  `json:"fallout"`    // the widest of what stands there
	Clear    float64  `json:"clear_zone"` // the widest
}

// firingPoints gathers what stands where, by the positions' names; what has no
// position comes last.
func firingPoints(p *timeline.Plan) []FiringPoint {
	list := []FiringPoint{}
	at := map[string]int{}
	for _, u := range p.Units.All {
		if u.Out {
			continue
		}
		pt := FiringPoint{Name: "no position given"}
		if q := u.Position; q != nil {
			pt = FiringPoint{Position: string(q.ID), Name: p.Called(q), X: q.X, Y: q.Y, Z: q.Z}
		}
		i, ok := at[pt.Position]
		if !ok {
			i = len(list)
			at[pt.Position], list = i, append(list, pt)
		}
		list[i].Effects = append(list[i].Effects, u.Name)
		if points := reach.Printed(u, u.Article); points != "upright" {
			list[i].Points = append(list[i].Points, u.Name+": "+points)
		}
		if a := u.Article; a != nil {
			list[i].Fallout, list[i].Clear = max(list[i].Fallout, a.Fallout), max(list[i].Clear, a.Clear)
			if !slices.Contains(list[i].Articles, report.ArticleName(u)) {
				list[i].Articles = append(list[i].Articles, report.ArticleName(u))
			}
		}
	}
	slices.SortStableFunc(list, func(a, b FiringPoint) int {
		return cmp.Or(cmp.Compare(wording.OneIf(a.Position == ""), wording.OneIf(b.Position == "")), strings.Compare(a.Name, b.Name))
	})
	for i := range list {
		list[i].No = i + 1
	}
	return list
}

// Distance is what some effects of one position keep from the nearest people,
// beside all that is asked for. Metres; required is rounded up and planned is
// rounded down to a tenth, and what is printed is what is judged.
type Distance struct {
	No       int           `json:"no"`       // of the firing point on the stage plan
	Position string        `json:"position"` // name
	Effects  []string      `json:"effects"`
	Article  string        `json:"article"` // name
	Aim      string        `json:"aim"`     // "upright", "leans 80° to the audience"
	To       string        `json:"to"`      // "audience" or "performers"
	Rows     []DistanceRow `json:"rows"`
	Verdict  string        `json:"state"` // "short", "cannot be checked", "kept"

	// What governs, in short.
	Nearest  string   `json:"nearest"`  // line or mark; "" = none is given
	Required float64  `json:"required"` // 0 = not given
	Planned  *float64 `json:"planned"`  // null = cannot be measured
	Governs  string   `json:"governs"`  // the governing rule; "" = nothing gives a distance
	Mark     string   `json:"mark"`     // of what governs
	Source   string   `json:"source"`
	Short    bool     `json:"short"`
}

// DistanceRow is one thing that asks for a distance.
type DistanceRow struct {
	By       string   `json:"by"`
	From     string   `json:"from"`     // what it is measured from: "unit", "axis", "path" …
	Nearest  string   `json:"nearest"`  // line or mark; "" = none is given
	Required *float64 `json:"required"` // null = not given
	Planned  *float64 `json:"planned"`  // null = cannot be measured
	Mark     string   `json:"mark"`
	Verdict  string   `json:"state"`
	Lacks    string   `json:"not_given,omitempty"`
	Governs  bool     `json:"governs"`
}

// permitDistances puts clearances into lines; effects of one position with the
// same article that point the same way share theirs.
func permitDistances(all []rule.Clearance, points []FiringPoint) []Distance {
	list := []Distance{}
	numbers := map[string]int{}
	for _, pt := range points {
		numbers[pt.Position] = pt.No
	}
	type key struct {
		position *timeline.StagePosition
		article  *timeline.Article
		to       timeline.DistanceTo
		aim      string
		required float64
		nearest  string
	}
	at := map[key]int{}
	for i := range all {
		c := &all[i]
		k := key{c.Unit.Position, c.Article, c.To, reach.Aim(c.Unit, c.Article), c.Required, c.Nearest}
		if n, ok := at[k]; ok {
			list[n].Effects = append(list[n].Effects, c.Unit.Name)
			continue
		}
		at[k] = len(list)
		list = append(list, permitDistance(c))
		list[at[k]].No = numbers[positionID(c.Unit)]
	}
	slices.SortStableFunc(list, func(a, b Distance) int {
		return cmp.Or(cmp.Compare(a.To, b.To), cmp.Compare(a.margin(), b.margin()), strings.Compare(a.Position, b.Position))
	})
	return list
}

func permitDistance(c *rule.Clearance) Distance {
	d := Distance{Position: report.PositionName(c.Unit), Effects: []string{c.Unit.Name}, Article: c.Unit.Called(c.Article), Aim: reach.Aim(c.Unit, c.Article), To: string(c.To), Nearest: c.Nearest,
		Required: wording.RoundMetres(c.Required), Rows: []DistanceRow{}, Verdict: string(c.State), Short: c.Short()}
	if c.Measured {
		d.Planned = &c.Planned
	}
	if len(c.Asked) > 0 {
		d.Governs, d.Mark, d.Source = c.Asked[0].By, string(c.Asked[0].Ground.Mark), c.Asked[0].Ground.Source
	}
	for i := range c.Rows {
		r := &c.Rows[i]
		p := r.Printed()
		row := DistanceRow{By: r.By, From: string(r.From), Nearest: r.Nearest, Required: known(p.Required), Planned: known(p.Planned), Mark: string(r.Ground.Mark), Verdict: string(r.State()), Lacks: r.Lacks, Governs: i == c.Governs}
		if row.Planned == nil && row.Lacks == "" {
			row.Lacks = map[string]string{"audience": "audience line", "performers": "mark"}[d.To] + " or position not given"
		}
		d.Rows = append(d.Rows, row)
	}
	return d
}

// known makes null of a figure that nobody has given.
func known(x float64) *float64 {
	if !figure.Known(x) {
		return nil
	}
	x = wording.RoundMetres(x)
	return &x
}

// margin is what is left beyond the required distance, for the order of the
// table: the least first, and what cannot be compared last.
func (d *Distance) margin() float64 {
	if d.Planned == nil || d.Governs == "" {
		return 1e9
	}
	return *d.Planned - d.Required
}

// State says what comparing a row gave, and by how much it is short or what is not
// given.
func (r *DistanceRow) State(told units.System) string {
	switch r.Verdict {
	case string(figure.Short):
		if *r.Required-*r.Planned < 0.05 { // what must not be reached is
			return "REACHED"
		}
		return "SHORT BY " + told.Up("m", wording.RoundMetres(*r.Required-*r.Planned), -1)
	case string(figure.Unchecked):
		return wording.JoinGiven(": ", r.Verdict, strings.TrimPrefix(r.Lacks, r.By+" ")) // what asks stands beside it
	}
	return r.Verdict
}

// Height is how high an article reaches at one position. Metres; what is needed is
// rounded up and the trim is rounded down to a tenth.
type Height struct {
	Position string   `json:"position"`
	Article  string   `json:"article"`
	Aim      string   `json:"aim"`
	Units    int      `json:"units"`
	Z        float64  `json:"z"`
	Height   float64  `json:"height"`     // 0 = not given
	Reach    *float64 `json:"reach"`      // with tolerance; null = cannot be computed
	Needs    *float64 `json:"needs_trim"` // with margin
	Trim     *float64 `json:"trim"`       // null = not given
	Mark     string   `json:"mark"`       // of the height
	Verdict  string   `json:"state"`
}

// permitHeights lists the heights of what is played, the highest first. Without
// a venue there is nothing to compare with.
func permitHeights(p *timeline.Plan, site *timeline.OnSite) []Height {
	list := []Height{}
	if p.Venue == nil {
		return list
	}
	at := map[[3]string]int{}
	for i := range site.Loads {
		l := &site.Loads[i]
		if l.First == nil || l.Article.Family.Space() == timeline.NoSpace {
			continue
		}
		k := [3]string{positionID(l.Unit), string(l.Article.ID), reach.Aim(l.Unit, l.Article)}
		if n, ok := at[k]; ok {
			list[n].Units++
			continue
		}
		at[k] = len(list)
		list = append(list, permitHeight(p, l))
	}
	slices.SortStableFunc(list, func(a, b Height) int {
		return cmp.Or(cmp.Compare(b.needs(), a.needs()), strings.Compare(a.Position, b.Position))
	})
	return list
}

func permitHeight(p *timeline.Plan, l *timeline.Load) Height {
	h := Height{Position: report.PositionName(l.Unit), Article: p.Called(l.Article), Aim: reach.Aim(l.Unit, l.Article), Units: 1, Height: l.Article.Height, Mark: string(l.Article.MarkOf("height"))}
	row := figure.Row{Required: figure.Unknown(), Planned: figure.Unknown()}
	if top, needs, ok := rule.Reach(p, l.Unit, l.Article); ok {
		row.Required = needs
		h.Reach = known(figure.RoundedUp(top))
	}
	if p.Venue.Trim > 0 {
		row.Planned = p.Venue.Trim
	}
	h.Needs, h.Trim, h.Verdict = known(row.Printed().Required), known(row.Printed().Planned), string(row.State())
	if l.Unit.Position != nil {
		h.Z = l.Unit.Position.Z
	}
	return h
}

func (h *Height) needs() float64 {
	if h.Needs == nil {
		return 0
	}
	return *h.Needs
}

func positionID(u *timeline.Unit) string {
	if u.Position == nil {
		return ""
	}
	return string(u.Position.ID)
}

// State says what comparing the height with the roof gave.
func (h *Height) State(told units.System) string {
	switch {
	case h.Verdict == string(figure.Short):
		return "TOO HIGH BY " + told.Up("m", wording.RoundMetres(*h.Needs-*h.Trim), -1)
	case h.Needs == nil:
		return h.Verdict + ": height not given"
	case h.Trim == nil:
		return h.Verdict + ": trim height not given"
	}
	return h.Verdict
}

// Compared counts the rows of distances and heights.
type Compared struct {
	Rows      int `json:"rows"`
	Compared  int `json:"compared"`
	Short     int `json:"short"`
	Unchecked int `json:"cannot_be_checked"`
}

// String writes "12 of 15 rows compared, 2 short, 3 cannot be checked".
func (c Compared) String() string {
	return fmt.Sprintf("%d of %s compared, %d short, %d cannot be checked", c.Compared, timeline.Counted(c.Rows, "row"), c.Short, c.Unchecked)
}

func (c *Compared) count(verdict string) {
	c.Rows++
	switch figure.State(verdict) {
	case figure.Unchecked:
		c.Unchecked++
		return
	case figure.Short:
		c.Short++
	}
	c.Compared++
}

// comparedIn counts; an effect for which nothing asks is a row that cannot be
// checked.
func comparedIn(distances []Distance, heights []Height) Compared {
	var c Compared
	for i := range distances {
		for k := range distances[i].Rows {
			c.count(distances[i].Rows[k].Verdict)
		}
		if len(distances[i].Rows) == 0 {
			c.count(distances[i].Verdict)
		}
	}
	for i := range heights {
		c.count(heights[i].Verdict)
	}
	return c
}
