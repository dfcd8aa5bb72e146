// Package reach says where the effects of a rig can be: the shape that each
// takes up in space at its unit, by its family, and how near that comes to
// people and things. Its one rule: what is not given has no shape, and never
// one of nought. It asks for no distance and judges none; rules do.
package reach

import (
	"math"

	"emberbeat/timeline"
	"emberbeat/timeline/figure"
)

// Assumed are the numbers of the model that nobody measures: every one is a
// setting with its own mark.
type Assumed struct {
	Tolerance float64                    // part of the height that is added to it
	Tilted    float64                    // degrees of lean from which an effect counts as tilted
	Aim       float64                    // degrees by which a shot's lean may be out
	Throw     float64                    // part of a throw without drag that a shot is taken to go
	Angle     map[timeline.Class]float64 // degrees, half of what an effect widens by
	Root      map[timeline.Class]float64 // m, radius at the unit
	People    float64                    // m from the floor to the top of a head
}

// Shape is where an article at a unit can be.
type Shape struct {
	Unit    *timeline.Unit
	Article *timeline.Article
	At      figure.Vec
	Dir     figure.Vec
	Tilted  bool // it leans, or points elsewhere than up by nature

	Envelope *figure.Envelope // nil = none can be computed
	Track    *Track           // nil = it stays over its unit
	Down     bool             // a shot that points down: where it bounces to is not computed
	Lacks    []figure.Lack    // what would be needed and is not given
}

// Track is a piece of a line on the plan from which distances are kept.
type Track struct {
	From, To figure.Point
	Kind     TrackKind
	Length   float64 // m in space, of an axis
	Top      float64 // m above the floor, of the higher end of a line
}

// TrackKind says what a track is.
type TrackKind string

// The kinds of tracks.
const (
	Axis TrackKind = "axis" // of a jet or a flame
	Path TrackKind = "path" // of a shot, to where it may come down
	Line TrackKind = "line" // of a line rocket
)

// given makes of a field whose 0 means "not given" a figure that is unknown
// then.
func given(x float64) float64 {
	if x == 0 {
		return figure.Unknown()
	}
	return x
}

// Points gives where an effect points: a curtain down whatever its pan and tilt.
func Points(u *timeline.Unit, a *timeline.Article) figure.Vec {
	if a.Family.Space() == timeline.CurtainSpace {
		return figure.Down
	}
	return u.Placed.Direction()
}

// Of gives the shape of an article at a unit that has a position.
func (m *Assumed) Of(u *timeline.Unit, a *timeline.Article) *Shape {
	s := &Shape{Unit: u, Article: a, At: figure.Vec{X: u.Position.X, Y: u.Position.Y, Z: u.Position.Z}, Dir: Points(u, a)}
	s.Tilted = a.Family.Space() != timeline.CurtainSpace && s.Dir.Lean() > m.Tilted
	s.Lacks = Lacking(a, s.Tilted)
	switch space := a.Family.Space(); {
	case u.End != nil:
		s.Tilted = true
		s.Track = &Track{s.At.Plan(), figure.Point{X: u.End.X, Y: u.End.Y}, Line, 0, max(u.Position.Z, u.End.Z)}
		return s
	case space == timeline.CurtainSpace:
		m.curtain(s)
	case space == timeline.BallSpace && a.Height+a.Fallout > 0:
		e := figure.Ball(s.At, m.ball(a))
		s.Envelope = &e
	case space == timeline.ColumnSpace && a.Height > 0:
		e := figure.Sweep(s.At, s.Dir, a.Height, m.Tolerance, m.Root[a.Family.Class()], m.Angle[a.Family.Class()])
		s.Envelope = &e
	}
	m.track(s)
	return s
}

// Lacking lists what an article does not give that its shape needs.
func Lacking(a *timeline.Article, tilted bool) []figure.Lack {
	needs := a.Family.Class().Needs()
	if a.Family.AlongLine() || a.Family.Space() == timeline.CurtainSpace { // the height of a line is its length
		needs.Height = false
	}
	return needs.Lacking(tilted, given(a.Height), given(a.Fallout))
}

func (m *Assumed) ball(a *timeline.Article) float64 {
	return max(a.Height*(1+m.Tolerance), a.Fallout)
}

// curtain is what falls from its unit to the floor.
func (m *Assumed) curtain(s *Shape) {
	if s.Article.Fallout == 0 {
		return
	}
	long := max(0, s.At.Z) + s.Article.Fallout
	s.Envelope = &figure.Envelope{At: s.At, Dir: figure.Down, Length: long, Axis: max(0, s.At.Z), Root: s.Article.Fallout}
}

// track lays the axis of what is tilted on the plan, or the path of what is
// thrown.
func (m *Assumed) track(s *Shape) {
	a := s.Article
	switch {
	case !s.Tilted || a.Height == 0 || a.Family.Space() == timeline.NoSpace:
	case a.Family.Thrown():
		far, ok := figure.ThrowUpper(a.Height*(1+m.Tolerance), s.At.Z, s.Dir.Lean(), m.Aim)
		if s.Down = !ok; s.Down {
			return
		}
		to, _ := s.Dir.Heading()
		far *= m.Throw
		s.Track = &Track{From: s.At.Plan(), To: figure.Point{X: s.At.X + far*to.X, Y: s.At.Y + far*to.Y}, Kind: Path}
	case s.Envelope != nil && a.Family.Space() == timeline.ColumnSpace:
		s.Track = &Track{From: s.At.Plan(), To: s.Envelope.End().Plan(), Kind: Axis, Length: s.Envelope.Length}
	}
}

// Beside gives what must stay free beside a track: fallout, and of a line half
// its corridor; NaN where neither is given.
func (s *Shape) Beside() float64 {
	beside := s.Article.Fallout
	if s.Track != nil && s.Track.Kind == Line {
		beside = max(beside, s.Article.Corridor/2)
	}
	return given(beside)
}

// Top gives how high the effect reaches above the stage floor, with tolerance
// and aim; false where that is not known. A line reaches half its corridor above
// its higher end.
func (m *Assumed) Top(s *Shape) (float64, bool) {
	a := s.Article
	switch {
	case s.Track != nil && s.Track.Kind == Line:
		return s.Track.Top + a.Corridor/2, true
	case a.Family.Thrown() && a.Height > 0:
		top := s.At.Z + figure.Apex(a.Height*(1+m.Tolerance), s.Dir.Lean(), m.Aim*float64(bit(s.Tilted)))
		if s.Envelope != nil {
			top = max(top, s.Envelope.Top())
		}
		return top, true
	case s.Envelope != nil:
		return s.Envelope.Top(), true
	}
	return 0, false
}

func bit(b bool) int {
	if b {
		return 1
	}
	return 0
}

// ToLine gives how far the unit, the track and the envelope are from an audience
// line, all on the plan. What cannot be computed is unknown.
func (s *Shape) ToLine(from, to timeline.Point) Distances {
	a, b := figure.Point(from), figure.Point(to)
	d := Distances{Unit: s.At.Plan().ToPiece(a, b), Track: figure.Unknown(), Space: figure.Unknown(), Envelope: figure.Unknown()}
	if t := s.Track; t != nil {
		d.Track = figure.Apart(t.From, t.To, a, b)
		d.Space = d.Track
	}
	if s.Envelope != nil {
		d.Envelope = s.Envelope.ToLine(a, b)
		if p, ok := s.Envelope.Spread(0); ok {
			d.Envelope = min(d.Envelope, p.At.ToPiece(a, b)-p.Radius)
		}
	}
	return d
}

// ToMark gives the same for the circle that a person stands in: unit and track
// on the plan, axis and envelope in space.
func (m *Assumed) ToMark(s *Shape, mark timeline.PlanMark) Distances {
	c := figure.Cylinder{At: figure.Point(mark.At), Radius: mark.Radius, Crown: m.People}
	d := Distances{Unit: s.At.Plan().ToDisc(c.At, c.Radius), Track: figure.Unknown(), Space: figure.Unknown(), Envelope: figure.Unknown()}
	if t := s.Track; t != nil {
		d.Track = max(0, c.At.ToPiece(t.From, t.To)-c.Radius)
		d.Space = d.Track
		if t.Kind == Axis {
			d.Space = s.Envelope.AxisToMark(c)
		}
	}
	if s.Envelope != nil {
		d.Envelope = s.toCylinder(c)
		if p, ok := s.Envelope.Spread(0); ok {
			d.Envelope = min(d.Envelope, p.At.ToDisc(c.At, c.Radius)-p.Radius)
		}
	}
	return d
}

// toCylinder is the gap of an upright envelope without halving, and of any other
// by it: most units stand upright.
func (s *Shape) toCylinder(c figure.Cylinder) float64 {
	e := s.Envelope
	if e.Axis == 0 { // a ball
		return math.Hypot(e.At.Plan().ToDisc(c.At, c.Radius), max(0, c.Foot-e.At.Z, e.At.Z-c.Crown)) - e.Root
	}
	if e.Dir == figure.Up && e.Grow < 1 {
		// The distance less a radius that grows evenly is convex along the axis; beside
		// the mark it falls by Grow a metre, and above its crown the nearest is where
		// the slope of the distance is Grow.
		beside := e.At.Plan().ToDisc(c.At, c.Radius)
		s := min(e.Axis, max(0, c.Crown-e.At.Z+beside*e.Grow/math.Sqrt(1-e.Grow*e.Grow)))
		z := e.At.Z + s
		return math.Hypot(beside, max(0, c.Foot-z, z-c.Crown)) - e.Radius(s)
	}
	return e.ToMark(c)
}

// Distances are how far an effect is from people, in m; unknown where it cannot
// be computed, below 0 where an envelope reaches them.
type Distances struct {
	Unit     float64 // from the unit, on the plan
	Track    float64 // from axis, path or line, on the plan
	Space    float64 // from an axis in space; of a path or a line as Track
	Envelope float64
}

// Aim says in words where an effect points: "leans 80° to the audience".
func Aim(u *timeline.Unit, a *timeline.Article) string {
	if a != nil && a.Family.Space() == timeline.CurtainSpace {
		return "falls down"
	}
	return aim(u)
}

func aim(u *timeline.Unit) string {
	if u.End != nil {
		return "along its line to " + u.Called(u.End)
	}
	return Turned(u.Placed.Pan, u.Placed.Tilt)
}
