package rule

import (
	"fmt"
	"slices"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/figure"
	"emberbeat/timeline/reach"
)

var _ = enter(Rule{
	Name:    unitReachName,
	Summary: "a flame, sparks or a shot reach another unit of the rig",
	Reason: "The envelope of an effect (see reach) must not touch another unit, which is taken as a ball: what holds explosive, gas or paper could go off, leak or burn. Such a unit nearer than is kept free is a note, and any other unit that is reached a warning. " +
		"A spare is looked at as what is used. Units at the very same place are not told apart: how they stand beside each other is not written down. Paths of shots and lines are not looked at here, and nothing shields anything.",
	Scope:    WholeSet,
	Severity: Error,
	Settings: []Setting{
		{Name: "body", Default: "0.5", Unit: "m", Mark: timeline.Judgement, Source: "our judgement", Help: "radius of the ball that a unit is taken as"},
		{Name: "near", Default: "1", Unit: "m", Mark: timeline.Judgement, Source: "our judgement", Help: "kept free around what holds explosive, gas or paper"},
		inRecord("article height", "m", "length of the effect; 0 = not given"),
		inRecord("venue tolerance", "", "part of the height that is added to it"),
	},
	set: checkUnitReach,
})

var _ = enter(Rule{
	Name:    clothName,
	Summary: "a flame, sparks or a shot reach a cloth, a border, a screen or the set",
	Reason: "What hangs or stands on a stage can catch fire, whatever it was treated with. The envelope of an effect (see reach) must not touch a cloth of the venue, which is taken as an upright rectangle over a line on the plan. " +
		"Nearer than is kept free is a warning: cloths move. Paths of shots are not looked at beyond their envelope, and nothing shields anything.",
	Scope:    WholeSet,
	Severity: Error,
	Settings: []Setting{
		{Name: "near", Default: "1", Unit: "m", Mark: timeline.Judgement, Source: "our judgement", Help: "kept free before and behind a cloth"},
		inRecord("article height", "m", "length of the effect; 0 = not given"),
		inRecord("venue tolerance", "", "part of the height that is added to it"),
		inRecord("venue cloths", "", "cloths, borders, screens and set on the stage plan"),
	},
	set: checkCloths,
})

var _ = enter(Rule{
	Name:    exitReachName,
	Summary: "an effect or what falls of it reaches a way out",
	Reason: "People leave by an exit when everything else has gone wrong. The envelope of an effect (see reach) must not touch its circle, nor may anything come down there: fallout around the unit, or around the path of what is tilted. " +
		"Paper over an exit is a note. An exit without a radius has the circle of the setting.",
	Scope:    WholeSet,
	Severity: Warning,
	Settings: []Setting{
		{Name: "radius", Default: "1", Unit: "m", Mark: timeline.Judgement, Source: "our judgement", Help: "of an exit whose own is not given"},
		inRecord("article height", "m", "length of the effect; 0 = not given"),
		inRecord("article fallout", "m", "radius in which something may come down; 0 = not given"),
		inRecord("venue exits", "m", "ways out on the stage plan, with their radius"),
	},
	set: checkExits,
})

var _ = enter(Rule{
	Name:    extinguisherName,
	Summary: "no extinguisher stands near a flame, sparks or a shot, or one stands where nobody may fetch it",
	Reason: "Each of them should have an extinguisher within a short way. Distance on the plan is less than the way that somebody runs, so that what is found here is too far in any case, and what is not found may still be. " +
		"One that stands in the clear zone or the fallout radius of such an effect is not fetched while that burns.",
	Scope:    WholeSet,
	Severity: Note,
	Settings: []Setting{
		{Name: "most", Default: "15", Unit: "m", Mark: timeline.FromMemory, Source: "NFPA 10, class B: 50 ft of travel, rounded down", Help: "from a unit to the nearest extinguisher, on the plan"},
		inRecord("article clear, or article fallout", "m", "circle around the unit in which nobody belongs"),
		inRecord("venue extinguishers", "", "where they stand on the stage plan"),
	},
	set: checkExtinguishers,
})

// The rules about things, by name.
const (
	unitReachName    = "unit-reach"
	clothName        = "cloth"
	exitReachName    = "exit-reach"
	extinguisherName = "extinguisher"
)

var (
	unitBody      = setting("body", unitReachName)
	unitNear      = setting("near", unitReachName)
	clothNear     = setting("near", clothName)
	exitRadius    = setting("radius", exitReachName)
	extinguishers = setting("most", extinguisherName)
)

// burns reports whether what an article does can set fire to something.
func burns(a *timeline.Article) bool {
	c := a.Family.Class()
	return c == timeline.Hot || c == timeline.Spark || c == timeline.Shot
}

// holds says what an article holds that must not be reached by fire; "" where it
// is none of explosive, gas and paper.
func holds(a *timeline.Article) string {
	switch a.Family.Class() {
	case timeline.Spark, timeline.Shot:
		return "explosive"
	case timeline.Hot, timeline.Cold:
		return "gas or fuel"
	case timeline.Paper:
		return "paper"
	}
	if a.NEC > 0 {
		return "explosive"
	}
	return ""
}

// beside is a unit that an envelope comes near to.
type beside struct {
	unit *timeline.Unit
	gap  float64
}

// eachUse gives every use of the set that stands somewhere.
func (r *setRun) eachUse(of func(*timeline.Article) bool, do func(*setUse, *space)) {
	for _, list := range r.merged {
		for i := range list {
			if u := &list[i]; u.unit.Position != nil && of(u.article) {
				do(u, r.spaces.of(u.unit, u.article, timeline.ToPerformers))
			}
		}
	}
}

// besides gives the units near a space. They are looked for once: no cue can move
// them.
func (s *spaces) besides(x *space, all []*timeline.Unit, body, near float64) []beside {
	if x.looked || x.Envelope == nil {
		return x.besides
	}
	x.looked = true
	for _, u := range all {
		if u == x.Unit || u.Position == nil {
			continue
		}
		at := figure.Vec{X: u.Position.X, Y: u.Position.Y, Z: u.Position.Z}
		if at == x.At {
			continue
		}
		gap := x.Envelope.ToBody(at, body)
		if p, ok := x.Envelope.Spread(0); ok && at.Z-body < figure.SpreadHeight {
			gap = min(gap, at.Plan().ToDisc(p.At, p.Radius)-body)
		}
		if (figure.Row{Required: near, Planned: gap}).State() == figure.Short {
			x.besides = append(x.besides, beside{u, gap})
		}
	}
	return x.besides
}

func checkUnitReach(r *setRun) {
	any := r.settings.at(nil, nil, nil)
	r.eachUse(burns, func(use *setUse, x *space) {
		t := r.tune(use.song, use.unit, use.article)
		var alike []beside // those of one article at one distance are told in one breath
		var names [][]string
		for _, b := range r.spaces.besides(x, r.plan.Units.All, any.of(unitBody).plain, any.of(unitNear).plain) {
			if b.unit.Article == nil {
				continue
			}
			i := slices.IndexFunc(alike, func(y beside) bool {
				return y.unit.Article == b.unit.Article && figure.RoundedDown(max(0, y.gap)) == figure.RoundedDown(max(0, b.gap)) && y.gap > 0 == (b.gap > 0)
			})
			if i < 0 {
				i = len(alike)
				alike, names = append(alike, b), append(names, nil)
			}
			names[i] = append(names[i], b.unit.Name)
		}
		for i, b := range alike {
			r.reachesUnit(t, use, b, names[i])
		}
	})
}

// reachesUnit reports a use that comes near to units, all of one article and all
// at one distance.
func (r *setRun) reachesUnit(t *tuning, use *setUse, b beside, names []string) {
	what, near := holds(b.unit.Article), t.of(unitNear)
	p := figure.Row{Planned: b.gap}.Printed()
	low := *t
	them := fmt.Sprintf("%s (%s)", some(names), r.name(b.unit.Article))
	text := r.name(use.article) + whichWay(use.unit, use.article) + " reaches "
	required := near.plain
	switch {
	case b.gap > 0 && what == "":
		return
	case b.gap > 0:
		low.severity = lesser(t.severity, Note)
		text += fmt.Sprintf("to %s of %s, which holds %s; %s is kept free", r.down(p.Planned), them, what, r.given("m", near.plain))
	case what == "":
		low.severity, required = lesser(t.severity, Warning), 0
		text += them
	default:
		text += fmt.Sprintf("%s, which holds %s", them, what)
	}
	f := r.firstUse(rigRef("placed", use.unit.Placed.ID), use)
	f.Text = text
	f.Others = append(f.Others, rigRef("article", use.article.ID), rigRef("placed", b.unit.Placed.ID))
	f.Values = []Value{measure("required", figure.RoundedUp(required), "m"), measure("planned", max(0, p.Planned), "m"), word("governs", "reach"), word("reached", strings.Join(names, ", "))}
	f.Grounds = []Ground{r.rule.fromSetting(unitNear, t), r.rule.fromSetting(unitBody, t), ofArticle(use.article, "height", r.metres(use.article.Height))}
	f.Help = "place one of them elsewhere, turn the effect away, or cut it for the night" + deferral
	r.add(&low, use.song, use.unit.Name, f)
}

func checkCloths(r *setRun) {
	v := r.plan.Venue
	if v == nil || len(v.Cloths) == 0 {
		return
	}
	r.eachUse(burns, func(use *setUse, x *space) {
		t := r.tune(use.song, use.unit, use.article)
		for i, gap := range x.toCloths(v.Cloths) {
			row := figure.Row{Required: t.of(clothNear).plain, Planned: gap}
			if row.State() != figure.Short {
				continue
			}
			r.reachesCloth(t, use, &v.Cloths[i], row)
		}
	})
}

// reachesCloth reports a use that reaches a cloth, or comes nearer to it than is
// kept free.
func (r *setRun) reachesCloth(t *tuning, use *setUse, l *timeline.PlanWall, row figure.Row) {
	p := row.Printed()
	low := *t
	text := r.name(use.article) + whichWay(use.unit, use.article) + " reaches "
	if row.Planned > 0 {
		low.severity = lesser(t.severity, Warning)
		text += fmt.Sprintf("to %s of %s; %s is kept free", r.down(max(0, p.Planned)), lineName(l.Name, "cloth"), r.given("m", row.Required))
	} else {
		text += lineName(l.Name, "cloth")
	}
	f := r.firstUse(rigRef("placed", use.unit.Placed.ID), use)
	f.Text = text
	f.Others = append(f.Others, rigRef("venue", r.plan.Venue.ID), rigRef("article", use.article.ID))
	f.Values = []Value{word("cloth", l.String()), measure("required", p.Required, "m"), measure("planned", max(0, p.Planned), "m"), word("governs", "reach")}
	f.Grounds = []Ground{r.rule.fromSetting(clothNear, t), ofArticle(use.article, "height", r.metres(use.article.Height))}
	f.Help = "turn it away, move one of them, swap it or cut it for the night" + deferral
	r.add(&low, use.song, use.unit.Name, f)
}

// toCloths gives the gaps between a space and cloths, worked out once; none where
// nothing says how far the effect reaches.
func (x *space) toCloths(list []timeline.PlanWall) []float64 {
	if x.Envelope == nil || x.cloths != nil {
		return x.cloths
	}
	for _, l := range list {
		w := figure.Wall{From: figure.Point(l.From), To: figure.Point(l.To), Foot: l.Foot, Crown: l.Crown}
		gap := x.Envelope.ToWall(w)
		if p, ok := x.Envelope.Spread(0); ok && l.Foot < figure.SpreadHeight {
			gap = min(gap, p.At.ToPiece(w.From, w.To)-p.Radius)
		}
		x.cloths = append(x.cloths, gap)
	}
	return x.cloths
}

func checkExits(r *setRun) {
	v := r.plan.Venue
	if v == nil || len(v.Exits) == 0 {
		return
	}
	r.eachUse(func(a *timeline.Article) bool {
		return burns(a) || a.Family.Class() == timeline.Cold || a.Family.Class() == timeline.Paper
	}, func(use *setUse, x *space) {
		t := r.tune(use.song, use.unit, use.article)
		for i, m := range v.Exits {
			if m.Radius == 0 {
				m.Radius = t.of(exitRadius).plain
			}
			r.reachesExit(t, use, x, i, m)
		}
	})
}

// reachesExit reports a use that reaches a way out, or of which something comes
// down there.
func (r *setRun) reachesExit(t *tuning, use *setUse, x *space, i int, m timeline.PlanMark) {
	d := x.toExit(i, m)
	falls := d.Unit
	if figure.Known(d.Track) {
		falls = min(falls, d.Track)
	}
	paper := use.article.Family.Class() == timeline.Paper
	var how string
	var ground Ground
	row := figure.Row{Planned: d.Envelope}
	switch {
	case figure.Known(d.Envelope) && d.Envelope <= 0:
		how, ground = "reaches", ofArticle(use.article, "height", r.metres(use.article.Height))
	case use.article.Fallout > 0 && !paper && (figure.Row{Required: use.article.Fallout, Planned: falls}).State() == figure.Short:
		how, ground = "may come down on", ofArticle(use.article, "fallout", r.metres(use.article.Fallout))
		row = figure.Row{Required: use.article.Fallout, Planned: falls}
	default:
		return
	}
	low := *t
	if paper {
		low.severity = lesser(t.severity, Note)
	}
	p := row.Printed()
	f := r.firstUse(rigRef("article", use.article.ID), use)
	f.Text = fmt.Sprintf("%s%s %s %s", r.name(use.article), whichWay(use.unit, use.article), how, lineName(m.Name, "exit"))
	f.Others = append(f.Others, rigRef("venue", r.plan.Venue.ID), rigRef("placed", use.unit.Placed.ID))
	f.Values = []Value{word("exit", m.String()), measure("required", p.Required, "m"), measure("planned", max(0, p.Planned), "m"), word("governs", ground.Field)}
	f.Grounds = []Ground{ground}
	if r.plan.Venue.Exits[i].Radius == 0 {
		f.Grounds = append(f.Grounds, r.rule.fromSetting(exitRadius, t))
	}
	f.Help = "turn it away, move it, swap it or cut it for the night" + deferral
	r.add(&low, use.song, use.unit.Name, f)
}

// toExit gives the distances of a space from a way out, worked out once.
func (x *space) toExit(i int, m timeline.PlanMark) reach.Distances {
	k := exitKey{i, m.Radius}
	if d, ok := x.exits[k]; ok {
		return d
	}
	if x.exits == nil {
		x.exits = map[exitKey]reach.Distances{}
	}
	x.exits[k] = x.model.ToMark(x.Shape, m)
	return x.exits[k]
}

// exitKey is what the distance from an exit depends on.
type exitKey struct {
	place  int
	radius float64
}

func checkExtinguishers(r *setRun) {
	v := r.plan.Venue
	if v == nil || len(v.Extinguisher) == 0 {
		return
	}
	inside := make([][]string, len(v.Extinguisher))
	firsts := make([]*setUse, len(v.Extinguisher))
	r.eachUse(burns, func(use *setUse, x *space) {
		t := r.tune(use.song, use.unit, use.article)
		at := x.At.Plan()
		nearest, best := figure.Unknown(), 0
		for i, m := range v.Extinguisher {
			away := at.ToDisc(figure.Point(m.At), 0)
			if i == 0 || away < nearest {
				nearest, best = away, i
			}
			keep := max(use.article.Clear, use.article.Fallout)
			if away < keep && !t.off {
				if inside[i] = addOnce(inside[i], use.unit.Name); firsts[i] == nil {
					firsts[i] = use
				}
			}
		}
		if p := (figure.Row{Required: nearest, Planned: t.of(extinguishers).plain}); p.State() == figure.Short {
			f := r.firstUse(rigRef("article", use.article.ID), use)
			f.Text = fmt.Sprintf("%s has no extinguisher within %s", r.name(use.article), r.given("m", t.of(extinguishers).plain))
			f.Others = append(f.Others, rigRef("venue", v.ID), rigRef("placed", use.unit.Placed.ID))
			f.Values = []Value{measure("nearest", figure.RoundedUp(nearest), "m"), word("extinguisher", v.Extinguisher[best].String())}
			f.Grounds = []Ground{r.rule.fromSetting(extinguishers, t)}
			f.Help = "set one there, and look at the way that leads to it" + deferral
			r.add(t, use.song, use.unit.Name, f)
		}
	})
	for i, names := range inside {
		if len(names) == 0 {
			continue
		}
		a := firsts[i].article
		f := r.firstUse(rigRef("venue", v.ID), firsts[i])
		f.Text = fmt.Sprintf("%s stands in the clear zone or fallout radius of %s: nobody fetches it while that burns", lineName(v.Extinguisher[i].Name, "extinguisher"), some(names))
		f.Values = []Value{word("extinguisher", v.Extinguisher[i].String()), word("units", strings.Join(names, ", "))}
		f.Grounds = []Ground{ofArticle(a, "clear", r.metres(a.Clear)), ofArticle(a, "fallout", r.metres(a.Fallout))}
		f.Help = "set another one where it can be reached" + deferral
		r.add(r.tune(firsts[i].song, firsts[i].unit, a), firsts[i].song, "", f)
	}
}
