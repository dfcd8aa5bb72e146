package figure

import "math"

// Envelope is the space that a jet or a flame can fill: a ball that grows along
// its axis (D), from the unit to so far that the foremost point is the length.
type Envelope struct {
	At     Vec     // where the unit stands
	Dir    Vec     // where it points
	Length float64 // of the effect, with its tolerance
	Axis   float64 // how far the middle of the ball goes
	Root   float64 // radius at the unit
	Grow   float64 // by which the radius grows with each metre: sine of the half angle
}

// Sweep gives the envelope of an effect of a height, with a tolerance as a part
// of it, a radius at its root and the half angle by which it widens. All of
// these are estimates (J): whoever asks says whose.
func Sweep(at, dir Vec, height, tolerance, root, halfAngle float64) Envelope {
	e := Envelope{At: at, Dir: dir, Length: height * (1 + tolerance), Root: root, Grow: sinOf(halfAngle)}
	e.Axis = max(0, (e.Length-root)/(1+e.Grow))
	return e
}

// Ball gives the envelope of what goes off all around a place.
func Ball(at Vec, radius float64) Envelope {
	return Envelope{At: at, Dir: Up, Length: radius, Root: radius}
}

// Radius gives how wide the envelope is so many metres along its axis.
func (e *Envelope) Radius(s float64) float64 { return e.Root + e.Grow*s }

// Widest gives the radius at the end of the axis.
func (e *Envelope) Widest() float64 { return e.Radius(e.Axis) }

// Tip is the middle of the last ball.
func (e *Envelope) Tip() Vec { return e.At.Along(e.Dir, e.Axis) }

// End is the place at the effect's whole length.
func (e *Envelope) End() Vec { return e.At.Along(e.Dir, e.Length) }

// Top and Bottom give the highest and the lowest point.
func (e *Envelope) Top() float64 { return max(e.At.Z+e.Root, e.Tip().Z+e.Widest()) }

// Bottom gives the lowest point; below 0 it meets the floor.
func (e *Envelope) Bottom() float64 { return min(e.At.Z-e.Root, e.Tip().Z-e.Widest()) }

// Spread is what an axis that meets the floor becomes there: a disc of what is
// left of its length, a metre high at most (J, on the safe side).
type Spread struct {
	At     Point
	Radius float64
}

// SpreadHeight is how high the disc on the floor is taken to be, in m (J).
const SpreadHeight = 1

// Spread gives the disc on a floor of a height; false where the axis does not
// meet it.
func (e *Envelope) Spread(floor float64) (Spread, bool) {
	if e.Dir.Z >= -1e-9 || e.At.Z <= floor {
		return Spread{}, false
	}
	s := (e.At.Z - floor) / -e.Dir.Z
	if s >= e.Length {
		return Spread{}, false
	}
	return Spread{e.At.Along(e.Dir, s).Plan(), e.Length - s}, true
}

// Flat gives how much of a metre along the axis is seen on the plan.
func (e *Envelope) Flat() float64 { return math.Hypot(e.Dir.X, e.Dir.Y) }
