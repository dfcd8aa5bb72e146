package figure

import "math"

// Vec is a place or a direction in the stage frame.
type Vec struct{ X, Y, Z float64 }

// Point is a place on the plan of the stage.
type Point struct{ X, Y float64 }

// Plan gives the place on the plan that lies below v.
func (v Vec) Plan() Point { return Point{v.X, v.Y} }

// Along gives the place so many metres from v in a direction.
func (v Vec) Along(d Vec, s float64) Vec { return Vec{v.X + s*d.X, v.Y + s*d.Y, v.Z + s*d.Z} }

func (v Vec) minus(w Vec) Vec        { return Vec{v.X - w.X, v.Y - w.Y, v.Z - w.Z} }
func (v Vec) dot(w Vec) float64      { return v.X*w.X + v.Y*w.Y + v.Z*w.Z }
func (v Vec) length() float64        { return math.Sqrt(v.dot(v)) }
func (p Point) from(q Point) float64 { return math.Hypot(p.X-q.X, p.Y-q.Y) }

// Up is the direction of whatever is not turned.
var Up = Vec{0, 0, 1}

// Down is the direction of what falls.
var Down = Vec{0, 0, -1}

// SinCos gives sine and cosine of an angle, exactly at multiples of 90°, so
// that what points straight down has no heading.
func SinCos(degrees float64) (sin, cos float64) {
	switch math.Mod(math.Mod(degrees, 360)+360, 360) {
	case 0:
		return 0, 1
	case 90:
		return 1, 0
	case 180:
		return 0, -1
	case 270:
		return -1, 0
	}
	return math.Sincos(degrees * math.Pi / 180)
}

// Direction gives where an effect points that is turned from straight up: first
// by its pan to the audience's right, then by its tilt upstage (D). At a pan of
// 90° the tilt changes nothing.
func Direction(pan, tilt float64) Vec {
	sp, cp := SinCos(pan)
	st, ct := SinCos(tilt)
	return Vec{sp, cp * st, cp * ct}
}

// Lean gives the angle between a direction and straight up, from 0 to 180°.
func (v Vec) Lean() float64 { return math.Atan2(math.Hypot(v.X, v.Y), v.Z) * 180 / math.Pi }

// Heading gives the direction on the plan; false where v is upright.
func (v Vec) Heading() (Point, bool) {
	flat := math.Hypot(v.X, v.Y)
	if flat < 1e-9 {
		return Point{}, false
	}
	return Point{v.X / flat, v.Y / flat}, true
}
