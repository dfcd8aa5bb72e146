package ear

import (
	"cmp"
	"math"
	"slices"
)

// onset is one place where sound begins.
type onset struct {
	frame  int     // flux frame of the rise
	at     float64 // attack, seconds
	sigma  float64 // uncertainty of at, seconds
	rise   float64 // height of the detection function above its surroundings
	bands  [bandCount]float64
	attack bool // at comes from a clear attack, not from the frame alone
}

// fluxWeight weighs the bands about as many filters as each has; the lowest
// are noisy and carry few onsets of their own.
var fluxWeight = [bandCount]float32{0.03, 0.12, 0.50, 0.35}

const (
	pickReach  = 2    // frames that a peak must top on each side
	dipReach   = 8    // frames in which the dips beside a peak are sought
	leastRise  = 0.02 // of a candidate
	clearRise  = 0.08 // of an onset, once the rhythm around it has been weighed
	shadowSpan = 0.05 // s beside a strong onset
	shadowPart = 0.12 // of its rise, under which a candidate is its shadow
	faintRise  = 0.06 // under which a candidate is faint
	faintUsual = 0.4  // share of faint candidates at which clearRise holds
	leastClear = 0.06 // the lowest that clearRise falls to
	faintCost  = 1.6  // how fast the bar rises with that share
	loudRise   = 0.10 // of an onset that a listener would not miss
	beginSpan  = 30.0 // s with which the beginning is compared
	beginFall  = 25.0 // dB it may lie under them
)

// detection sums the flux bands.
func (f *features) detection() []float32 {
	out := make([]float32, f.frames())
	for b := range f.flux {
		w := fluxWeight[b]
		for i, v := range f.flux[b] {
			out[i] += w * v
		}
	}
	return out
}

// findOnsets picks the peaks of the detection function and times their
// attacks. Faint ones are among them; see settle.
func (f *features) findOnsets() []onset {
	d := f.detection()
	var out []onset
	last := -pickReach
	for i := range d {
		if i-last < pickReach || !isPeak(d, i) {
			continue
		}
		rise := prominence(d, i)
		if rise < leastRise || i < pickReach && !f.beginsLoud() {
			continue
		}
		o := onset{frame: i, rise: rise}
		for k := range f.flux {
			o.bands[k] = float64(f.flux[k][i])
		}
		f.timeAttack(&o, d)
		out = append(out, o)
		last = i
	}
	slices.SortStableFunc(out, func(a, b onset) int { return cmp.Compare(a.at, b.at) })
	return unshadowed(out)
}

// unshadowed leaves out what lies close beside an onset many times as strong:
// there the window of the transform throws ripples of its own.
func unshadowed(ons []onset) []onset {
	shadow := func(o onset, i int) bool {
		return i >= 0 && i < len(ons) && math.Abs(ons[i].at-o.at) < shadowSpan && o.rise < shadowPart*ons[i].rise
	}
	var out []onset
	for i, o := range ons {
		if !shadow(o, i-1) && !shadow(o, i+1) {
			out = append(out, o)
		}
	}
	return out
}

// beginsLoud says whether the first sample stands in the music: a recording
// that begins with hiss or a hall does not begin with a hit.
func (f *features) beginsLoud() bool {
	return f.level(0, 0.1) > f.level(0, beginSpan)-beginFall
}

func isPeak(d []float32, i int) bool {
	if d[i] <= 0 {
		return false
	}
	for j := max(0, i-pickReach); j < i; j++ {
		if d[j] >= d[i] {
			return false
		}
	}
	for j := i + 1; j < min(len(d), i+pickReach+1); j++ {
		if d[j] > d[i] {
			return false
		}
	}
	return true
}

// prominence is the height of a peak over the mean of the dips on its sides.
func prominence(d []float32, i int) float64 {
	left := slices.Min(d[max(0, i-dipReach) : i+1])
	right := slices.Min(d[i:min(len(d), i+dipReach+1)])
	return float64(d[i] - (left+right)/2)
}

// prefix gives running sums: out[j]-out[i] is the sum of d[i:j].
func prefix(d []float32) []float64 {
	out := make([]float64, len(d)+1)
	for i, v := range d {
		out[i+1] = out[i] + float64(v)
	}
	return out
}

// kept are the onsets that stand, after settle. A texture that ripples gives
// many faint candidates: the larger their share was before settle, the higher
// the bar for all.
func kept(ons []onset, faint float64) []onset {
	bar := max(leastClear, clearRise*math.Exp(faintCost*(faint-faintUsual)))
	var out []onset
	for _, o := range ons {
		if o.rise >= bar {
			out = append(out, o)
		}
	}
	return out
}

// faintShare is the share of candidates that are faint.
func faintShare(ons []onset) float64 {
	n := 0
	for _, o := range ons {
		if o.rise < faintRise {
			n++
		}
	}
	return float64(n) / float64(max(1, len(ons)))
}
