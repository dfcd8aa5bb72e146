package ear

import "slices"

// onset is one place where sound begins.
type onset struct {
	frame  int     // flux frame of the rise
	at     float64 // attack, seconds
	sigma  float64 // uncertainty of at, seconds
	rise   float64 // height of the detection function above its surroundings
	bands  [bandCount]float64
	attack bool // at comes from a clear attack, not from the frame alone
}

// Detection function: the bands of the flux, each weighted so that a kick
// counts as much as a cymbal though it fills fewer filters.
var fluxWeight = [bandCount]float32{0.20, 0.25, 0.30, 0.25}

func init2() {
	fluxWeight = [bandCount]float32{float32(tv("w0", .05)), float32(tv("w1", .15)), float32(tv("w2", .5)), float32(tv("w3", .3))}
}

const (
	pickBefore = 3 // frames a peak must top before and after it
	pickAfter  = 3
	meanBefore = 12 // frames of the running mean
	meanAfter  = 6
	xx         = 0
	pickGap    = 3
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

// findOnsets picks peaks of the detection function and times their attacks.
func (f *features) findOnsets() []onset {
	init2()
	d := f.detection()
	sum := prefix(d)
	var out []onset
	last := -pickGap
	for i := range d {
		if !isPeak(d, i) || i-last < int(tv("gap", 3)) {
			continue
		}
		a, b := max(0, i-int(tv("mb", 5))), min(len(d), i+int(tv("ma", 2))+1)
		rise := float64(d[i]) - (sum[b]-sum[a])/float64(b-a)
		if rise < tv("delta", 0.02) {
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
	slices.SortStableFunc(out, func(a, b onset) int {
		switch {
		case a.at < b.at:
			return -1
		case a.at > b.at:
			return 1
		}
		return 0
	})
	return out
}

func isPeak(d []float32, i int) bool {
	if d[i] <= 0 {
		return false
	}
	for j := max(0, i-int(tv("pb", 3))); j < i; j++ {
		if d[j] >= d[i] {
			return false
		}
	}
	for j := i + 1; j < min(len(d), i+int(tv("pa", 3))+1); j++ {
		if d[j] > d[i] {
			return false
		}
	}
	return true
}

// prefix gives running sums: out[j]-out[i] is the sum of d[i:j].
func prefix(d []float32) []float64 {
	out := make([]float64, len(d)+1)
	for i, v := range d {
		out[i+1] = out[i] + float64(v)
	}
	return out
}
