package rule

import (
	"fmt"
	"slices"

	"emberbeat/timeline"
)

// throwSetting is the setting of separation and performers that says how far a
// tilted shot is taken to go.
func throwSetting() Setting {
	return Setting{Name: "throw", Default: "1", Mark: timeline.Derived, Source: "derived: a throw without drag that would rise to the article's height straight up; measure your own",
		Help: "part of it that a tilted comet, mine or airburst is taken to go before its fallout comes down"}
}

// pathThrow is the place of the setting throw, in separation and performers.
var pathThrow = setting("throw", "separation", "performers")

// passing is a use whose path passes too near to something.
type passing struct {
	near
	path timeline.Path
}

// passes lists the uses of an article whose path comes nearer to something than
// what must stay free beside it and the margin of the rule.
func (r *setRun) passes(a *timeline.Article, uses []*setUse, from func(*timeline.Path) float64) []passing {
	var list []passing
	for _, u := range uses {
		if !u.unit.Leaves() {
			continue
		}
		t := r.tune(u.song, u.unit, a)
		p, ok := u.unit.Path(a, t.of(pathThrow).plain)
		if !ok || t.off || p.Half == 0 {
			continue
		}
		if away := from(&p); above(p.Half+t.of(separationExtra).plain, away) {
			list = append(list, passing{near{u, away}, p})
		}
	}
	return list
}

func nearsOf(list []passing) []near {
	var out []near
	for _, p := range list {
		out = append(out, p.near)
	}
	return out
}

// pathAsks says what a path must keep free, what governs, and where that stands.
func (r *setRun) pathAsks(a *timeline.Article, p *timeline.Path, t *tuning) (by string, grounds []Ground) {
	switch {
	case p.Line && a.Corridor/2 >= a.Fallout:
		return "its line corridor", []Ground{ofArticle(a, "corridor", metres(a.Corridor))}
	case p.Line:
		return "fallout along its line", []Ground{ofArticle(a, "fallout", metres(a.Fallout))}
	}
	return "fallout of the tilted shot", []Ground{ofArticle(a, "fallout", metres(a.Fallout)), ofArticle(a, "height", metres(a.Height)), r.rule.fromSetting(pathThrow, t)}
}

// pathTooNear reports the units of an article whose paths come too near to an
// audience line.
func (r *setRun) pathTooNear(a *timeline.Article, uses []*setUse, line timeline.PlanLine) {
	short := r.passes(a, uses, func(p *timeline.Path) float64 { return p.AwayFromLine(line.From, line.To) })
	if len(short) == 0 {
		return
	}
	first := r.earliest(usesOf(nearsOf(short)))
	f := r.firstUse(rigRef("article", a.ID), first)
	r.pathFinding(&f, a, short, first, lineName(line.Name, "audience line"), word("line", line.String()))
	r.add(r.tune(first.song, first.unit, a), first.song, "", f)
}

// pathReaches reports the units of an article whose paths reach a mark while it
// counts.
func (r *setRun) pathReaches(a *timeline.Article, uses []*setUse, m timeline.PlanMark, kind string) {
	all := r.passes(a, uses, func(p *timeline.Path) float64 { return max(0, p.Away(m.At)-m.Radius) })
	if len(all) == 0 {
		return
	}
	kept, at := r.during(a, nearsOf(all), m)
	short := slices.DeleteFunc(all, func(p passing) bool { return !slices.ContainsFunc(kept, func(n near) bool { return n.use == p.use }) })
	if len(short) == 0 {
		return
	}
	f := r.metAt(rigRef("article", a.ID), at)
	r.pathFinding(&f, a, short, short[0].use, lineName(m.Name, kind), word(kind, m.String()))
	r.add(r.tune(at.song, at.unit, a), at.song, "", f)
}

func (r *setRun) pathFinding(f *Finding, a *timeline.Article, short []passing, first *setUse, what string, value Value) {
	t := r.tune(first.song, first.unit, a)
	worst := slices.MinFunc(short, func(x, y passing) int { return compareFloats(x.away-x.path.Half, y.away-y.path.Half) })
	needs := worst.path.Half + t.of(separationExtra).plain
	by, grounds := r.pathAsks(a, &worst.path, t)
	f.Others = append(f.Others, rigRef("venue", r.plan.Venue.ID))
	f.Text = fmt.Sprintf("the path of %s comes within %s of %s and needs %s: %s governs", a.Name, metres(worst.away), what, metres(needs), by)
	f.Values = []Value{value, measure("required", needs, "m"), word("governs", by)}
	f.Grounds = r.rule.with(separationExtra, t, grounds...)
	f.whoIsNear(nearsOf(short))
	f.Help = "turn or move it, end its line elsewhere, let the place be kept free, swap it or cut it for the night" + deferral
	f.Fix = r.cutTonight(nearsOf(short), "its path comes too near to "+what)
}

func compareFloats(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}
