package ear

import (
	"math"

	"emberbeat/audio/fourier"
)

// A pulse is the steady tick under the music at some metrical level. It is
// found first, at whichever level is plainest; which level a person would call
// the beat is decided afterwards (metre.go).

const (
	shortestPulse = 0.22 // s
	longestPulse  = 0.80
	pulseStep     = 1.01 // ratio of neighbouring periods
	tempoHop      = 1.0  // s between two looks at the tempo
	tempoReach    = 6.0  // s heard on each side of a look
	combTeeth     = 4
)

// salience is the detection function made even: each stretch of a few seconds
// counts alike, and what stays under its surroundings counts nothing.
func salience(d []float32) []float32 {
	n := len(d)
	sum := prefix(d)
	out := make([]float32, n)
	sq := make([]float32, n)
	for i := range d {
		a, b := max(0, i-30), min(n, i+31)
		mean := (sum[b] - sum[a]) / float64(b-a)
		if v := d[i] - float32(mean); v > 0 {
			out[i] = v
		}
		sq[i] = out[i] * out[i]
	}
	energy := prefix(sq)
	floor := 0.1 * math.Sqrt(energy[n]/float64(max(n, 1)))
	for i := range out {
		a, b := max(0, i-4*fluxRate), min(n, i+4*fluxRate)
		out[i] /= float32(math.Sqrt((energy[b]-energy[a])/float64(b-a)) + floor + 1e-9)
	}
	return out
}

// periods lists the candidate pulse periods in flux frames.
func periods() []float64 {
	var out []float64
	for p := shortestPulse; p <= longestPulse; p *= pulseStep {
		out = append(out, p*fluxRate)
	}
	return out
}

// tempogram gives, for each look, the strength of each period: the
// autocorrelation summed over the first multiples of the period.
func tempogram(z []float32, per []float64) [][]float64 {
	reach := int(tempoReach * fluxRate)
	maxLag := int(combTeeth*longestPulse*fluxRate) + 4
	looks := max(1, int(float64(len(z))/(tempoHop*fluxRate)))
	out := make([][]float64, looks)
	acf := make([]float64, maxLag+1)
	ac := newCorrelator(2*reach, maxLag)
	for k := range out {
		c := int((float64(k) + 0.5) * tempoHop * fluxRate)
		a, b := max(0, c-reach), min(len(z), c+reach)
		ac.run(z[a:b], acf)
		row := make([]float64, len(per))
		for i, p := range per {
			row[i] = comb(acf, p)
		}
		out[k] = row
	}
	return out
}

func comb(acf []float64, p float64) float64 {
	sum, w := 0.0, 0.0
	for t := 1; t <= combTeeth; t++ {
		g := 1 / float64(t)
		sum += g * peakNear(acf, p*float64(t))
		w += g
	}
	return sum / w
}

// peakNear reads acf at a fractional lag.
func peakNear(acf []float64, x float64) float64 {
	i := int(x)
	if i+1 >= len(acf) {
		return 0
	}
	f := x - float64(i)
	return acf[i]*(1-f) + acf[i+1]*f
}

// correlator computes normalised autocorrelations with a fixed transform.
type correlator struct {
	fft  *fourier.Transform
	lags int
	x, p []float32
}

func newCorrelator(n, lags int) *correlator {
	size := 8
	for size < n+lags {
		size *= 2
	}
	return &correlator{fft: fourier.New(size), lags: lags, x: make([]float32, size), p: make([]float32, size/2+1)}
}

// run writes acf[lag] for lag 0..lags, 1 at lag 0, unbiased for the shrinking overlap.
func (c *correlator) run(z []float32, acf []float64) {
	clear(c.x)
	mean := float32(0)
	for _, v := range z {
		mean += v
	}
	mean /= float32(max(1, len(z)))
	for i, v := range z {
		c.x[i] = v - mean
	}
	c.fft.Power(c.x, c.p)
	size := c.fft.Size()
	for i := range size {
		c.x[i] = c.p[min(i, size-i)]
	}
	c.fft.Real(c.x, c.p)
	zero := float64(c.p[0]) + 1e-9
	for lag := range acf {
		v := 0.0
		if over := len(z) - lag; over > len(z)/4 {
			v = float64(c.p[lag]) / zero * float64(len(z)) / float64(over)
		}
		acf[lag] = v
	}
}

// tempoPath is the smoothest strong line through the tempogram (Viterbi): one
// index into the periods for each look.
func tempoPath(gram [][]float64) []int {
	n := len(gram[0])
	mean := make([]float64, n)
	for _, row := range gram {
		for i, v := range row {
			mean[i] += v / float64(len(gram))
		}
	}
	const stay, jump, perStep = 0.0, 0.6, 0.04
	score := make([]float64, n)
	back := make([][]int, len(gram))
	for k, row := range gram {
		next := make([]float64, n)
		back[k] = make([]int, n)
		top := 0
		for i := range score {
			if score[i] > score[top] {
				top = i
			}
		}
		for i := range next {
			best, from := score[top]-jump, top
			for j := max(0, i-6); j <= min(n-1, i+6); j++ {
				if s := score[j] - perStep*math.Abs(float64(i-j)) - stay; s > best {
					best, from = s, j
				}
			}
			next[i] = best + row[i] + 0.5*mean[i]
			back[k][i] = from
		}
		score = next
	}
	at := 0
	for i := range score {
		if score[i] > score[at] {
			at = i
		}
	}
	path := make([]int, len(gram))
	for k := len(gram) - 1; k >= 0; k-- {
		path[k] = at
		at = back[k][at]
	}
	return path
}

// trackPulses places pulses on the detection function so that they sit on
// peaks and keep the local period (dynamic programming after Ellis 2007). It
// gives frame numbers.
func trackPulses(z []float32, period func(frame int) float64, tight float64) []int {
	n := len(z)
	score := make([]float64, n)
	back := make([]int, n)
	for t := range z {
		p := period(t)
		best, from := 0.0, -1
		for d := int(p * 0.6); d <= int(p*1.6) && d <= t; d++ {
			r := math.Log(float64(d) / p)
			if s := score[t-d] - tight*r*r; s > best {
				best, from = s, t-d
			}
		}
		score[t] = best + float64(z[t])
		back[t] = from
	}
	// the track ends at the best score within the last period
	end := n - 1
	for t := max(0, n-int(longestPulse*fluxRate)); t < n; t++ {
		if score[t] > score[end] {
			end = t
		}
	}
	var out []int
	for t := end; t >= 0; t = back[t] {
		out = append(out, t)
	}
	for i, j := 0, len(out)-1; i < j; i, j = i+1, j-1 {
		out[i], out[j] = out[j], out[i]
	}
	return out
}
