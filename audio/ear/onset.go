package ear

import (
	"cmp"
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
	pickReach = 3    // frames that a peak must top on each side
	dipReach  = 8    // frames in which the dips beside a peak are sought
	leastRise = 0.02 // of a candidate
	clearRise = 0.10 // of an onset, once the rhythm around it has been weighed
	loudRise  = 0.10 // of an onset that a listener would not miss
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
		if rise < leastRise {
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
	return out
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

// kept are the onsets that stand, after settle.
func kept(ons []onset) []onset {
	var out []onset
	for _, o := range ons {
		if o.rise >= clearRise {
			out = append(out, o)
		}
	}
	return out
}
