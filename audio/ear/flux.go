package ear

import (
	"math"

	"emberbeat/audio/fourier"
)

// fluxStage measures how much the log spectrum rises from frame to frame,
// band by band. The comparison frame is widened over its neighbour bands, so
// that vibrato and slides do not count as new notes (after Böck & Widmer 2013).
type fluxStage struct {
	frames *framer
	fft    *fourier.Transform
	win    []float32
	block  []float32
	spec   []float32
	bank   *filterbank
	group  []int // flux band of each filter
	share  [bandCount]float32
	ring   [fluxLag + 1][]float32
	now    int
	peak   float32   // running maximum of all filters
	tops   []float32 // and of each
	out    *features
	each   func([]float32)
}

const (
	fluxLag    = 2
	fluxWindow = 0.0465 // s
	fluxRange  = 30     // the log curve bends at the running maximum divided by this
	whiteFloor = 0.01   // a filter is raised to no more than this part of the loudest
	peakDecay  = 0.9995
	quietLevel = 1e-4 // magnitudes below this (of a full-scale sine: 0.5) are silence
)

func newFluxStage(rate, chunk int, out *features) *fluxStage {
	size := windowFor(rate, fluxWindow)
	s := &fluxStage{
		frames: newFramer(size, rate, fluxRate, chunk),
		fft:    fourier.New(size),
		win:    hann(size),
		block:  make([]float32, size),
		spec:   make([]float32, size/2+1),
		bank:   newFilterbank(size, rate, 24, 30, 16000),
		out:    out,
	}
	for i := range s.win {
		s.win[i] *= 4 / float32(size) // a full-scale sine has magnitude 1
	}
	s.tops = make([]float32, len(s.bank.weight))
	for i := range s.ring {
		s.ring[i] = make([]float32, len(s.bank.weight))
	}
	for _, hz := range s.bank.centre {
		g := groupOf(hz)
		s.group = append(s.group, g)
		s.share[g]++
	}
	s.each = s.frame
	return s
}

// windowFor gives the power of two nearest to so many seconds.
func windowFor(rate int, seconds float64) int {
	return 1 << int(math.Max(3, math.Round(math.Log2(float64(rate)*seconds))))
}

func groupOf(hz float64) int {
	switch {
	case hz < 150:
		return bandLow
	case hz < 500:
		return bandLowMid
	case hz < 4000:
		return bandMid
	}
	return bandHigh
}

func (s *fluxStage) feed(x []float32) { s.frames.feed(x, s.each) }
func (s *fluxStage) flush()           { s.frames.flush(s.each) }

func (s *fluxStage) frame(x []float32) {
	power := float32(0)
	for i, w := range s.win {
		s.block[i] = x[i] * w
		power += s.block[i] * s.block[i]
	}
	s.fft.Power(s.block, s.spec)
	for i, p := range s.spec {
		s.spec[i] = sqrt32(p)
	}
	cur := s.ring[s.now%(fluxLag+1)]
	s.bank.apply(s.spec, cur)
	s.compress(cur)
	s.rise(cur)
	s.out.power = append(s.out.power, power)
	s.now++
}

// compress takes the logarithm above a level that follows the loudest sound of
// the last seconds in each filter, so that a quiet recording is heard like a
// loud one and a cymbal like a bass (whitening after Stowell & Plumbley 2007).
func (s *fluxStage) compress(cur []float32) {
	top := float32(0)
	for _, v := range cur {
		top = max(top, v)
	}
	s.peak = max(s.peak*peakDecay, top, quietLevel)
	floor := whiteFloor * s.peak
	for i, v := range cur {
		s.tops[i] = max(s.tops[i]*peakDecay, v, floor)
		cur[i] = fourier.Log2(1 + fluxRange*v/s.tops[i])
	}
}

// rise sums what grew against the frame fluxLag earlier; before the first
// sample there is silence.
func (s *fluxStage) rise(cur []float32) {
	var sum [bandCount]float32
	old := s.ring[(s.now+1)%(fluxLag+1)]
	last := len(cur) - 1
	for i, v := range cur {
		ref := old[i]
		if i > 0 {
			ref = max(ref, old[i-1])
		}
		if i < last {
			ref = max(ref, old[i+1])
		}
		if d := v - ref; d > 0 {
			sum[s.group[i]] += d
		}
	}
	for b := range sum {
		v := float32(0)
		if s.share[b] > 0 {
			v = sum[b] / s.share[b]
		}
		s.out.flux[b] = append(s.out.flux[b], v)
	}
}
