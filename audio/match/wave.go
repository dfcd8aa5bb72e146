package match

import (
	"math"

	"emberbeat/audio/fourier"
)

// wave is a recording with its low end held back, as waveforms are compared:
// music falls off towards the heights, and without that a bass note is like
// every other one.
type wave struct {
	rate float64 // samples a second
	x    []float32
}

// emphasis is how much of the sample before is taken away.
const emphasis = 0.95

// newWave makes a wave of a recording at a rate that its own is a multiple of.
func newWave(s *Side, rate int) wave {
	x := s.Mono
	for r := s.Rate; r > rate; r /= thinBy {
		h := thinner{}
		x = h.run(x)
	}
	w := wave{float64(rate), make([]float32, len(x))}
	n := len(x)
	for i := range w.x {
		var sum float32
		if from := i - heldHalf; from >= 0 && i+heldHalf < n {
			for k, v := range x[from : from+len(held)] {
				sum += held[k] * v
			}
		} else {
			for k, h := range held {
				if j := from + k; j >= 0 && j < n {
					sum += h * x[j]
				}
			}
		}
		w.x[i] = sum
	}
	return w
}

const (
	heldHalf = 9    // samples that count on either side
	heldFrom = 0.78 // of half the rate, where sound is held back
)

// held takes away what lies so high that a place between two samples cannot be
// told well (of a cymbal two sides of the same cut would seem to be two sounds),
// and holds back the low end.
var held = func() (h [2*heldHalf + 1]float32) {
	var low [2 * heldHalf]float64
	sum := 0.0
	for i := range low { // lies between two samples, and so does the difference of two of it
		x := float64(i) - heldHalf + 0.5
		low[i] = math.Sin(math.Pi*heldFrom*x) / (math.Pi * x) * (0.5 + 0.5*math.Cos(math.Pi*x/heldHalf))
		sum += low[i]
	}
	for i, v := range low {
		h[i] += float32(v / sum)
		h[i+1] -= float32(emphasis * v / sum)
	}
	return h
}()

const (
	betweenSteps = 64 // places between two samples
	betweenHalf  = 8  // samples that count on either side
)

// between holds the weights of a windowed sinc for places between samples.
var between = func() (w [betweenSteps + 1][2 * betweenHalf]float32) {
	for p := range w {
		sum := 0.0
		for i := range w[p] {
			x := float64(i-betweenHalf+1) - float64(p)/betweenSteps
			v := 0.5 + 0.5*math.Cos(math.Pi*min(1, max(-1, x/betweenHalf)))
			if math.Abs(x) > 1e-9 {
				v *= math.Sin(math.Pi*x) / (math.Pi * x)
			}
			w[p][i], sum = float32(v), sum+v
		}
		for i := range w[p] {
			w[p][i] /= float32(sum)
		}
	}
	return w
}()

// along fills out with samples of w from a place on, in steps of so many
// samples; beyond the ends it is silent.
func (w wave) along(start, step float64, out []float32) {
	n := len(w.x)
	whole := step == 1
	base := int(math.Floor(start))
	part := int((start-float64(base))*betweenSteps + 0.5)
	for i := range out {
		at, p := base+i, part
		if !whole {
			t := start + step*float64(i)
			at = int(math.Floor(t))
			p = int((t-float64(at))*betweenSteps + 0.5)
		}
		if p == betweenSteps {
			at, p = at+1, 0
		}
		from := at - betweenHalf + 1
		switch {
		case p == 0 && at >= 0 && at < n:
			out[i] = w.x[at]
		case from >= 0 && from+2*betweenHalf <= n:
			var sum float32
			in := w.x[from : from+2*betweenHalf]
			for k, v := range &between[p] {
				sum += v * in[k]
			}
			out[i] = sum
		default:
			var sum float32
			for k, v := range &between[p] {
				if j := from + k; j >= 0 && j < n {
					sum += v * w.x[j]
				}
			}
			out[i] = sum
		}
	}
}

// line says where the old recording is at a time of the new one: old = at + rate·new, in seconds.
type line struct{ at, rate float64 }

func (l line) old(new float64) float64 { return l.at + l.rate*new }

// probe is a comparison of a short stretch of two waves.
type probe struct {
	new  float64 // middle of the stretch in the new recording, s
	off  float64 // by how much the old one lies later than the line said, s
	like float64 // correlation there, -1..1; negative where the polarity was turned
}

// prober correlates stretches of two waves at one rate.
type prober struct {
	old, new       wave
	size, reach    int // samples compared, and tried on either side
	fft            *fourier.Transform
	a, b           []float32
	ar, ai, br, bi []float32
	energy         []float64
}

func newProber(old, new wave, size, reach int) *prober {
	n := 16
	for n < size+2*reach {
		n *= 2
	}
	p := &prober{old: old, new: new, size: size, reach: reach, fft: fourier.New(n), a: make([]float32, n), b: make([]float32, n)}
	for _, s := range []*[]float32{&p.ar, &p.ai, &p.br, &p.bi} {
		*s = make([]float32, n/2+1)
	}
	p.energy = make([]float64, 2*reach+1)
	return p
}

// at correlates the stretch around a time of the new recording with the old
// one around where l says it is; false where either is silent.
func (p *prober) at(t float64, l line) (probe, bool) {
	start := int(math.Round(t*p.new.rate)) - p.size/2
	t = (float64(start) + float64(p.size)/2) / p.new.rate
	clear(p.b)
	p.new.along(float64(start), 1, p.b[:p.size])
	p.old.along(l.old(float64(start)/p.new.rate)*p.old.rate-float64(p.reach)*l.rate, l.rate, p.a[:p.size+2*p.reach])
	clear(p.a[p.size+2*p.reach:])
	var eb, ea float64
	for _, v := range p.b[:p.size] {
		eb += float64(v) * float64(v)
	}
	for _, v := range p.a[:p.size] {
		ea += float64(v) * float64(v)
	}
	for k := range p.energy {
		p.energy[k] = ea
		if k+1 < len(p.energy) {
			out, in := float64(p.a[k]), float64(p.a[k+p.size])
			ea += in*in - out*out
		}
	}
	quiet := float64(p.size) * 1e-11 // below the last bit of 16
	if eb < quiet {
		return probe{}, false
	}
	p.fft.Forward(p.a, p.ar, p.ai)
	p.fft.Forward(p.b, p.br, p.bi)
	for k := range p.ar {
		p.ar[k], p.ai[k] = p.ar[k]*p.br[k]+p.ai[k]*p.bi[k], p.ai[k]*p.br[k]-p.ar[k]*p.bi[k]
	}
	p.fft.Back(p.ar, p.ai, p.a)
	like := func(k int) float64 {
		if p.energy[k] < quiet {
			return 0
		}
		return float64(p.a[k]) / math.Sqrt(p.energy[k]*eb)
	}
	top, highest := -1, 0.0
	for k := range p.energy {
		if v := math.Abs(like(k)); v > highest {
			top, highest = k, v
		}
	}
	if top < 0 {
		return probe{}, false
	}
	place, best := peakBetween(like, top, len(p.energy))
	r := probe{new: t, like: best}
	place -= float64(p.reach)
	r.off = place * l.rate / p.old.rate
	return r, true
}

// peakReach is how many samples beside the highest one the top between samples
// may be: what is bright swings from sample to sample.
const peakReach = 2

// peakBetween finds the top of a correlation between its samples, near the
// highest of them, and how high it is there; the top may be a bottom.
func peakBetween(like func(int) float64, top, n int) (place, best float64) {
	var around [2*betweenHalf + 2*peakReach + 1]float64
	first := top - peakReach - betweenHalf + 1
	for i := range around {
		if k := first + i; k >= 0 && k < n {
			around[i] = like(k)
		}
	}
	at := func(step int) float64 { // so many steps behind top-peakReach
		from, part := step/betweenSteps, step%betweenSteps
		sum := 0.0
		for i, w := range &between[part] {
			sum += float64(w) * around[from+i]
		}
		return sum
	}
	const last = 2 * peakReach * betweenSteps
	step := peakReach * betweenSteps
	for s := range last + 1 {
		if math.Abs(at(s)) > math.Abs(at(step)) {
			step = s
		}
	}
	place = float64(top-peakReach) + float64(step)/betweenSteps
	best = min(1, max(-1, at(step)))
	if step > 0 && step < last { // the top of a parabola through three
		u, v, w := at(step-1), at(step), at(step+1)
		if d := u - 2*v + w; d != 0 {
			place += min(0.5, max(-0.5, 0.5*(u-w)/d)) / betweenSteps
		}
	}
	return place, best
}
