package ear

import "emberbeat/audio/fourier"

// envelopeStage keeps the level of three bands in steps of one millisecond:
// fine enough to say when an attack began.
type envelopeStage struct {
	rate  int
	count int // samples taken into the open step
	edge  int // samples the open step needs
	step  int
	done  int
	lp    [4]float32 // one-pole states
	ka    float32    // coefficient at 200 Hz
	kb    float32    // coefficient at 2500 Hz
	sum   [envCount]float32
	out   *features
}

func newEnvelopeStage(rate int, out *features) *envelopeStage {
	s := &envelopeStage{rate: rate, out: out, ka: onePole(200, rate), kb: onePole(2500, rate)}
	s.edge = s.length()
	return s
}

func onePole(hz float64, rate int) float32 {
	w := 2 * 3.141592653589793 * hz / float64(rate)
	return float32(w / (1 + w))
}

// length gives the samples of the next step: step k ends at round((k+1)·rate/envRate).
func (s *envelopeStage) length() int {
	s.step++
	end := (s.step*s.rate + envRate/2) / envRate
	n := end - s.done
	s.done = end
	return n
}

func (s *envelopeStage) feed(x []float32) {
	a, b, c, d := s.lp[0], s.lp[1], s.lp[2], s.lp[3]
	low, mid, high := s.sum[envLow], s.sum[envMid], s.sum[envHigh]
	ka, kb := s.ka, s.kb
	for _, v := range x {
		a += ka * (v - a)
		b += ka * (a - b)
		c += kb * (v - c)
		d += kb * (c - d)
		low += b * b
		m := d - b
		mid += m * m
		h := v - c
		high += h * h
		s.count++
		if s.count >= s.edge {
			n := float32(max(s.count, 1))
			s.push(low/n, mid/n, high/n)
			low, mid, high = 0, 0, 0
			s.count = 0
			s.edge = s.length()
		}
	}
	s.lp = [4]float32{a, b, c, d}
	s.sum = [envCount]float32{low, mid, high}
}

func (s *envelopeStage) push(v ...float32) {
	for i, p := range v {
		// 10·log10(p) = 3.0103·log2(p)
		db := 3.0103*fourier.Log2(p+1e-12) + envFloor
		s.out.env[i] = append(s.out.env[i], uint8(min(max(db/envStep, 0), 255)))
	}
}
