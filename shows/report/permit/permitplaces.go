package permit

import (
	"cmp"
	"slices"
	"strings"

	"emberbeat/shows/report"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
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
			pt = FiringPoint{Position: string(q.ID), Name: report.NameOr(q.Name, q.ID), X: q.X, Y: q.Y, Z: q.Z}
		}
		i, ok := at[pt.Position]
		if !ok {
			i = len(list)
			at[pt.Position], list = i, append(list, pt)
		}
		list[i].Effects = append(list[i].Effects, report.UnitName(u))
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

// Distance is the distance that some effects of one position keep from
// the nearest people, beside what is asked for. Metres on the plan.
type Distance struct {
	No       int         `json:"no"`       // of the firing point on the stage plan
	Position string      `json:"position"` // name
	Effects  []string    `json:"effects"`
	Article  string      `json:"article"` // name
	To       string      `json:"to"`      // "audience" or "performers"
	Nearest  string      `json:"nearest"` // line or mark; "" = none is given
	Required float64     `json:"required"`
	Planned  *float64    `json:"planned"` // null = cannot be measured
	Governs  string      `json:"governs"` // the governing rule; "" = nothing gives a distance
	Mark     string      `json:"mark"`    // of what governs
	Source   string      `json:"source"`
	Asked    []AskedLine `json:"asked"`
	Short    bool        `json:"short"`
}

// AskedLine is one distance that something asks for.
type AskedLine struct {
	Metres float64 `json:"metres"`
	By     string  `json:"by"`
	Mark   string  `json:"mark"`
}

// permitDistances puts clearances into lines; effects of one position with the
// same article share theirs.
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
		required float64
		nearest  string
	}
	at := map[key]int{}
	for i := range all {
		c := &all[i]
		k := key{c.Unit.Position, c.Article, c.To, c.Required, c.Nearest}
		if n, ok := at[k]; ok {
			list[n].Effects = append(list[n].Effects, report.UnitName(c.Unit))
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
	d := Distance{Position: report.PositionName(c.Unit), Effects: []string{report.UnitName(c.Unit)}, Article: report.NameOr(c.Article.Name, c.Article.ID), To: string(c.To), Nearest: c.Nearest,
		Required: wording.RoundMetres(c.Required), Asked: []AskedLine{}, Short: c.Short()}
	if c.Measured {
		planned := wording.RoundMetres(c.Planned)
		d.Planned = &planned
	}
	for _, a := range c.Asked {
		d.Asked = append(d.Asked, AskedLine{wording.RoundMetres(a.Metres), a.By, string(a.Ground.Mark)})
	}
	if len(c.Asked) > 0 {
		d.Governs, d.Mark, d.Source = c.Asked[0].By, string(c.Asked[0].Ground.Mark), c.Asked[0].Ground.Source
	}
	return d
}

// margin is what is left beyond the required distance, for the order of the
// table: the least first, and what cannot be compared last.
func (d *Distance) margin() float64 {
	if d.Planned == nil || d.Governs == "" {
		return 1e9
	}
	return *d.Planned - d.Required
}

// State says what the comparison found.
func (d *Distance) State() string {
	switch {
	case d.Governs == "":
		return "nothing gives a distance"
	case d.Nearest == "" && d.Planned == nil:
		return "not measured: " + map[string]string{"audience": "audience line", "performers": "mark"}[d.To] + " or position not given"
	case d.Short:
		return "SHORT BY " + wording.Metres(d.Required-*d.Planned)
	}
	return "no conflict found"
}

// Height is how high an article reaches at one position.
type Height struct {
	Position string  `json:"position"`
	Article  string  `json:"article"`
	Units    int     `json:"units"`
	Z        float64 `json:"z"`
	Height   float64 `json:"height"`
	Reach    float64 `json:"reach"`      // with tolerance
	Needs    float64 `json:"needs_trim"` // with margin
	Trim     float64 `json:"trim"`       // 0 = not given
	Mark     string  `json:"mark"`       // of the height
}

// permitHeights lists the heights of what is played, the highest first. Without
// a venue there is nothing to compare with.
func permitHeights(p *timeline.Plan, site *timeline.OnSite) []Height {
	list := []Height{}
	if p.Venue == nil {
		return list
	}
	at := map[[2]string]int{}
	for i := range site.Loads {
		l := &site.Loads[i]
		if l.First == nil || l.Article.Height == 0 {
			continue
		}
		k := [2]string{positionID(l.Unit), string(l.Article.ID)}
		if n, ok := at[k]; ok {
			list[n].Units++
			continue
		}
		at[k] = len(list)
		top, needs := rule.Reach(p.Venue, l.Unit, l.Article)
		h := Height{Position: report.PositionName(l.Unit), Article: report.NameOr(l.Article.Name, l.Article.ID), Units: 1, Height: l.Article.Height, Reach: wording.RoundMetres(top), Needs: wording.RoundMetres(needs),
			Trim: p.Venue.Trim, Mark: string(l.Article.MarkOf("height"))}
		if l.Unit.Position != nil {
			h.Z = l.Unit.Position.Z
		}
		list = append(list, h)
	}
	slices.SortStableFunc(list, func(a, b Height) int {
		return cmp.Or(cmp.Compare(b.Needs, a.Needs), strings.Compare(a.Position, b.Position))
	})
	return list
}

func positionID(u *timeline.Unit) string {
	if u.Position == nil {
		return ""
	}
	return string(u.Position.ID)
}

// State says whether the height fits under the roof.
func (h *Height) State() string {
	switch {
	case h.Trim == 0:
		return "trim height not given"
	case h.Needs-h.Trim > 0.00005:
		return "TOO HIGH BY " + wording.Metres(h.Needs-h.Trim)
	}
	return "no conflict found"
}
