package ear

import (
	"math"

	"emberbeat/audio/fourier"
)

// toneStage keeps pitch classes, bass pitch classes and a coarse spectrum at
// toneRate, for bars and sections. It works on the sound decimated by four.
type toneStage struct {
	dec    *decimator
	frames *framer
	fft    *fourier.Transform
	win    []float32
	block  []float32
	spec   []float32
	class  []int8    // pitch class of each bin, -1 for none
	weight []float32 // share of the bin that its class gets
	treble int       // bins at and above this count as harmony, below as bass
	broad  []uint8
	out    *features
	each   func([]float32)
	small  []float32
}

func newToneStage(rate, chunk int, out *features) *toneStage {
	s := &toneStage{out: out, dec: newDecimator(4, chunk)}
	rate /= 4
	size := windowFor(rate, 0.186)
	s.frames = newFramer(size, rate, toneRate, chunk/4+1)
	s.fft = fourier.New(size)
	s.win = hann(size)
	for i := range s.win {
		s.win[i] *= 4 / float32(size)
	}
	s.block, s.spec = make([]float32, size), make([]float32, size/2+1)
	s.each = s.frame
	s.map12(rate, size)
	return s
}

// map12 assigns bins between 55 and 2000 Hz to the pitch class of their centre.
func (s *toneStage) map12(rate, size int) {
	n := size/2 + 1
	s.class, s.weight, s.broad = make([]int8, n), make([]float32, n), make([]uint8, n)
	for k := range n {
		hz := float64(k) * float64(rate) / float64(size)
		s.class[k] = -1
		if hz < 40 {
			s.broad[k] = 0
			continue
		}
		s.broad[k] = uint8(min(timbreLen-1, int(2*math.Log2(hz/40))))
		if hz < 50 || hz > 2100 {
			continue
		}
		pitch := 12*math.Log2(hz/440) + 69
		near := math.Round(pitch)
		s.class[k] = int8((int(near)%12 + 12) % 12)
		s.weight[k] = float32(1 - math.Abs(pitch-near))
		if hz < 220 {
			s.treble = k + 1
		}
	}
}

func (s *toneStage) feed(x []float32) {
	s.small = s.dec.run(x, s.small[:0])
	s.frames.feed(s.small, s.each)
}

func (s *toneStage) flush() { s.frames.flush(s.each) }

func (s *toneStage) frame(x []float32) {
	for i, w := range s.win {
		s.block[i] = x[i] * w
	}
	s.fft.Power(s.block, s.spec)
	var tone, bass [toneBins]float32
	var broad [timbreLen]float32
	for k, p := range s.spec {
		broad[s.broad[k]] += p
		if c := s.class[k]; c >= 0 {
			v := sqrt32(p) * s.weight[k]
			if k < s.treble {
				bass[c] += v
			} else {
				tone[c] += v
			}
		}
	}
	s.out.tone = append(s.out.tone, tone[:]...)
	s.out.bass = append(s.out.bass, bass[:]...)
	for i := range broad {
		broad[i] = fourier.Log2(1e-9 + broad[i])
	}
	s.out.timbre = append(s.out.timbre, broad[:]...)
}
