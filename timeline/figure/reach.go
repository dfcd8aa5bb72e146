package figure

import "math"

// The distances of this file are derived. Each is a distance from a point or a
// line to the axis or to the envelope; one that is not above 0 says that it
// reaches, and not how deep.

// AxisToLine gives the distance on the plan between the axis and a line, whose
// people may stand at any height.
func (e *Envelope) AxisToLine(from, to Point) float64 {
	return Apart(e.At.Plan(), e.End().Plan(), from, to)
}

// ToLine gives the gap on the plan between the envelope and a line. The
// distance less a radius that grows evenly is convex along the axis, so that
// its ends and the ends of the line are all that can be nearest.
func (e *Envelope) ToLine(from, to Point) float64 {
	at, tip := e.At.Plan(), e.Tip().Plan()
	gap := min(at.ToPiece(from, to)-e.Root, tip.ToPiece(from, to)-e.Widest(), e.ToPoint(from), e.ToPoint(to))
	if Cross(at, tip, from, to) {
		return min(gap, 0)
	}
	return gap
}

// ToPoint gives the gap on the plan between the shadow of the envelope and a
// point.
func (e *Envelope) ToPoint(q Point) float64 {
	flat := e.Flat()
	if flat <= e.Grow { // the last disc covers all others
		return q.from(e.Tip().Plan()) - e.Widest()
	}
	x, y := e.Dir.X/flat, e.Dir.Y/flat
	along := (q.X-e.At.X)*x + (q.Y-e.At.Y)*y
	across := math.Abs((q.X-e.At.X)*y - (q.Y-e.At.Y)*x)
	grow := e.Grow / flat
	s := min(flat*e.Axis, max(0, along+across*grow/math.Sqrt(1-grow*grow)))
	return math.Hypot(across, s-along) - e.Root - grow*s
}

// Cylinder is the room that a person takes up on a mark: an upright cylinder
// between two heights.
type Cylinder struct {
	At          Point
	Radius      float64
	Foot, Crown float64
}

func (c Cylinder) from(q Vec) float64 {
	return math.Hypot(q.Plan().ToDisc(c.At, c.Radius), max(0, c.Foot-q.Z, q.Z-c.Crown))
}

// AxisToMark gives the distance in space between the axis and a mark.
func (e *Envelope) AxisToMark(c Cylinder) float64 {
	return least(0, e.Length, func(s float64) float64 { return c.from(e.At.Along(e.Dir, s)) })
}

// ToMark gives the gap in space between the envelope and a mark.
func (e *Envelope) ToMark(c Cylinder) float64 {
	return least(0, e.Axis, func(s float64) float64 { return c.from(e.At.Along(e.Dir, s)) - e.Radius(s) })
}

// Wall is an upright rectangle over a line on the plan: a cloth, a border, a
// truss, a balcony.
type Wall struct {
	From, To    Point
	Foot, Crown float64
}

func (w Wall) from(q Vec) float64 {
	return math.Hypot(q.Plan().ToPiece(w.From, w.To), max(0, w.Foot-q.Z, q.Z-w.Crown))
}

// ToWall gives the gap in space between the envelope and a wall.
func (e *Envelope) ToWall(w Wall) float64 {
	return least(0, e.Axis, func(s float64) float64 { return w.from(e.At.Along(e.Dir, s)) - e.Radius(s) })
}

// ToBody gives the gap in space between the envelope and a ball: another unit,
// a cylinder of gas, a hopper.
func (e *Envelope) ToBody(q Vec, radius float64) float64 {
	along, across := e.ofAxis(q)
	s := min(e.Axis, max(0, along+across*math.Tan(math.Asin(e.Grow))))
	return math.Hypot(across, s-along) - e.Radius(s) - radius
}

// ofAxis gives where along the axis a place lies and how far beside it.
func (e *Envelope) ofAxis(q Vec) (along, across float64) {
	v := q.minus(e.At)
	along = v.dot(e.Dir)
	return along, math.Sqrt(max(0, v.dot(v)-along*along))
}
