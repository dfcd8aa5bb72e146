package ear

import "math"

// decimator lowers the rate by a whole factor behind a windowed-sinc low pass.
// Its delay is taken out: output k stands for input k·factor.
type decimator struct {
	factor int
	taps   []float32
	buf    []float32
	next   int // index in buf of the next output's first tap
}

func newDecimator(factor, chunk int) *decimator {
	half := 8 * factor
	d := &decimator{factor: factor, taps: make([]float32, 2*half+1)}
	sum := 0.0
	for i := range d.taps {
		x := float64(i-half) / float64(factor)
		v := 0.5 + 0.5*math.Cos(math.Pi*float64(i-half)/float64(half+1))
		if x != 0 {
			v *= math.Sin(math.Pi*x*0.9) / (math.Pi * x * 0.9)
		}
		d.taps[i] = float32(v)
		sum += v
	}
	for i := range d.taps {
		d.taps[i] /= float32(sum)
	}
	d.buf = make([]float32, half, 2*half+chunk+1)
	return d
}

// run takes x and appends what is ready to out. The last few outputs of a
// stream are not given: they would need sound that never comes.
func (d *decimator) run(x, out []float32) []float32 {
	d.buf = append(d.buf, x...)
	n := len(d.taps)
	half := n / 2
	for d.next+n <= len(d.buf) {
		w := d.buf[d.next : d.next+n]
		// the taps are symmetric: add the two sides before multiplying
		sum := w[half] * d.taps[half]
		for i := range half {
			sum += (w[i] + w[n-1-i]) * d.taps[i]
		}
		out = append(out, sum)
		d.next += d.factor
	}
	keep := copy(d.buf, d.buf[min(d.next, len(d.buf)):])
	d.next -= len(d.buf) - keep
	d.buf = d.buf[:keep]
	return out
}
