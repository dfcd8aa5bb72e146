package rule

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/figure"
)

// deferral ends every help about distances, heat, gas and circuits.
const deferral = "; label, permit and authority come first"

// asked is a distance that something asks for between an article and people.
type asked struct {
	metres  float64 // unknown where it cannot be computed
	by      string  // what asks: "label distance"
	ground  Ground
	glowing bool   // of what glows or flames, not of the unit
	lacks   string // what is not given; "" = nothing
}

// askedOf lists what is asked for an article, the largest first: by the
// article itself, the rule set of the venue, its permit and the night's officer.
// What should ask and gives no number comes last, with what it lacks.
func (r *setRun) askedOf(a *timeline.Article, to timeline.DistanceTo) []asked {
	return askedFor(r.plan, a, to)
}

func askedFor(p *timeline.Plan, a *timeline.Article, to timeline.DistanceTo) []asked {
	var list []asked
	told := p.Show.Told()
	add := func(by string, metres float64, ground Ground) {
		if metres > 0 {
			list = append(list, asked{metres: metres, by: by, ground: ground})
		}
	}
	lacks := func(by, what string, ground Ground) {
		list = append(list, asked{metres: figure.Unknown(), by: by, ground: ground, lacks: what})
	}
	from := func(by string, distances []timeline.Distance, ground Ground) {
		for _, d := range distances {
			if !d.Covers(a, to) {
				continue
			}
			g, name := ground, strings.TrimSpace(by+" "+d.Clause)
			g.Field, g.Text = "distances", d.Formula(told, a)
			add(name, d.Metres(a), g)
			if part := d.Unknown(a); part != "" {
				lacks(name+", "+part, "fallout not given", g)
			}
			if d.Glowing > 0 {
				g.Text = told.Say("m", d.Glowing, 2)
				list = append(list, asked{metres: d.Glowing, by: name + ", glowing particles", ground: g, glowing: true})
			}
		}
	}
	if set := RuleSetOf(p.Show, p.Venue); set != nil {
		from("rule set "+p.Show.Called(set), set.Distances, Ground{Ref: rigRef("ruleset", set.ID), Mark: set.Mark, Source: set.Source})
	}
	if v := p.Venue; v != nil {
		from("permit", v.Distances, Ground{Ref: rigRef("venue", v.ID)})
	}
	if n := p.Night; n != nil {
		from("officer", n.Distances, Ground{Ref: rigRef("night", n.ID)})
	}
	placed := slices.ContainsFunc(list, func(x asked) bool { return !x.glowing })
	needs := a.Family.Class().Needs()
	if to == timeline.ToAudience {
		add(labelDistance, a.Separation, ofArticle(a, "separation", told.Say("m", a.Separation, 2)))
		if a.Separation == 0 && needs.Height && !placed {
			lacks(labelDistance, "label distance not given", ofArticle(a, "separation", "not given"))
		}
	}
	add("clear zone", a.Clear, ofArticle(a, "clear", told.Say("m", a.Clear, 2)))
	add(falloutRadius, a.Fallout, ofArticle(a, "fallout", told.Say("m", a.Fallout, 2)))
	if a.Fallout == 0 && needs.Fallout {
		lacks(falloutRadius, "fallout not given", ofArticle(a, "fallout", "not given"))
	}
	slices.SortStableFunc(list, func(x, y asked) int {
		return cmp.Or(cmp.Compare(b2i(x.glowing), b2i(y.glowing)), cmp.Compare(y.metres, x.metres))
	})
	return list
}

// labelDistance is what an article's own distance to the audience is called.
const labelDistance = "label distance"

// falloutRadius is what an article's fallout is called where it asks for room.
const falloutRadius = "fallout radius"

// mostAsked gives what governs a unit itself: the largest distance that has a
// number; false where none has.
func mostAsked(list []asked) (asked, bool) {
	if len(list) == 0 || list[0].glowing || !figure.Known(list[0].metres) {
		return asked{}, false
	}
	return list[0], true
}

// grounds gives where all that is asked stands, what governs first.
func grounds(list []asked) []Ground {
	all := make([]Ground, len(list))
	for i := range list {
		all[i] = list[i].ground
	}
	return all
}

// near is a use of an article nearer to somebody than is asked.
type near struct {
	use  *setUse
	away float64
}

// names lists the units, and fills the values of a finding with how far each
// is away.
func (f *Finding) whoIsNear(list []near) {
	var names []string
	for _, n := range list {
		names = addOnce(names, n.use.unit.Name)
		f.Values = append(f.Values, measure("away "+string(n.use.unit.Placed.ID), roundTo(n.away, 3), "m"))
	}
	f.Text = some(names) + ": " + f.Text
	for _, n := range list {
		f.Others = addOnce(f.Others, rigRef("placed", n.use.unit.Placed.ID))
	}
}

// nearestOf gives the use that is nearest, and those of all that the set plays
// first.
func nearestOf(list []near) near {
	return slices.MinFunc(list, func(a, b near) int { return cmp.Compare(a.away, b.away) })
}

func usesOf(list []near) []*setUse {
	uses := make([]*setUse, len(list))
	for i := range list {
		uses[i] = list[i].use
	}
	return uses
}

// cutTonight gives the fix that takes units out of a night's cues, or nil on
// the tour.
func (r *setRun) cutTonight(list []near, reason string) *Fix {
	n := r.plan.Night
	if n == nil {
		return nil
	}
	var items, names []string
	for _, c := range n.Cuts {
		items = append(items, c.String())
	}
	for _, x := range list {
		cut := timeline.Cut{Selector: timeline.Selector{What: "placed", ID: string(x.use.unit.Placed.ID)}, Reason: reason}
		items, names = addOnce(items, cut.String()), addOnce(names, x.use.unit.Name)
	}
	return fixList("cut "+some(names)+" tonight", rigRef("night", n.ID), "cuts", items)
}

// fromSegment gives how far a point lies from a line between two points, on
// the plan.
func fromSegment(p, from, to timeline.Point) float64 {
	return figure.Point(p).ToPiece(figure.Point(from), figure.Point(to))
}

// nearestPoint gives the point of a line between two points that is nearest to
// another.
func nearestPoint(p, from, to timeline.Point) timeline.Point {
	return timeline.Point(figure.Nearest(figure.Point(p), figure.Point(from), figure.Point(to)))
}

func pointOf(p *timeline.StagePosition) timeline.Point { return timeline.Point{X: p.X, Y: p.Y} }

// lineName names a line or mark of the stage plan.
func lineName(name, kind string) string {
	if name == "" {
		return "a " + kind
	}
	return fmt.Sprintf("%s %q", kind, name)
}
