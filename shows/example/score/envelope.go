package score

import "math"

// fall is an exponential decay: 1 at 0, 1/e after the time constant.
func fall(t, constant float64) float64 { return math.Exp(-t / constant) }

// contour is the loudness of a held note: a straight rise, an exponential
// fall to a held level, and an exponential release after its length. All in
// seconds but the level.
type contour struct{ rise, decay, level, release float64 }

func (c contour) at(t, length float64) float64 {
	held := min(t, length)
	y := 1.0
	if held < c.rise {
		y = held / c.rise
	} else {
		y = c.level + (1-c.level)*fall(held-c.rise, c.decay)
	}
	if t > length {
		y *= fall(t-length, c.release)
	}
	return y
}

// total is the time after which the note is inaudible.
func (c contour) total(length float64) float64 { return length + 6*c.release }
