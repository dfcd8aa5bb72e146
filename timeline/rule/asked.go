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
	metres float64
	by     string // what asks: "label distance"
	ground Ground
}

// askedOf lists what is asked for an article, the largest first: by the
// article itself, the rule set of the venue, its permit and the night's officer.
// What gives no number is not in the list.
func (r *setRun) askedOf(a *timeline.Article, to timeline.DistanceTo) []asked {
	var list []asked
	add := func(by string, metres float64, ground Ground) {
		if metres > 0 {
			list = append(list, asked{metres, by, ground})
		}
	}
	if to == timeline.ToAudience {
		add("label distance", a.Separation, ofArticle(a, "separation", metres(a.Separation)))
	}
	add("clear zone", a.Clear, ofArticle(a, "clear", metres(a.Clear)))
	add("fallout radius", a.Fallout, ofArticle(a, "fallout", metres(a.Fallout)))
	from := func(by string, distances []timeline.Distance, ground Ground) {
		for _, d := range distances {
			if d.Covers(a, to) {
				g := ground
				g.Field, g.Text = "distances", d.Formula(a)
				add(strings.TrimSpace(by+" "+d.Clause), d.Metres(a), g)
			}
		}
	}
	if set := RuleSetOf(r.plan.Show, r.plan.Venue); set != nil {
		from("rule set "+quoteName(set.Name, set.ID), set.Distances, Ground{Ref: rigRef("ruleset", set.ID), Mark: set.Mark, Source: set.Source})
	}
	if v := r.plan.Venue; v != nil {
		from("permit", v.Distances, Ground{Ref: rigRef("venue", v.ID)})
	}
	if n := r.plan.Night; n != nil {
		from("officer", n.Distances, Ground{Ref: rigRef("night", n.ID)})
	}
	slices.SortStableFunc(list, func(x, y asked) int { return cmp.Compare(y.metres, x.metres) })
	return list
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
		names = addOnce(names, n.use.unit.Placed.Name)
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
		items, names = addOnce(items, cut.String()), addOnce(names, x.use.unit.Placed.Name)
	}
	return &Fix{Label: "cut " + some(names) + " tonight", Edits: []timeline.Edit{setList(rigRef("night", n.ID), "cuts", items)}}
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
