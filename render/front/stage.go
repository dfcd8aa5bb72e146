package front

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"emberbeat/render"
	"emberbeat/timeline"
	"emberbeat/timeline/course"
	"emberbeat/timeline/figure"
	"emberbeat/timeline/reach"
	"emberbeat/timeline/rule"
	"emberbeat/timeline/units"
)

// Caption stands under every picture of the stage.
const Caption = "marks, not where people are · shows the plan, not the rig"

// Stage is what drawing a song's stage needs, found once for a plan. It does not
// change.
type Stage struct {
	Song *timeline.SongPlan

	told    units.System // in which figures are written
	units   []unit       // by the index of the rig's units
	hits    []hit        // one a command, in their order
	spells  []spell
	coming  []coming
	inSpell []int32 // hits of the spells, one spell after the other
	bars    []trussed
	risers  []riser
	marks   []mark
	longest timeline.Time // from a command to its last trace
	latest  timeline.Time // from a spell's start to its end
	fastest timeline.Time // from the first to the last of hits that are told as one

	left, right, top float64 // m that hold everything
	near, far        float64 // the same, from the audience's side upstage
	edges            []barrier
	away             bool    // an audience stands farther off than the picture from above shows
	trim             float64 // m; 0 = not given
	trimSaid         string  // as it is written
	before           string  // what lies before the picture
	peak             string  // what goes highest in the song: "highest in this song: 12 m, Comets"
}

// unit is one placed effect that stands somewhere.
type unit struct {
	on    bool // it has a position
	flat  bool // from above it is drawn as a line
	x, z  float64
	y     float64 // upstage
	shift int     // of those at one position, which this is, about its middle
	clear float64
	color render.Ink
}

// hit is one command as it is drawn.
type hit struct {
	command          *timeline.Command
	course           course.Course
	look             *look
	unit             int32
	spell            int32
	zoneOn, zoneOver timeline.Time
}

// look is what an article at a unit looks like from the front.
type look struct {
	outline  timeline.Outline
	ink      render.Ink
	at       figure.Vec // where it begins
	dir      figure.Vec
	seen     float64 // of a metre along it, how much is seen from the front
	length   float64 // m
	root     float64 // m, half its width at the unit
	grow     float64 // m by which that grows with each metre
	burst    float64 // m from where it goes off all around; 0 = it does not
	to       figure.Vec
	line     bool // it runs from at to to
	unknown  bool // its height is not given
	class    timeline.Class
	label    string // "6 m · 12° outward"
	depth    string // "80° to the audience", where it leans so far out of the picture that its length is not seen
	conflict *conflict
}

// riser is what something stands on that stands a little above the floor.
type riser struct{ x, z float64 }

// trussed is a bar that things hang from or stand on high up.
type trussed struct{ from, to, z float64 }

// mark is where a performer stands.
type mark struct {
	timeline.PlanMark
	place int // in the venue's list
}

// conflict is a mark that a unit is too near to.
type conflict struct {
	mark        int // in the venue's list
	first, then string
}

// coming is what one lane does at one hit, or at hits that follow fast, for what
// tells of it in words.
type coming struct {
	hit, last timeline.Time // of its first and its last hit
	command   timeline.Time
	course    course.Course // from the first hit to the last trace of the last
	free      timeline.Time // when its last unit can be commanded again
	hits      int
	lane      *timeline.Lane
	cues      []timeline.ID
	name      string
	bar       string // with the number of hits
	where     string
	look      render.Look
	class     timeline.Class
	places    []string
}

// Low and high of what stands above the floor: up to low it stands on a riser, else
// on a truss (our judgement: the plan knows heights, and neither risers nor trusses).
const low = 2.0

// New prepares the stage of a song of a plan.
func New(p *timeline.Plan, song *timeline.SongPlan) *Stage {
	st := &Stage{Song: song, told: p.Show.Told(), units: make([]unit, len(song.Units.All)), left: -2, right: 2, top: 4, near: -1, far: 3}
	st.place(song.Units)
	st.marked(p)
	looks := lookMaker{told: p.Show.Told(), shapes: rule.ShapesOf(p), known: map[lookKey]*look{}, conflicts: conflictsOf(p, song)}
	st.hits = make([]hit, len(song.Commands))
	for i := range song.Commands {
		c := &song.Commands[i]
		h := &st.hits[i]
		*h = hit{command: c, unit: int32(c.Unit.Index), course: course.Of(c, looks.shapes.Floats(c.Unit, c.Article))}
		h.zoneOn, h.zoneOver = c.Zone()
		h.zoneOver = max(h.zoneOver, h.course.Gone()) // never over while it is drawn
		if h.look = looks.of(c.Unit, c.Article); h.look != nil {
			st.hold(h.look)
		}
		u := &st.units[c.Unit.Index]
		u.clear = max(u.clear, c.Article.Clear)
		st.longest = max(st.longest, h.course.Gone()-min(c.At, h.zoneOn), h.zoneOver-min(c.At, h.zoneOn))
		st.left, st.right = min(st.left, u.x-u.clear), max(st.right, u.x+u.clear)
		st.holdPlan(u.y, u.clear)
	}
	st.spell()
	st.flat()
	st.barriers(p)
	st.gatherComing()
	st.highest()
	st.venue(p)
	return st
}

// place finds where the units stand, and what they stand on.
func (st *Stage) place(units *timeline.Units) {
	at := map[*timeline.StagePosition][]int{}
	high := map[float64]*trussed{}
	var heights []float64
	for _, u := range units.All {
		if u.Position == nil || u.Article == nil {
			continue
		}
		q := u.Position
		st.units[u.Index] = unit{on: true, x: q.X, y: q.Y, z: q.Z, color: render.InkOf(u.Article.Family.Class())}
		st.left, st.right, st.top = min(st.left, q.X-1), max(st.right, q.X+1), max(st.top, q.Z+1)
		st.holdPlan(q.Y, 1)
		first := len(at[q]) == 0
		at[q] = append(at[q], u.Index)
		switch {
		case q.Z <= 0 || !first:
		case q.Z <= low:
			st.risers = append(st.risers, riser{q.X, q.Z})
		default:
			if high[q.Z] == nil {
				high[q.Z] = &trussed{q.X, q.X, q.Z}
				heights = append(heights, q.Z)
			}
			b := high[q.Z]
			b.from, b.to = min(b.from, q.X), max(b.to, q.X)
		}
	}
	for _, list := range at {
		for i, n := range list {
			st.units[n].shift = 2*i - len(list) + 1
		}
	}
	slices.Sort(heights)
	for _, z := range heights {
		st.bars = append(st.bars, *high[z])
	}
}

// hold makes the picture large enough for a look.
func (st *Stage) hold(l *look) {
	x0, x1, _, z1 := l.box()
	st.left, st.right, st.top = min(st.left, x0), max(st.right, x1), max(st.top, z1)
}

// highest says what goes highest, by what articles give.
func (st *Stage) highest() {
	top := 0.0
	for i := range st.hits {
		if l := st.hits[i].look; l != nil && !l.unknown {
			if z := max(l.at.Z, l.at.Along(l.dir, l.length).Z); z > top {
				top = z
				st.peak = "highest in this song: " + render.Length(st.told, z) + ", " + st.Song.Units.Called(st.hits[i].command.Article)
			}
		}
	}
}

// box gives what of the picture a look covers, in m.
func (l *look) box() (x0, x1, z0, z1 float64) {
	tip := l.at.Along(l.dir, l.length)
	wide := l.root + l.grow*l.length
	switch {
	case l.line:
		tip, wide = l.to, 0.5
	case l.burst > 0:
		wide = l.burst
	case l.outline == timeline.CloudOutline:
		wide = 4
	}
	return min(l.at.X, tip.X) - wide, max(l.at.X, tip.X) + wide, min(l.at.Z, tip.Z) - wide, max(l.at.Z, tip.Z) + wide
}

// highest is how many metres the picture shows at least where anything goes higher, and
// at most where no trim does: above, lower effects could not be told apart (our
// judgement).
const highest = 14.0

// venue takes from the plan's venue what is seen of it.
func (st *Stage) venue(p *timeline.Plan) {
	if p.Venue != nil {
		st.trim, st.trimSaid = p.Venue.Trim, st.told.Say("m", p.Venue.Trim, -1)
	}
	most := highest
	if st.trim > 0 && st.trim < 2*highest {
		most = max(highest, st.trim)
		st.top = max(st.top, st.trim)
	}
	if st.top = min(st.top, most) + 0.8; p.Venue == nil {
		return
	}
	near := math.Inf(1)
	for _, l := range p.Venue.Audience {
		d := (figure.Point{}).ToPiece(figure.Point(l.From), figure.Point(l.To))
		if d < near && (l.From.Y < 0 || l.To.Y < 0) {
			near, st.before = d, cmp.Or(l.Name, "audience")+" "+st.told.Down("m", figure.RoundedDown(d), 2)+" in front, not in this view"
		}
	}
}

// marked takes the performers' marks that may count in the song.
func (st *Stage) marked(p *timeline.Plan) {
	if p.Venue == nil {
		return
	}
	for i, m := range p.Venue.Performers {
		if m.Song == "" || m.Song == st.Song.Song.ID {
			st.marks = append(st.marks, mark{m, i})
			st.left, st.right = min(st.left, m.At.X-1), max(st.right, m.At.X+1)
			st.holdPlan(m.At.Y, 1)
		}
	}
	slices.SortStableFunc(st.marks, func(a, b mark) int { return cmp.Compare(a.At.X, b.At.X) })
}

// conflictsOf gives the marks that units are too near to in a song, as the rules find
// it; they are asked about that song alone, since all of a tour would take its time
// with every edit.
func conflictsOf(p *timeline.Plan, song *timeline.SongPlan) map[lookKey]*conflict {
	list, told := map[lookKey]*conflict{}, p.Show.Told()
	one := *p
	one.Songs = []timeline.PlanSong{{SongPlan: song}}
	for _, s := range rule.Spacings(&one) {
		if k := (lookKey{s.Unit, s.Article}); s.Kind == rule.ToMark && s.Conflict() && list[k] == nil {
			list[k] = &conflict{s.Place, s.Unit.Name + ", " + s.By, s.Name + " at " + told.Down("m", s.Away, 2) + ", needs " + told.Up("m", s.Needs, 2)}
		}
	}
	return list
}

// lookKey is an article at a unit.
type lookKey struct {
	unit    *timeline.Unit
	article *timeline.Article
}

// lookMaker makes each look once.
type lookMaker struct {
	shapes    *rule.Shapes
	known     map[lookKey]*look
	conflicts map[lookKey]*conflict
	told      units.System
}

// Height is how high an effect is drawn that does not give a height, in m, with a
// broken line and the words that it is not known (our judgement).
const Height = 1.5

// of gives the look of an article at a unit; nil where the unit stands nowhere.
func (m *lookMaker) of(u *timeline.Unit, a *timeline.Article) *look {
	k := lookKey{u, a}
	if l, ok := m.known[k]; ok {
		return l
	}
	s := m.shapes.Label(u, a)
	if s == nil {
		m.known[k] = nil
		return nil
	}
	l := &look{outline: a.Family.Outline(), class: a.Family.Class(), ink: render.InkOf(a.Family.Class()), at: s.At, dir: s.Dir, length: a.Height, root: 0.1, grow: 0.2, conflict: m.conflicts[k]}
	switch {
	case u.End != nil:
		l.line, l.to = true, figure.Vec{X: u.End.X, Y: u.End.Y, Z: u.End.Z}
		l.length = math.Hypot(l.to.X-l.at.X, l.to.Z-l.at.Z)
	case a.Family.Space() == timeline.CurtainSpace:
		l.length, l.grow, l.root = max(s.At.Z, 0.2), 0, max(a.Fallout, 0.5)
	case l.outline == timeline.CloudOutline:
		l.length, l.root, l.grow, l.dir = 0.6, 1.2, 0, figure.Up
	case a.Height == 0:
		l.unknown, l.length = true, Height
	case s.Envelope != nil && a.Family.Space() == timeline.ColumnSpace:
		l.root, l.grow = s.Envelope.Root, s.Envelope.Grow
	}
	if l.outline == timeline.StemOutline {
		l.root, l.grow = 0.15, 0
	}
	if l.outline == timeline.BurstOutline {
		if l.burst = l.length; a.Family.Thrown() {
			l.burst = l.length * 0.35
		} else {
			l.root, l.grow = l.length, 0
		}
	}
	l.seen = math.Hypot(l.dir.X, l.dir.Z)
	l.words(m.told, u, a)
	m.known[k] = l
	return l
}

// words says what stands beside the figure.
func (l *look) words(told units.System, u *timeline.Unit, a *timeline.Article) {
	side, depth := reach.Front(l.dir, u.Position.X)
	switch {
	case l.outline == timeline.CloudOutline:
	case l.line:
		l.label = reach.Aim(u, a)
	case a.Family.Space() == timeline.CurtainSpace:
		l.label = reach.Aim(u, a)
	case l.unknown:
		l.label = "height not given"
	default:
		l.label = render.Length(told, a.Height)
	}
	if l.line || l.outline == timeline.CloudOutline || a.Family.Space() == timeline.CurtainSpace {
		return
	}
	if math.Abs(l.dir.Y) > 0.5 { // more than 30° out of the picture
		l.depth, depth = depth, ""
	}
	l.label = strings.Join(slices.DeleteFunc([]string{l.label, side, depth}, func(s string) bool { return s == "" }), " · ")
}

// area gives how much of the picture a look covers at its height, in m².
func (l *look) area() float64 {
	long := l.length * l.seen
	switch {
	case l.burst > 0:
		return l.burst * l.burst // of twelve rays with gaps between
	case l.line, l.outline == timeline.StemOutline:
		return 0.15 * long
	case l.outline == timeline.FanOutline, l.outline == timeline.FallingOutline:
		return (2*l.root + l.grow*long) * long / 3 // dots
	}
	return (2*l.root + l.grow*long) * long
}

// fast is the time in which hits of one lane are told as one.
const fast = second / 2

// gatherComing lists what each lane does, by hit.
func (st *Stage) gatherComing() {
	at := map[*timeline.Lane]int{}
	order := make([]int, len(st.hits))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(st.hits[a].course.Hit, st.hits[b].course.Hit) })
	for _, i := range order {
		h := &st.hits[i]
		c := h.command
		n, known := at[c.Lane]
		if !known || c.Hit-st.coming[n].last > fast {
			n = len(st.coming)
			at[c.Lane] = n
			x := coming{hit: c.Hit, last: c.Hit, command: c.At, course: h.course, hits: 1, lane: c.Lane, name: cmp.Or(c.Lane.Name, c.Article.Name), class: c.Article.Family.Class()}
			x.look = render.Look{Glyph: render.GlyphOf(c.Article.Family), Ink: render.InkOf(x.class)}
			if h.look != nil {
				x.where = h.look.label
			}
			st.coming = append(st.coming, x)
		}
		st.coming[n].take(st.Song, h)
	}
	for n := range st.coming {
		st.coming[n].say(st.Song)
		st.fastest = max(st.fastest, st.coming[n].last-st.coming[n].hit)
	}
	slices.SortStableFunc(st.coming, func(a, b coming) int { return cmp.Compare(a.hit, b.hit) })
}

// take adds a hit.
func (x *coming) take(song *timeline.SongPlan, h *hit) {
	c := h.command
	if !slices.Contains(x.cues, c.Cue.ID) {
		x.cues = append(x.cues, c.Cue.ID)
	}
	if c.Hit > x.last {
		x.hits++
	}
	gone := max(x.course.Gone(), h.course.Gone())
	x.command, x.last, x.free = min(x.command, c.At), max(x.last, c.Hit), max(x.free, c.Free())
	x.course.Hold = max(0, gone-x.course.Fall-x.course.Full())
	if p := c.Unit.Position; p != nil {
		if name := song.Units.Called(p); !slices.Contains(x.places, name) {
			x.places = append(x.places, name)
		}
	}
}

// say puts it into words.
func (x *coming) say(song *timeline.SongPlan) {
	x.bar = x.hit.Clock(1)
	if b := song.Song.Beats; !b.Empty() {
		p := b.Named(x.hit)
		x.bar = strconv.Itoa(p.Bar) + "." + strconv.FormatInt(p.Beat.Floor()+1, 10)
	}
	if x.hits > 1 {
		x.bar += ", " + timeline.Counted(x.hits, "hit")
	}
	text := strings.Join(x.places, ", ")
	if len(x.places) > 2 {
		text = timeline.Counted(len(x.places), "place")
	}
	x.where = strings.Join(slices.DeleteFunc([]string{text, x.where}, func(s string) bool { return s == "" }), " · ")
}
