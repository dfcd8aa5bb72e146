package score

import "math"

// stereo is sound at SampleRate; both sides have the same length.
type stereo struct{ left, right []float64 }

func silence(samples int) stereo {
	return stereo{make([]float64, samples), make([]float64, samples)}
}

// mono gives both sides the same samples, without a copy.
func mono(x []float64) stereo { return stereo{x, x} }

func (s stereo) len() int { return len(s.left) }

// add mixes x in from sample at on; what lies outside is dropped.
func (s stereo) add(x stereo, at int, left, right float64) {
	for i := max(0, -at); i < x.len() && at+i < s.len(); i++ {
		s.left[at+i] += left * x.left[i]
		s.right[at+i] += right * x.right[i]
	}
}

// each replaces both sides sample by sample.
func (s stereo) each(change func(i int, l, r float64) (float64, float64)) {
	for i := range s.left {
		s.left[i], s.right[i] = change(i, s.left[i], s.right[i])
	}
}

// decibels gives the factor for a level in dB.
func decibels(db float64) float64 { return math.Pow(10, db/20) }

// panned gives equal-power gains for -100 (left) to 100 (right), 1 in the middle.
func panned(pan int) (left, right float64) {
	angle := (float64(pan)/100 + 1) * math.Pi / 4
	return math.Sqrt2 * math.Cos(angle), math.Sqrt2 * math.Sin(angle)
}

// fill makes samples of a length in seconds from a function of the time in
// seconds, which is called in order.
func fill(seconds float64, at func(t float64) float64) []float64 {
	x := make([]float64, int(seconds*SampleRate))
	for i := range x {
		x[i] = at(float64(i) / SampleRate)
	}
	fadeEnd(x)
	return x
}

// fadeEnd takes the click out of a sound that is cut off.
func fadeEnd(x []float64) {
	n := min(len(x), SampleRate/250)
	for i := range n {
		x[len(x)-1-i] *= float64(i) / float64(n)
	}
}
