package audio

import "math"

// kFilter is the K weighting of BS.1770-4: a shelf for the head and a high
// pass, in series.
type kFilter struct{ shelf, high biquad }

// newKFilter makes the filter for any rate. BS.1770-4 gives coefficients for
// 48 kHz only; these analogue prototypes give them back (from memory of
// libebur128's derivation; checked in the tests to 1e-9).
func newKFilter(rate int) kFilter {
	return kFilter{kShelf(rate), kHigh(rate)}
}

// kShelf is stage 1: +4 dB above some 1.7 kHz.
func kShelf(rate int) biquad {
	const hz, gain, q = 1681.974450955533, 3.999843853973347, 0.7071752369554196
	k := math.Tan(math.Pi * hz / float64(rate))
	vh := math.Pow(10, gain/20)
	vb := math.Pow(vh, 0.4996667741545416)
	a0 := 1 + k/q + k*k
	return biquad{
		b0: (vh + vb*k/q + k*k) / a0, b1: 2 * (k*k - vh) / a0, b2: (vh - vb*k/q + k*k) / a0,
		a1: 2 * (k*k - 1) / a0, a2: (1 - k/q + k*k) / a0,
	}
}

// kHigh is stage 2: a high pass at some 38 Hz.
func kHigh(rate int) biquad {
	const hz, q = 38.13547087602444, 0.5003270373238773
	k := math.Tan(math.Pi * hz / float64(rate))
	a0 := 1 + k/q + k*k
	return biquad{b0: 1, b1: -2, b2: 1, a1: 2 * (k*k - 1) / a0, a2: (1 - k/q + k*k) / a0}
}

// step filters one more sample.
func (f *kFilter) step(v float64) float64 { return f.high.step(f.shelf.step(v)) }

// settle forgets what has faded below hearing.
func (f *kFilter) settle() {
	f.shelf.settle()
	f.high.settle()
}

// biquad is a filter of second order, transposed direct form II.
type biquad struct{ b0, b1, b2, a1, a2, s1, s2 float64 }

func (f *biquad) step(v float64) float64 {
	out := f.b0*v + f.s1
	f.s1 = f.b1*v - f.a1*out + f.s2
	f.s2 = f.b2*v - f.a2*out
	return out
}

func (f *biquad) settle() {
	if math.Abs(f.s1)+math.Abs(f.s2) < faded {
		f.s1, f.s2 = 0, 0
	}
}
