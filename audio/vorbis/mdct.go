package vorbis

import (
	"math"
	"math/bits"
)

// mdct is the inverse transform of blocks of one size: a DCT-IV by a
// complex Fourier transform of a quarter of the size.
type mdct struct {
	size    int
	window  []float32 // the rising slope
	re, im  []float32
	twiddle [][2]float32 // before and after the Fourier transform
	roots   [][2]float32 // of each of its stages, in a row
	order   []int        // bits reversed
}

func newMDCT(size int) *mdct {
	n := size / 4
	t := &mdct{size: size, re: make([]float32, n), im: make([]float32, n), order: make([]int, n)}
	for i := range size / 2 {
		s := math.Sin(math.Pi * (float64(i) + 0.5) / float64(size))
		t.window = append(t.window, float32(math.Sin(math.Pi/2*s*s)))
	}
	for i := range n {
		t.twiddle = append(t.twiddle, root(float64(8*i+1)/float64(8*size)))
		t.order[i] = int(bits.Reverse(uint(i)) >> (bits.LeadingZeros(uint(n)) + 1))
	}
	for half := 1; half < n; half *= 2 {
		for i := range half {
			t.roots = append(t.roots, root(float64(i)/float64(2*half)))
		}
	}
	return t
}

// root is cos and sin of a part of the circle.
func root(part float64) [2]float32 {
	s, c := math.Sincos(2 * math.Pi * part)
	return [2]float32{float32(c), float32(s)}
}

// inverse makes size samples x of size/2 lines: x[i] = sum over k of lines[k] *
// cos(2*pi/size * (i + 1/2 + size/4) * (k + 1/2)). With y = DCT-IV of the
// lines, that is y from its middle on, then -y backwards, then -y.
func (t *mdct) inverse(lines, x []float32) {
	half, quarter := t.size/2, t.size/4
	for i, j := range t.order {
		a, b, w := lines[2*i], lines[half-1-2*i], t.twiddle[i]
		t.re[j] = a*w[0] + b*w[1]
		t.im[j] = b*w[0] - a*w[1]
	}
	t.transform()
	put := func(k int, v float32) { // v is y[k]
		if k >= quarter {
			x[k-quarter] = v
			x[half+quarter-1-k] = -v
		} else {
			x[half+quarter-1-k] = -v
			x[half+quarter+k] = -v
		}
	}
	for k, w := range t.twiddle {
		put(2*k, t.re[k]*w[0]+t.im[k]*w[1])
		put(half-1-2*k, t.re[k]*w[1]-t.im[k]*w[0])
	}
}

// transform is the Fourier transform of re and im, whose order is already
// reversed by bits.
func (t *mdct) transform() {
	n, roots := len(t.re), t.roots
	for half := 1; half < n; half *= 2 {
		w := roots[:half]
		roots = roots[half:]
		for at := 0; at < n; at += 2 * half {
			ar, ai := t.re[at:at+half], t.im[at:at+half]
			br, bi := t.re[at+half:at+2*half], t.im[at+half:at+2*half]
			for i, r := range w {
				xr, xi := br[i]*r[0]+bi[i]*r[1], bi[i]*r[0]-br[i]*r[1]
				br[i], bi[i] = ar[i]-xr, ai[i]-xi
				ar[i], ai[i] = ar[i]+xr, ai[i]+xi
			}
		}
	}
}
