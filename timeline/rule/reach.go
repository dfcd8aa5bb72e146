package rule

import (
	"fmt"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/figure"
	"emberbeat/timeline/reach"
)

// ourAngle is the source of the numbers that say how an effect widens.
const ourAngle = "our judgement, the upper side of what is seen; a free turbulent jet widens by 11 to 12 degrees (from memory)"

var _ = enter(Rule{
	Name:    reachName,
	Summary: "an effect reaches an audience line, a performer's mark or a zone that must stay clear",
	Reason: "A jet, a flame or a fountain is taken as a ball that grows along its axis, from the unit to its height with the venue's tolerance; flash, report, airburst and lance as a ball around the unit; " +
		"a waterfall as a curtain down to the floor. Audience is looked at on the plan, at any height; a mark as a cylinder from the floor to the top of a head. What points at the floor spreads there by what is left of " +
		"its length. Comets and line rockets have a path instead: see separation and performers. Paper has a rule of its own. A height that is not given is found by not-measured.",
	Scope:    WholeSet,
	Severity: Error,
	Settings: []Setting{
		{Name: "height", Unit: "m", Field: "article height", Mark: timeline.CommonPractice, Source: "the article's own mark and source", Help: "length of the effect; 0 = not given"},
		{Name: "tolerance", Field: "venue tolerance", Mark: timeline.Judgement, Source: "our judgement: 0.2", Help: "part of the height that is added to it"},
		{Name: "keep", Default: "1", Unit: "m", Mark: timeline.Judgement, Source: "our judgement", Help: "kept free around the reach of what is tilted"},
		{Name: "keep-upright", Default: "0", Unit: "m", Mark: timeline.Judgement, Source: "our judgement", Help: "kept free around the reach of what stands upright"},
		{Name: "tilted", Default: "1", Unit: "degrees", Mark: timeline.Judgement, Source: "our judgement", Help: "lean from which an effect counts as tilted"},
		{Name: "aim", Default: "3", Unit: "degrees", Mark: timeline.Judgement, Source: "our judgement", Help: "by which the lean of a shot may be out"},
		{Name: "head", Default: "2", Unit: "m", Mark: timeline.Judgement, Source: "our judgement", Help: "from the floor to above a performer's head"},
		{Name: "flame-angle", Default: "10", Unit: "degrees", Mark: timeline.Judgement, Source: ourAngle, Help: "half of what flames widen by"},
		{Name: "jet-angle", Default: "12", Unit: "degrees", Mark: timeline.Judgement, Source: ourAngle, Help: "half of what cold jets widen by"},
		{Name: "spark-angle", Default: "15", Unit: "degrees", Mark: timeline.Judgement, Source: ourAngle, Help: "half of what fountains and spark machines widen by, and effects of your own"},
		{Name: "shot-angle", Default: "20", Unit: "degrees", Mark: timeline.Judgement, Source: ourAngle, Help: "half of what mines widen by"},
		{Name: "paper-angle", Default: "20", Unit: "degrees", Mark: timeline.Judgement, Source: ourAngle, Help: "half of what paper widens by"},
		{Name: "flame-root", Default: "0.2", Unit: "m", Mark: timeline.Judgement, Source: "our judgement", Help: "radius of a flame at its unit"},
		{Name: "root", Default: "0.1", Unit: "m", Mark: timeline.Judgement, Source: "our judgement", Help: "radius of any other jet at its unit"},
	},
	set: func(r *setRun) {
		r.checkReach(func(a *timeline.Article) bool { return a.Family.Class() != timeline.Paper })
	},
})

var _ = enter(Rule{
	Name:     "paper-reach",
	Summary:  "paper is shot over an audience line, a performer's mark or a zone that must stay clear",
	Reason:   "As reach, for confetti and streamers, which are often meant to fly over people: a barrel pointed at them is still worth a look. Numbers stand with the rule reach.",
	Scope:    WholeSet,
	Severity: Note,
	Settings: []Setting{
		inRecord("article height", "m", "how high it is shot"),
	},
	set: func(r *setRun) {
		r.checkReach(func(a *timeline.Article) bool { return a.Family.Class() == timeline.Paper })
	},
})

// The rules that compare distances, by name: what they all measure with is asked
// for from within them.
const (
	reachName      = "reach"
	separationName = "separation"
	performersName = "performers"
)

// keptBy names the rule that keeps people at a distance.
var keptBy = map[timeline.DistanceTo]string{timeline.ToAudience: separationName, timeline.ToPerformers: performersName}

// The places of its settings.
var (
	reachKeep    = setting("keep", "reach")
	reachUpright = setting("keep-upright", "reach")
	reachTilted  = setting("tilted", "reach")
	reachAim     = setting("aim", "reach")
	reachHead    = setting("head", "reach")
	reachRoot    = setting("root", "reach")
	reachFlame   = setting("flame-root", "reach")
	reachAngles  = []struct {
		class timeline.Class
		angle Named
	}{{timeline.Hot, setting("flame-angle", "reach")}, {timeline.Cold, setting("jet-angle", "reach")}, {timeline.Spark, reachSpark}, {timeline.Own, reachSpark},
		{timeline.Shot, setting("shot-angle", "reach")}, {timeline.Paper, setting("paper-angle", "reach")}}
	reachSpark = setting("spark-angle", "reach")
)

// spaces are the shapes of what a plan plays and how far they are from the
// people of its venue. They hold as long as rig, stock, venue and settings do.
type spaces struct {
	venue *timeline.Venue
	reach settings
	to    map[timeline.DistanceTo]*settings // of separation and performers
	known map[spaceKey]*space
}

type spaceKey struct {
	unit    *timeline.Unit
	article *timeline.Article
	to      timeline.DistanceTo
}

// space is a shape and its distances: from the lines towards the audience, from
// marks and clear zones towards performers.
type space struct {
	*reach.Shape
	model        reach.Assumed
	lines        []reach.Distances
	marks, clear []reach.Distances
	short        map[shortKey][]Row // rows that are short, of what has been asked for
	quiet        map[float64]bool   // by the margin asked for: none is

	looked  bool     // for what stands beside it
	besides []beside // units that are nearer than is kept free
	exits   map[exitKey]reach.Distances
	cloths  []float64 // gaps of the envelope, of the venue's cloths
}

func newSpaces(p *timeline.Plan) *spaces {
	s := &spaces{venue: p.Venue, known: map[spaceKey]*space{}, reach: settingsOf(ruleOf(reachName), p.Show.Setting(reachName), p.Show.Told()), to: map[timeline.DistanceTo]*settings{}}
	for to, name := range keptBy {
		k := settingsOf(ruleOf(name), p.Show.Setting(name), p.Show.Told())
		s.to[to] = &k
	}
	return s
}

// assumed gives the numbers of the model for an article at a unit.
func (s *spaces) assumed(u *timeline.Unit, a *timeline.Article, to timeline.DistanceTo) reach.Assumed {
	t := s.reach.at(nil, u, a)
	m := reach.Assumed{Tilted: t.of(reachTilted).plain, Aim: t.of(reachAim).plain, People: t.of(reachHead).plain, Throw: s.to[to].at(nil, u, a).of(pathThrow).plain,
		Angle: map[timeline.Class]float64{}, Root: map[timeline.Class]float64{}}
	if s.venue != nil {
		m.Tolerance = s.venue.Tolerance
	}
	for _, c := range reachAngles {
		m.Angle[c.class], m.Root[c.class] = t.of(c.angle).plain, t.of(reachRoot).plain
	}
	m.Root[timeline.Hot] = t.of(reachFlame).plain
	return m
}

// of gives the shape of an article at a unit with its distances; nil where the
// unit stands nowhere.
func (s *spaces) of(u *timeline.Unit, a *timeline.Article, to timeline.DistanceTo) *space {
	if u.Position == nil {
		return nil
	}
	k := spaceKey{u, a, to}
	if x, ok := s.known[k]; ok {
		return x
	}
	x := &space{model: s.assumed(u, a, to)}
	x.Shape = x.model.Of(u, a)
	s.known[k] = x
	if s.venue == nil {
		return x
	}
	if to == timeline.ToAudience {
		for _, l := range s.venue.Audience {
			x.lines = append(x.lines, x.ToLine(l.From, l.To))
		}
		return x
	}
	for _, m := range s.venue.Performers {
		x.marks = append(x.marks, x.model.ToMark(x.Shape, m))
	}
	for _, m := range s.venue.Clear {
		x.clear = append(x.clear, x.model.ToMark(x.Shape, m))
	}
	return x
}

// keep gives what must stay free around the reach of a shape.
func (s *spaces) keep(x *space) (float64, Named) {
	t := s.reach.at(nil, x.Unit, x.Article)
	if x.Tilted {
		return t.of(reachKeep).plain, reachKeep
	}
	return t.of(reachUpright).plain, reachUpright
}

// checkReach reports what reaches people.
func (r *setRun) checkReach(of func(*timeline.Article) bool) {
	if r.plan.Venue == nil {
		return
	}
	isReach := func(row *Row) bool { return row.From == FromEnvelope }
	r.eachArticle(func(a *timeline.Article, uses []*setUse) {
		if of(a) {
			r.shortOfPeople(a, uses, isReach)
		}
	})
}

// shortOfPeople reports, for every line, mark and zone, the uses of an article
// with a row of some kind that is short.
func (r *setRun) shortOfPeople(a *timeline.Article, uses []*setUse, of func(*Row) bool) {
	r.shortOfAudience(a, uses, of)
	r.shortOfPerformers(a, uses, of)
}

func (r *setRun) shortOfAudience(a *timeline.Article, uses []*setUse, of func(*Row) bool) {
	asked := r.askedOf(a, timeline.ToAudience)
	if uses = r.anyShort(a, uses, timeline.ToAudience, asked); len(uses) == 0 {
		return
	}
	for i, l := range r.plan.Venue.Audience {
		if short := r.shortRows(a, uses, target{ToLine, i}, asked, of); len(short) > 0 {
			first := r.earliest(usesOf(nearsOf(short)))
			f := r.firstUse(rigRef("article", a.ID), first)
			r.rowFinding(&f, a, short, first, lineName(l.Name, "audience line"), word("line", l.String()))
			r.add(r.tune(first.song, first.unit, a), first.song, "", f)
		}
	}
}

func (r *setRun) shortOfPerformers(a *timeline.Article, uses []*setUse, of func(*Row) bool) {
	asked := r.askedOf(a, timeline.ToPerformers)
	if uses = r.anyShort(a, uses, timeline.ToPerformers, asked); len(uses) == 0 {
		return
	}
	for i, m := range r.plan.Venue.Performers {
		r.shortOfMark(a, uses, target{ToMark, i}, asked, of, m, "performer's mark")
	}
	for i, m := range r.plan.Venue.Clear {
		r.shortOfMark(a, uses, target{ToZone, i}, ownOf(asked), of, m, "clear zone")
	}
}

func (r *setRun) shortOfMark(a *timeline.Article, uses []*setUse, at target, asked []asked, of func(*Row) bool, m timeline.PlanMark, kind string) {
	all := r.shortRows(a, uses, at, asked, of)
	if len(all) == 0 {
		return
	}
	kept, first := r.during(a, nearsOf(all), m)
	var short []shortRow
	for _, x := range all {
		for _, n := range kept {
			if n.use == x.use {
				short = append(short, x)
			}
		}
	}
	if len(short) == 0 {
		return
	}
	f := r.metAt(rigRef("article", a.ID), first)
	r.rowFinding(&f, a, short, short[0].use, lineName(m.Name, kind), word(kind, m.String()))
	r.add(r.tune(first.song, first.unit, a), first.song, "", f)
}

// rowFinding writes a finding about rows that are short of one line or mark.
func (r *setRun) rowFinding(f *Finding, a *timeline.Article, short []shortRow, first *setUse, what string, value Value) {
	t := r.tune(first.song, first.unit, a)
	worst := &short[0]
	for i := range short {
		if lack(&short[i].row) > lack(&worst.row) {
			worst = &short[i]
		}
	}
	row, p := &worst.row, worst.row.Printed()
	f.Others = append(f.Others, rigRef("venue", r.plan.Venue.ID))
	switch {
	case row.From == FromEnvelope && row.Figures.Planned <= 0:
		f.Text = fmt.Sprintf("%s%s reaches %s", r.name(a), whichWay(worst.use.unit, a), what)
	case row.From == FromEnvelope:
		f.Text = fmt.Sprintf("%s%s reaches to %s of %s and needs %s", r.name(a), whichWay(worst.use.unit, a), r.down(p.Planned), what, r.up(p.Required))
	case row.From == FromAxis:
		f.Text = fmt.Sprintf("%s %s: its axis comes within %s of %s and needs %s: %s governs; its unit stands %s away", r.name(a), pointing(worst.use.unit, a), r.down(p.Planned), what, r.up(p.Required), row.By, r.down(row.unit))
	case row.From == FromParticles:
		f.Text = fmt.Sprintf("what glows of %s may come within %s of %s and needs %s: %s governs", r.name(a), r.down(p.Planned), what, r.up(p.Required), row.By)
	default:
		f.Text = fmt.Sprintf("the path of %s comes within %s of %s and needs %s: %s governs", r.name(a), r.down(p.Planned), what, r.up(p.Required), row.By)
	}
	if row.words {
		f.Text += "; its words measure from the device, and this is from where it comes down"
	}
	f.Values = []Value{value, measure("required", p.Required, "m"), word("governs", row.By), word("from", string(row.From))}
	f.Grounds = []Ground{row.Ground}
	if row.From != FromLine {
		f.Grounds = append(f.Grounds, ofArticle(a, "height", r.metres(a.Height)))
	}
	if row.From == FromPath {
		f.Grounds = append(f.Grounds, r.spaces.throwGround(worst.use, a), ruleOf(reachName).fromSetting(reachAim, r.spaces.reach.at(nil, worst.use.unit, a)))
	}
	if hasExtra(r.rule) {
		f.Grounds = r.rule.with(separationExtra, t, f.Grounds...)
	}
	f.whoIsNear(nearsOf(short))
	f.Help = r.turnHelp(worst, row) + deferral
	f.Fix = r.cutTonight(nearsOf(short), "comes too near to "+what)
}

// pointing says as a verb where an effect points: "leans 80° to the audience",
// "points straight down".
func pointing(u *timeline.Unit, a *timeline.Article) string {
	aim := reach.Aim(u, a)
	if strings.HasPrefix(aim, "leans") || strings.HasPrefix(aim, "falls") {
		return aim
	}
	return "points " + aim
}

// whichWay says it within a sentence; what stands upright needs no word.
func whichWay(u *timeline.Unit, a *timeline.Article) string {
	if reach.Points(u, a) == figure.Up {
		return ""
	}
	return ", which " + pointing(u, a) + ","
}

// throwGround is where it stands how far a shot is taken to go.
func (s *spaces) throwGround(u *setUse, a *timeline.Article) Ground {
	return ruleOf(separationName).fromSetting(pathThrow, s.to[timeline.ToAudience].at(nil, u.unit, a))
}

func hasExtra(r *Rule) bool { return r.Name == separationName || r.Name == performersName }

// turnHelp says what would be valid: the least change of tilt that keeps the row,
// in steps of a degree, or another place.
func (r *setRun) turnHelp(x *shortRow, row *Row) string {
	if row.From == FromLine {
		return "move it, end its line elsewhere, keep people out of the area, swap it or cut it for the night"
	}
	u := *x.use.unit
	placed := *u.Placed
	u.Placed = &placed
	for turn := 1.0; turn <= 180; turn++ {
		for _, by := range []float64{turn, -turn} {
			placed.Tilt = x.use.unit.Placed.Tilt + by
			if placed.Tilt >= -180 && placed.Tilt <= 180 && r.spaces.keptSo(&u, x, r.extraOf(x.use)) {
				return fmt.Sprintf("tilt it to %s° or further, move it, keep people out of the area, swap it or cut it for the night", share(placed.Tilt))
			}
		}
	}
	return "move it, keep people out of the area, swap it or cut it for the night"
}

// keptSo reports whether a unit turned another way would keep all that is asked
// of it towards the same people, but what is measured from the unit itself.
func (s *spaces) keptSo(u *timeline.Unit, x *shortRow, extra float64) bool {
	a := x.use.article
	turned := &space{model: s.assumed(u, a, x.at.to())}
	turned.Shape = turned.model.Of(u, a)
	var d reach.Distances
	if x.at.kind == ToLine {
		l := s.venue.Audience[x.at.place]
		d = turned.ToLine(l.From, l.To)
	} else {
		d = turned.model.ToMark(turned.Shape, s.markOf(x.at))
	}
	for _, row := range s.rowsOf(turned, a, d, x.asked, extra) {
		if row.From != FromUnit && row.State() == figure.Short {
			return false
		}
	}
	return true
}

func (s *spaces) markOf(t target) timeline.PlanMark {
	if t.kind == ToMark {
		return s.venue.Performers[t.place]
	}
	return s.venue.Clear[t.place]
}
