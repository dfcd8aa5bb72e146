package audio

import (
	"math"
	"sync"
)

// Builder makes a Pyramid while sound is read. One goroutine writes; others
// may ask for what there is.
type Builder struct {
	channels int
	sum      bucket
	bands    splitter

	lock sync.Mutex // guards what follows
	made Pyramid
}

// bucket collects the frames of one base peak.
type bucket struct {
	frames                 int
	min, max               float32
	square, low, mid, high float64
}

// NewBuilder begins a pyramid of sound of that rate and number of channels.
func NewBuilder(rate, channels int) *Builder {
	b := &Builder{channels: channels, made: Pyramid{Rate: rate, levels: [][]Peak{{}}}}
	b.bands = newSplitter(rate)
	return b
}

// Write adds frames; it is a sink for Run.
func (b *Builder) Write(frames []float32) error {
	for len(frames) > 0 {
		n := min(len(frames)/b.channels, PyramidBase-b.sum.frames)
		if n == 0 {
			break // less than a frame
		}
		b.collect(frames[:n*b.channels])
		frames = frames[n*b.channels:]
		if b.sum.frames == PyramidBase {
			b.flush()
		}
	}
	return nil
}

// collect adds frames to the bucket, which has room for them.
func (b *Builder) collect(frames []float32) {
	s := &b.sum
	share := 1 / float32(b.channels)
	for i := 0; i < len(frames); i += b.channels {
		var mix, square float32
		for _, v := range frames[i : i+b.channels] {
			mix += v
			square += v * v
			s.min, s.max = min(s.min, v), max(s.max, v)
		}
		low, mid, high := b.bands.split(mix * share)
		s.square += float64(square * share)
		s.low += float64(low * low)
		s.mid += float64(mid * mid)
		s.high += float64(high * high)
	}
	s.frames += len(frames) / b.channels
}

// flush makes a peak of the bucket.
func (b *Builder) flush() {
	s := b.sum
	n := float64(s.frames)
	b.bands.settle()
	p := Peak{
		Min: ToPCM(s.min), Max: ToPCM(s.max),
		RMS: uint16(min(math.MaxUint16, math.Sqrt(s.square/n)*(1<<15)+0.5)),
		Low: toLevel(s.low / n), Mid: toLevel(s.mid / n), High: toLevel(s.high / n),
	}
	b.sum = bucket{}
	b.lock.Lock()
	defer b.lock.Unlock()
	b.made.Frames += int64(s.frames)
	b.made.push(p)
}

// push appends a base peak and those coarser ones that it completes.
func (p *Pyramid) push(peak Peak) {
	p.levels[0] = append(p.levels[0], peak)
	if p.Frames%PyramidBase != 0 {
		return
	}
	for k := 0; len(p.levels[k])%pyramidFactor == 0; k++ {
		var s peakSum
		for _, q := range p.levels[k][len(p.levels[k])-pyramidFactor:] {
			s.add(q, 1)
		}
		if k+1 == len(p.levels) {
			p.levels = append(p.levels, nil)
		}
		p.levels[k+1] = append(p.levels[k+1], s.peak())
	}
}

// Pyramid is the pyramid of the whole peaks written so far. It stays as it is
// while the Builder goes on.
func (b *Builder) Pyramid() *Pyramid {
	b.lock.Lock()
	defer b.lock.Unlock()
	p := b.made
	p.levels = append([][]Peak(nil), p.levels...) // what they hold is never changed
	return &p
}

// Finish adds the last frames, fewer than a whole peak, and gives the pyramid
// of all. Nothing may be written afterwards.
func (b *Builder) Finish() *Pyramid {
	if b.sum.frames > 0 {
		b.flush()
	}
	return b.Pyramid()
}

// splitter parts sound into three bands by two state variable filters of
// second order (after A. Simper's trapezoidal form, from memory).
type splitter struct{ low, high svf }

func newSplitter(rate int) splitter {
	return splitter{newSVF(LowMid, rate), newSVF(MidHigh, rate)}
}

// split gives the parts of one more sample.
func (s *splitter) split(v float32) (low, mid, high float32) {
	low, rest := s.low.step(v)
	mid, high = s.high.step(rest)
	return low, mid, high
}

// settle forgets what has faded below hearing, before it becomes numbers so
// small that processors slow down over them.
func (s *splitter) settle() {
	for _, f := range []*svf{&s.low, &s.high} {
		if math.Abs(float64(f.s1))+math.Abs(float64(f.s2)) < faded {
			f.s1, f.s2 = 0, 0
		}
	}
}

// faded is a filter state that nobody could hear: -300 dB.
const faded = 1e-15

// svf is a low and a high pass at the same corner.
type svf struct{ a1, a2, a3, k, s1, s2 float32 }

// newSVF makes a Butterworth pair at hz, or at a place below half the rate.
func newSVF(hz float64, rate int) svf {
	g := math.Tan(math.Pi * min(hz/float64(rate), 0.45))
	k := math.Sqrt2
	a1 := 1 / (1 + g*(g+k))
	return svf{a1: float32(a1), a2: float32(g * a1), a3: float32(g * g * a1), k: float32(k)}
}

// step filters one more sample.
func (f *svf) step(v float32) (low, high float32) {
	v3 := v - f.s2
	v1 := f.a1*f.s1 + f.a2*v3
	v2 := f.s2 + f.a2*f.s1 + f.a3*v3
	f.s1 = 2*v1 - f.s1
	f.s2 = 2*v2 - f.s2
	return v2, v - f.k*v1 - v2
}
