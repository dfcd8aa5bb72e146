package figure

import "math"

// Gravity is standard gravity in m/s² (S: ISO 80000-3).
const Gravity = 9.80665

// Throw gives how far from its unit a shot comes down that would rise to a
// height straight up, so high above the floor and leaning by so much (D: from v²
// = 2 g h without drag, 2 h sin a (cos a + √(cos² a + z/h))). Drag only shortens
// a body that loses speed.
func Throw(height, z, lean float64) float64 {
	sin, cos := SinCos(lean)
	return 2 * height * sin * (cos + math.Sqrt(cos*cos+z/height))
}

// ThrowMost gives the longest throw of any lean (D).
func ThrowMost(height, z float64) float64 { return 2 * math.Sqrt(height*(height+z)) }

// LeanMost gives the lean of the longest throw (D).
func LeanMost(height, z float64) float64 {
	return math.Atan(math.Sqrt((height+z)/height)) * 180 / math.Pi
}

// ThrowUpper gives a throw that no shot of this lean goes beyond where aim and
// surface are out by aim degrees: past the best lean the longest one counts.
// What starts below the floor is taken from the floor. False where it points
// down: what bounces cannot be computed.
func ThrowUpper(height, z, lean, aim float64) (float64, bool) {
	z = max(0, z)
	switch {
	case lean > 90:
		return 0, false
	case lean+aim >= LeanMost(height, z):
		return ThrowMost(height, z), true
	}
	return Throw(height, z, lean+aim), true
}

// Apex gives how high above its unit a shot rises that is out by aim degrees.
func Apex(height, lean, aim float64) float64 {
	_, cos := SinCos(max(0, lean-aim))
	return height * max(0, cos) * max(0, cos)
}

// Flight gives how many seconds a shot is in the air (D).
func Flight(height, z, lean float64) float64 {
	_, cos := SinCos(lean)
	return math.Sqrt(2*height/Gravity) * (cos + math.Sqrt(cos*cos+max(0, z)/height))
}
