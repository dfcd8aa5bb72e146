// Package fourier transforms real sound into its spectrum and back.
//
// Its one rule: it is arithmetic over slices of one fixed length; it knows no
// sound, no rate and no window.
package fourier

import "math"

// Transform is a real-input Fourier transform of one fixed power-of-two size, in
// float32. Real and imaginary parts live in separate slices and the stages are
// of the self-sorting (Stockham) kind, so that there is no bit reversal and
// every inner loop walks memory forward. A value is not safe for use by two
// goroutines at once: it owns its scratch space.
type Transform struct {
	size   int
	stages []stage
	tail   []float32 // cos and sin of the last, real-to-complex step, interleaved
	ar, ai []float32
	br, bi []float32
}

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
		ar:   make([]float32, half), ai: make([]float32, half),
		br: make([]float32, half), bi: make([]float32, half),
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
	for i := range half {
		f.ar[i], f.ai[i] = x[2*i], x[2*i+1]
	}
	zr, zi := f.complexForward()
	a, b := zr[0], zi[0]
	out[0], out[half] = (a+b)*(a+b), (a-b)*(a-b)
	for k := 1; k <= half/2; k++ {
		j := half - k
		er, ei := 0.5*(zr[k]+zr[j]), 0.5*(zi[k]-zi[j])
		or, oi := 0.5*(zi[k]+zi[j]), 0.5*(zr[j]-zr[k])
		c, s := f.tail[2*k], f.tail[2*k+1]
		tr, ti := or*c+oi*s, oi*c-or*s
		pr, pi := er+tr, ei+ti
		mr, mi := er-tr, ei-ti
		out[k] = pr*pr + pi*pi
		out[j] = mr*mr + mi*mi
	}
}

// complexForward transforms the half-size complex sequence in ar, ai and
// returns the slices that hold the result.
func (f *Transform) complexForward() (re, im []float32) {
	xr, xi, yr, yi := f.ar, f.ai, f.br, f.bi
	for i := range f.stages {
		if f.stages[i].radix == 4 {
			f.stages[i].four(xr, xi, yr, yi)
		} else {
			f.stages[i].two(xr, xi, yr, yi)
		}
		xr, xi, yr, yi = yr, yi, xr, xi
	}
	return xr, xi
}

// two is a radix-2 pass: y[q+s(2p)] = a+b, y[q+s(2p+1)] = (a-b)w.
func (st *stage) two(xr, xi, yr, yi []float32) {
	m, s := st.n/2, st.s
	for p := range m {
		c, d := st.tw[2*p], st.tw[2*p+1]
		i0, i1, o := s*p, s*(p+m), 2*s*p
		for q := range s {
			ar, ai, br, bi := xr[i0+q], xi[i0+q], xr[i1+q], xi[i1+q]
			yr[o+q], yi[o+q] = ar+br, ai+bi
			tr, ti := ar-br, ai-bi
			yr[o+s+q], yi[o+s+q] = tr*c-ti*d, tr*d+ti*c
		}
	}
}

// four is a radix-4 pass.
func (st *stage) four(xr, xi, yr, yi []float32) {
	m, s := st.n/4, st.s
	for p := range m {
		w := st.tw[6*p : 6*p+6 : 6*p+6]
		c1, d1, c2, d2, c3, d3 := w[0], w[1], w[2], w[3], w[4], w[5]
		a0r, a0i := xr[s*p:s*p+s], xi[s*p:s*p+s]
		a1r, a1i := xr[s*(p+m):s*(p+m)+s], xi[s*(p+m):s*(p+m)+s]
		a2r, a2i := xr[s*(p+2*m):s*(p+2*m)+s], xi[s*(p+2*m):s*(p+2*m)+s]
		a3r, a3i := xr[s*(p+3*m):s*(p+3*m)+s], xi[s*(p+3*m):s*(p+3*m)+s]
		or, oi := yr[4*s*p:4*s*p+4*s], yi[4*s*p:4*s*p+4*s]
		for q := range a0r {
			sr, si := a0r[q]+a2r[q], a0i[q]+a2i[q]
			dr, di := a0r[q]-a2r[q], a0i[q]-a2i[q]
			tr, ti := a1r[q]+a3r[q], a1i[q]+a3i[q]
			ur, ui := a1i[q]-a3i[q], a3r[q]-a1r[q] // -i(a1-a3)
			or[q], oi[q] = sr+tr, si+ti
			vr, vi := dr+ur, di+ui
			or[s+q], oi[s+q] = vr*c1-vi*d1, vr*d1+vi*c1
			vr, vi = sr-tr, si-ti
			or[2*s+q], oi[2*s+q] = vr*c2-vi*d2, vr*d2+vi*c2
			vr, vi = dr-ur, di-ui
			or[3*s+q], oi[3*s+q] = vr*c3-vi*d3, vr*d3+vi*c3
		}
	}
}

// Real writes the real part of X[k] for k = 0..size/2 into out.
func (f *Transform) Real(x, out []float32) {
	half := f.size / 2
	for i := range half {
		f.ar[i], f.ai[i] = x[2*i], x[2*i+1]
	}
	zr, zi := f.complexForward()
	out[0], out[half] = zr[0]+zi[0], zr[0]-zi[0]
	for k := 1; k <= half/2; k++ {
		j := half - k
		er := 0.5 * (zr[k] + zr[j])
		or, oi := 0.5*(zi[k]+zi[j]), 0.5*(zr[j]-zr[k])
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
	for i := range half {
		f.ar[i], f.ai[i] = x[2*i], x[2*i+1]
	}
	zr, zi := f.complexForward()
	re[0], im[0] = zr[0]+zi[0], 0
	re[half], im[half] = zr[0]-zi[0], 0
	for k := 1; k <= half/2; k++ {
		j := half - k
		er, ei := 0.5*(zr[k]+zr[j]), 0.5*(zi[k]-zi[j])
		or, oi := 0.5*(zi[k]+zi[j]), 0.5*(zr[j]-zr[k])
		c, s := f.tail[2*k], f.tail[2*k+1]
		tr, ti := or*c+oi*s, oi*c-or*s
		re[k], im[k] = er+tr, ei+ti
		re[j], im[j] = er-tr, ti-ei
	}
}

// Back turns what Forward gave into x again, which holds size values.
func (f *Transform) Back(re, im, x []float32) {
	half := f.size / 2
	for k := range half {
		j := half - k
		er, ei := re[k]+re[j], im[k]-im[j]
		or, oi := re[k]-re[j], im[k]+im[j]
		c, s := f.tail[2*k], f.tail[2*k+1]
		// the inverse of z is the conjugate of the transform of its conjugate
		f.ar[k] = er - (or*s + oi*c)
		f.ai[k] = -(ei + or*c - oi*s)
	}
	zr, zi := f.complexForward()
	scale := 1 / float32(f.size)
	for i := range half {
		x[2*i], x[2*i+1] = zr[i]*scale, -zi[i]*scale
	}
}
