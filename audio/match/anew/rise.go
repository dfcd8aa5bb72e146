package anew

import "math"

// rises is what begins in a recording at each moment, at fineRate: first by pitch
// class, then by band from low to high.
type rises [][onsetDims]float32

// riseShare is how much each kind of beginning counts for where the music is.
var riseShare = [onsetDims]float32{.4, .4, .4, .4, .4, .4, .4, .4, .4, .4, .4, .4, 1, 1, 1, 1}

// attackShare is how much each counts for the instant. What is struck is known to a
// few milliseconds, and best where it is bright; what is bowed, blown or low begins
// when its sound says so, and other sounds say it at another time.
var attackShare = [onsetDims]float32{.12, .12, .12, .12, .12, .12, .12, .12, .12, .12, .12, .12, .2, .7, 1.2, 1.5}

const (
	evenReach = fineRate // frames on each side against which a moment stands out
	mostRise  = 3        // times the mean of its surroundings that a moment counts
	faintRise = 1e-3     // a mean below this is that of silence
)

// evened counts how much more begins than around, so that the product of two
// recordings is nothing in the mean, and what is loud does not drown the rest.
func (r rises) evened() rises {
	out := make(rises, len(r))
	r.means(func(i int, mean *[onsetDims]float32) {
		for d, m := range mean {
			m += faintRise
			out[i][d] = min(mostRise, max(0, r[i][d]-m)/m)
		}
	})
	level := make(rises, len(r))
	out.means(func(i int, mean *[onsetDims]float32) { level[i] = *mean })
	for i := range out {
		for d, m := range level[i] {
			out[i][d] = (out[i][d] - m) * riseShare[d]
		}
	}
	return out
}

// means calls each with the mean around every moment.
func (r rises) means(each func(i int, mean *[onsetDims]float32)) {
	var sum [onsetDims]float64
	var mean [onsetDims]float32
	a, b := 0, 0
	for i := range r {
		for ; b < min(len(r), i+evenReach+1); b++ {
			for d, v := range r[b] {
				sum[d] += float64(v)
			}
		}
		for ; a < i-evenReach; a++ {
			for d, v := range r[a] {
				sum[d] -= float64(v)
			}
		}
		for d, s := range sum {
			mean[d] = float32(s / float64(b-a))
		}
		each(i, &mean)
	}
}

// turned raises the pitch classes by semitones.
func (r rises) turned(shift int) rises {
	if shift == 0 {
		return r
	}
	out := make(rises, len(r))
	for i, v := range r {
		out[i] = v
		for c := range classes {
			out[i][(c+shift)%classes] = v[c]
		}
	}
	return out
}

// at gives what begins at a time in frames, between two of them in proportion;
// false outside of the recording.
func (r rises) at(x float64) (v [onsetDims]float32, ok bool) {
	k := int(math.Floor(x))
	if k < 0 || k+1 >= len(r) {
		return v, false
	}
	f := float32(x - float64(k))
	p, q := &r[k], &r[k+1]
	for d := range v {
		v[d] = p[d] + f*(q[d]-p[d])
	}
	return v, true
}

func dot(a, b *[onsetDims]float32) float32 {
	sum := float32(0)
	for d, v := range a {
		sum += v * b[d]
	}
	return sum
}

// widened smooths what begins over some hundredths of a second, so that two
// who play together loosely still agree.
func (r rises) widened() rises {
	weights := [5]float32{1. / 9, 2. / 9, 3. / 9, 2. / 9, 1. / 9}
	out := make(rises, len(r))
	for i := 2; i+2 < len(r); i++ {
		for j, w := range weights {
			for d, v := range r[i-2+j] {
				out[i][d] += w * v
			}
		}
	}
	return out
}
