package score

import "math"

// filter is a two-pole state variable filter with its integrators solved by
// the trapezoid rule, stable while its cut-off moves (V. Zavalishin, "The Art
// of VA Filter Design", chapter 4; from memory).
type filter struct {
	g, damping, h    float64
	memory1, memory2 float64
}

// newFilter makes a filter; quality 0.7 is flat, more rings.
func newFilter(hertz, quality float64) *filter {
	f := &filter{}
	f.tune(hertz, quality)
	return f
}

func (f *filter) tune(hertz, quality float64) {
	hertz = min(max(hertz, 10), 0.45*SampleRate)
	f.g = math.Tan(math.Pi * hertz / SampleRate)
	f.damping = 1 / quality
	f.h = 1 / (1 + f.g*(f.g+f.damping))
}

func (f *filter) step(x float64) (low, band, high float64) {
	high = (x - (f.g+f.damping)*f.memory1 - f.memory2) * f.h
	band = f.g*high + f.memory1
	low = f.g*band + f.memory2
	f.memory1 = f.g*high + band
	f.memory2 = f.g*band + low
	return low, band, high
}

func (f *filter) low(x float64) float64  { l, _, _ := f.step(x); return l }
func (f *filter) band(x float64) float64 { _, b, _ := f.step(x); return b * f.damping }
func (f *filter) high(x float64) float64 { _, _, h := f.step(x); return h }

// retuneEvery is how many samples pass between moves of a cut-off: the
// tangent is dear and the ear slow.
const retuneEvery = 32
