package audio

import "math"

// kernel makes samples between samples: for each fraction of a frame that a
// ratio meets, the weights of the frames around.
type kernel struct {
	ratio  ratio
	half   int64 // frames before the place, and after it
	phases [][]float32
	plain  *kernel // at full speed, where the song keeps its pitch at another; nil where it does not
}

const (
	kernelHalf  = 16   // frames on each side where the rate does not fall
	kernelCut   = 0.92 // of the lower of both half rates is kept
	kernelBeta  = 8    // of the Kaiser window: 80 dB down
	kernelLimit = 4096 // phases; beyond, the nearest is taken
)

// newKernel makes the kernel for a ratio: a sinc under a Kaiser window, wider
// where the rate falls, so that what is too high for the device is left out.
func newKernel(r ratio) *kernel {
	squeeze := min(1, float64(r.den)/float64(r.num))
	k := &kernel{ratio: r, half: int64(math.Ceil(kernelHalf / squeeze))}
	if r.num == r.den {
		return k // a copy
	}
	n := min(r.den, kernelLimit)
	for i := range n {
		k.phases = append(k.phases, k.phase(float64(i)/float64(n), kernelCut*squeeze))
	}
	return k
}

// phase gives the weights for a place that lies the given fraction behind a
// frame.
func (k *kernel) phase(fraction, cut float64) []float32 {
	weights := make([]float64, 2*k.half)
	var sum float64
	for i := range weights {
		x := float64(int64(i)-k.half+1) - fraction
		weights[i] = sinc(x*cut) * kaiser(x/float64(k.half))
		sum += weights[i]
	}
	list := make([]float32, len(weights))
	for i, w := range weights {
		list[i] = float32(w / sum / (1 << 15))
	}
	return list
}

func sinc(x float64) float64 {
	if x == 0 {
		return 1
	}
	return math.Sin(math.Pi*x) / (math.Pi * x)
}

// kaiser is the Kaiser window at x, -1 to 1, without its norm.
func kaiser(x float64) float64 {
	if x < -1 || x > 1 {
		return 0
	}
	return bessel0(kernelBeta * math.Sqrt(1-x*x))
}

// bessel0 is the modified Bessel function of order 0, by its series.
func bessel0(x float64) float64 {
	sum, term := 1.0, 1.0
	for n := 1.0; term > sum*1e-12; n++ {
		term *= x / 2 / n * x / 2 / n
		sum += term
	}
	return sum
}

// weights finds the weights for a cursor's fraction.
func (k *kernel) weights(frac int64) []float32 {
	if n := int64(len(k.phases)); n < k.ratio.den {
		return k.phases[frac*n/k.ratio.den]
	}
	return k.phases[frac]
}

// at gives left and right of p, which is mono or stereo, at a cursor.
func (k *kernel) at(p *track, c cursor) (left, right float64) {
	if k.phases == nil {
		return p.stereo(c.pos)
	}
	first := c.pos - k.half + 1
	weights := k.weights(c.frac)
	if first >= p.frames || first+int64(len(weights)) <= 0 {
		return 0, 0
	}
	if first < 0 {
		weights, first = weights[-first:], 0
	}
	if over := first + int64(len(weights)) - p.frames; over > 0 {
		weights = weights[:int64(len(weights))-over]
	}
	return p.sum(weights, first)
}

// sum weighs frames from first on.
func (p *track) sum(weights []float32, first int64) (left, right float64) {
	samples := p.Span(first, int64(len(weights)))
	if samples == nil {
		return 0, 0
	}
	var l, r float32
	if p.channels == 1 {
		for i, v := range samples {
			l += weights[i] * float32(v)
		}
		return float64(l), float64(l)
	}
	for _, w := range weights {
		l += w * float32(samples[0])
		r += w * float32(samples[1])
		samples = samples[2:]
	}
	return float64(l), float64(r)
}

// stereo gives left and right of a frame; outside of p there is silence.
func (p *track) stereo(frame int64) (left, right float64) {
	if frame < 0 || frame >= p.frames {
		return 0, 0
	}
	samples := p.Span(frame, 1)
	if samples == nil {
		return 0, 0
	}
	const scale = 1.0 / (1 << 15)
	return float64(samples[0]) * scale, float64(samples[p.channels-1]) * scale
}

// TwoChannels is p if it is mono or stereo, or a stereo mix of it: front
// channels plain, centre and surrounds 3 dB lower on their side or both,
// without the low frequency effects (after ITU-R BS.775, from memory).
func (p *PCM) TwoChannels() *PCM {
	if p.Channels <= 2 {
		return p
	}
	const down = math.Sqrt2 / 2
	q := &PCM{Rate: p.Rate, Channels: 2, Samples: make([]int16, 0, 2*p.Frames())}
	for at := 0; at < len(p.Samples); at += p.Channels {
		f := p.Samples[at : at+p.Channels]
		left, right := float64(f[0]), float64(f[1])
		for c := 2; c < len(f); c++ {
			v := float64(f[c]) * down
			switch place(c, len(f)) {
			case -1:
				left += v
			case 1:
				right += v
			case 0:
				left, right = left+v, right+v
			}
		}
		q.Samples = append(q.Samples, ToPCM(float32(left/(1<<15))), ToPCM(float32(right/(1<<15))))
	}
	return q
}

// place tells on which side channel c of n sounds: -1 left, 1 right, 0 both, 2
// nowhere, in the order of WAV files.
func place(c, n int) int {
	front := 3 // left, right, centre
	switch {
	case n == 4:
		front = 2
	case n > 5 && c == 3:
		return 2 // low frequency effects
	case n > 5:
		front = 4
	}
	if c < front {
		return 0
	}
	return (c-front)%2*2 - 1
}
