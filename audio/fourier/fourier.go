// Package fourier transforms real sound into its spectrum and back.
//
// Its one rule: it is arithmetic over slices of one fixed length; it knows no
// sound, no rate and no window.
package fourier

import "math"

// Transform is a real-input Fourier transform of one fixed power-of-two size, in
// float32. The stages are of the self-sorting (Stockham) kind, so that there is no
// bit reversal and every inner loop walks memory forward. A value is not safe for
// use by two goroutines at once: it owns its scratch space.
type Transform struct {
	size   int
	stages []stage
	tail   []float32 // cos and sin of the last, real-to-complex step, interleaved
	a, b   []point
	mixed  []float32 // what Back transforms
}

// point is a complex number.
type point struct{ r, i float32 }

// stage is one radix-4 or radix-2 pass over n points in runs of s.
type stage struct {
	radix, n, s int
	tw          []float32 // per butterfly: cos and sin of w, w², w³
}

// New prepares the transform of size real points; size is a power of two, at least 8.
func New(size int) *Transform {
	half := size / 2
	f := &Transform{
		size: size,
		a:    make([]point, half),
		b:    make([]point, half),
	}
	for n, s := half, 1; n > 1; {
		radix := 4
		if n == 2 || log2(n)%2 == 1 {
			radix = 2
		}
		f.stages = append(f.stages, newStage(radix, n, s))
		n, s = n/radix, s*radix
	}
	f.tail = make([]float32, 2*half)
	for k := range half {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / float64(size))
		f.tail[2*k], f.tail[2*k+1] = float32(cos), float32(sin)
	}
	return f
}

func newStage(radix, n, s int) stage {
	st := stage{radix: radix, n: n, s: s}
	for p := range n / radix {
		for j := 1; j < radix; j++ {
			sin, cos := math.Sincos(-2 * math.Pi * float64(j*p) / float64(n))
			st.tw = append(st.tw, float32(cos), float32(sin))
		}
	}
	return st
}

func log2(n int) int {
	k := 0
	for n > 1 {
		n >>= 1
		k++
	}
	return k
}

// Power writes |X[k]|² for k = 0..size/2 into out, which holds size/2+1 values.
func (f *Transform) Power(x, out []float32) {
	half := f.size / 2
	z := f.complexForward(x)
	a, b := z[0].r, z[0].i
	out[0], out[half] = (a+b)*(a+b), (a-b)*(a-b)
	for k := 1; k <= half/2; k++ {
		j := half - k
		p, q := z[k], z[j]
		er, ei := 0.5*(p.r+q.r), 0.5*(p.i-q.i)
		or, oi := 0.5*(p.i+q.i), 0.5*(q.r-p.r)
		t := f.tail[2*k : 2*k+2 : 2*k+2]
		c, s := t[0], t[1]
		tr, ti := or*c+oi*s, oi*c-or*s
		pr, pi := er+tr, ei+ti
		mr, mi := er-tr, ei-ti
		out[k] = pr*pr + pi*pi
		out[j] = mr*mr + mi*mi
	}
}

// complexForward transforms x, taken as pairs of a real and an imaginary part, and
// returns the slice that holds the result.
func (f *Transform) complexForward(x []float32) []point {
	in, out := f.a, f.b
	x = x[:f.size]
	if f.stages[0].radix == 4 {
		f.stages[0].firstFour(x, in)
	} else {
		f.stages[0].firstTwo(x, in)
	}
	for i := range f.stages[1:] {
		if st := &f.stages[i+1]; st.n == 4 {
			st.lastFour(in, out)
		} else {
			st.four(in, out)
		}
		in, out = out, in
	}
	return in
}

// firstTwo is a radix-2 pass over runs of one: y[2p] = a+b, y[2p+1] = (a-b)w.
func (st *stage) firstTwo(x []float32, y []point) {
	m := st.n / 2
	for p := range m {
		w := st.tw[2*p : 2*p+2 : 2*p+2]
		a, b := x[2*p:2*p+2:2*p+2], x[2*(p+m):2*(p+m)+2:2*(p+m)+2]
		o := y[2*p : 2*p+2 : 2*p+2]
		o[0] = point{a[0] + b[0], a[1] + b[1]}
		tr, ti := a[0]-b[0], a[1]-b[1]
		o[1] = point{tr*w[0] - ti*w[1], tr*w[1] + ti*w[0]}
	}
}

// firstFour is a radix-4 pass over runs of one.
func (st *stage) firstFour(x []float32, y []point) {
	m := st.n / 4
	for p := range m {
		w := st.tw[6*p : 6*p+6 : 6*p+6]
		a0, a1 := x[2*p:2*p+2:2*p+2], x[2*(p+m):2*(p+m)+2:2*(p+m)+2]
		a2, a3 := x[2*(p+2*m):2*(p+2*m)+2:2*(p+2*m)+2], x[2*(p+3*m):2*(p+3*m)+2:2*(p+3*m)+2]
		o := y[4*p : 4*p+4 : 4*p+4]
		sr, si := a0[0]+a2[0], a0[1]+a2[1]
		dr, di := a0[0]-a2[0], a0[1]-a2[1]
		tr, ti := a1[0]+a3[0], a1[1]+a3[1]
		ur, ui := a1[1]-a3[1], a3[0]-a1[0] // -i(a1-a3)
		o[0] = point{sr + tr, si + ti}
		vr, vi := dr+ur, di+ui
		o[1] = point{vr*w[0] - vi*w[1], vr*w[1] + vi*w[0]}
		vr, vi = sr-tr, si-ti
		o[2] = point{vr*w[2] - vi*w[3], vr*w[3] + vi*w[2]}
		vr, vi = dr-ur, di-ui
		o[3] = point{vr*w[4] - vi*w[5], vr*w[5] + vi*w[4]}
	}
}

// four is a radix-4 pass.
func (st *stage) four(x, y []point) {
	m, s := st.n/4, st.s
	for p := range m {
		w := st.tw[6*p : 6*p+6 : 6*p+6]
		c1, d1, c2, d2, c3, d3 := w[0], w[1], w[2], w[3], w[4], w[5]
		a0 := x[s*p : s*p+s]
		a1, a2, a3 := x[s*(p+m):][:len(a0)], x[s*(p+2*m):][:len(a0)], x[s*(p+3*m):][:len(a0)]
		o := y[4*s*p:]
		o0, o1, o2, o3 := o[:len(a0)], o[s:][:len(a0)], o[2*s:][:len(a0)], o[3*s:][:len(a0)]
		for q, p0 := range a0 {
			p1, p2, p3 := a1[q], a2[q], a3[q]
			sr, si := p0.r+p2.r, p0.i+p2.i
			dr, di := p0.r-p2.r, p0.i-p2.i
			tr, ti := p1.r+p3.r, p1.i+p3.i
			ur, ui := p1.i-p3.i, p3.r-p1.r // -i(a1-a3)
			o0[q] = point{sr + tr, si + ti}
			vr, vi := dr+ur, di+ui
			o1[q] = point{vr*c1 - vi*d1, vr*d1 + vi*c1}
			vr, vi = sr-tr, si-ti
			o2[q] = point{vr*c2 - vi*d2, vr*d2 + vi*c2}
			vr, vi = dr-ur, di-ui
			o3[q] = point{vr*c3 - vi*d3, vr*d3 + vi*c3}
		}
	}
}

// lastFour is the radix-4 pass over four points, which turns none of them.
func (st *stage) lastFour(x, y []point) {
	s := st.s
	a0 := x[:s]
	a1, a2, a3 := x[s:][:len(a0)], x[2*s:][:len(a0)], x[3*s:][:len(a0)]
	o0, o1, o2, o3 := y[:len(a0)], y[s:][:len(a0)], y[2*s:][:len(a0)], y[3*s:][:len(a0)]
	for q := range a0 {
		p0, p1, p2, p3 := a0[q], a1[q], a2[q], a3[q]
		sr, si := p0.r+p2.r, p0.i+p2.i
		dr, di := p0.r-p2.r, p0.i-p2.i
		tr, ti := p1.r+p3.r, p1.i+p3.i
		ur, ui := p1.i-p3.i, p3.r-p1.r // -i(a1-a3)
		o0[q] = point{sr + tr, si + ti}
		o1[q] = point{dr + ur, di + ui}
		o2[q] = point{sr - tr, si - ti}
		o3[q] = point{dr - ur, di - ui}
	}
}

// Real writes the real part of X[k] for k = 0..size/2 into out.
func (f *Transform) Real(x, out []float32) {
	half := f.size / 2
	z := f.complexForward(x)
	out[0], out[half] = z[0].r+z[0].i, z[0].r-z[0].i
	for k := 1; k <= half/2; k++ {
		j := half - k
		p, q := z[k], z[j]
		er := 0.5 * (p.r + q.r)
		or, oi := 0.5*(p.i+q.i), 0.5*(q.r-p.r)
		tr := or*f.tail[2*k] + oi*f.tail[2*k+1]
		out[k], out[j] = er+tr, er-tr
	}
}

// Size is the number of real points.
func (f *Transform) Size() int { return f.size }

// Forward writes X[k] for k = 0..size/2 into re and im, which hold size/2+1
// values each.
func (f *Transform) Forward(x, re, im []float32) {
	half := f.size / 2
	z := f.complexForward(x)
	re[0], im[0] = z[0].r+z[0].i, 0
	re[half], im[half] = z[0].r-z[0].i, 0
	for k := 1; k <= half/2; k++ {
		j := half - k
		p, q := z[k], z[j]
		er, ei := 0.5*(p.r+q.r), 0.5*(p.i-q.i)
		or, oi := 0.5*(p.i+q.i), 0.5*(q.r-p.r)
		c, s := f.tail[2*k], f.tail[2*k+1]
		tr, ti := or*c+oi*s, oi*c-or*s
		re[k], im[k] = er+tr, ei+ti
		re[j], im[j] = er-tr, ti-ei
	}
}

// Back turns what Forward gave into x again, which holds size values.
func (f *Transform) Back(re, im, x []float32) {
	half := f.size / 2
	if f.mixed == nil {
		f.mixed = make([]float32, f.size)
	}
	for k := range half {
		j := half - k
		er, ei := re[k]+re[j], im[k]-im[j]
		or, oi := re[k]-re[j], im[k]+im[j]
		c, s := f.tail[2*k], f.tail[2*k+1]
		// the inverse of z is the conjugate of the transform of its conjugate
		f.mixed[2*k] = er - (or*s + oi*c)
		f.mixed[2*k+1] = -(ei + or*c - oi*s)
	}
	z := f.complexForward(f.mixed)
	scale := 1 / float32(f.size)
	for i := range half {
		x[2*i], x[2*i+1] = z[i].r*scale, -z[i].i*scale
	}
}
