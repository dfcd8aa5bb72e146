package mp3

import "math"

// windows are the windows of the block types; that of short blocks is 12
// long.
var windows = func() (w [4][2 * slotCount]float32) {
	long := func(i int) float32 { return float32(math.Sin(math.Pi / 36 * (float64(i) + 0.5))) }
	short := func(i int) float32 { return float32(math.Sin(math.Pi / 12 * (float64(i) + 0.5))) }
	for i := range 36 {
		w[normalBlock][i] = long(i)
	}
	for i := range 18 {
		w[startBlock][i], w[stopBlock][35-i] = long(i), long(i)
	}
	for i := 18; i < 24; i++ {
		w[startBlock][i], w[stopBlock][35-i] = 1, 1
	}
	for i := 24; i < 30; i++ {
		w[startBlock][i], w[stopBlock][35-i] = short(i-18), short(i-18)
	}
	for i := range 12 {
		w[shortBlock][i] = short(i)
	}
	return w
}()

// imdct36 is the windowed inverse transform of 18 lines into 36 samples:
// x[i] = w[i] * sum over k of in[k] * cos(pi/72 * (2i+19) * (2k+1)). With
// y = dctIV(in), that is y from its middle on, then -y backwards, then -y.
func imdct36(in *[slotCount]float32, w, x *[2 * slotCount]float32) {
	var y [18]float32
	dctIV18(in, &y)
	for i := range 9 {
		x[i] = y[9+i] * w[i]
		x[17-i] = -y[9+i] * w[17-i]
		x[26-i] = -y[i] * w[26-i]
		x[27+i] = -y[i] * w[27+i]
	}
}

// imdct12 is the same with three short blocks, 6 samples apart.
func imdct12(in *[slotCount]float32, x *[2 * slotCount]float32) {
	w := &windows[shortBlock]
	for win := range 3 {
		var y [6]float32
		for k := range 6 {
			v := in[3*k+win]
			for n := range 6 {
				y[n] += v * cosIV6[k][n]
			}
		}
		out := (*[12]float32)(x[6+6*win:])
		for i := range 3 {
			out[i] += y[3+i] * w[i]
			out[5-i] -= y[3+i] * w[5-i]
			out[8-i] -= y[i] * w[8-i]
			out[9+i] -= y[i] * w[9+i]
		}
	}
}

// cosIV6 is the matrix of the DCT-IV of 6 points.
var cosIV6 = func() (t [6][6]float32) {
	for k := range 6 {
		for n := range 6 {
			t[k][n] = float32(math.Cos(math.Pi / 24 * float64((2*n+1)*(2*k+1))))
		}
	}
	return t
}()

// dctIV18 is y[n] = sum over k of x[k] * cos(pi/72 * (2n+1) * (2k+1)), by a
// complex transform of 9 points between two twiddles.
func dctIV18(x, y *[18]float32) {
	var re, im [9]float32
	for n := range 9 {
		a, b, t := x[2*n], x[17-2*n], &twiddle18[n]
		re[n] = a*t[0] + b*t[1]
		im[n] = b*t[0] - a*t[1]
	}
	dft9(&re, &im)
	for k := range 9 {
		t := &twiddle18[k]
		y[2*k] = re[k]*t[0] + im[k]*t[1]
		y[17-2*k] = re[k]*t[1] - im[k]*t[0]
	}
}

// twiddle18 is cos and sin of pi/144 * (8n+1).
var twiddle18 = func() (t [9][2]float32) {
	for n := range t {
		s, c := math.Sincos(math.Pi / 144 * float64(8*n+1))
		t[n] = [2]float32{float32(c), float32(s)}
	}
	return t
}()

// dft9 is the discrete Fourier transform of 9 points, as three times three.
func dft9(re, im *[9]float32) {
	for i := range 3 {
		dft3(re, im, i, 3)
	}
	for a := 1; a < 3; a++ {
		for b := 1; b < 3; b++ {
			i, t := 3*a+b, &twiddle9[a*b]
			re[i], im[i] = re[i]*t[0]+im[i]*t[1], im[i]*t[0]-re[i]*t[1]
		}
	}
	for i := range 3 {
		dft3(re, im, 3*i, 1)
	}
	// Result k1 + 3*k2 stands at 3*k1 + k2.
	for _, s := range [3][2]int{{1, 3}, {2, 6}, {5, 7}} {
		re[s[0]], re[s[1]] = re[s[1]], re[s[0]]
		im[s[0]], im[s[1]] = im[s[1]], im[s[0]]
	}
}

// dft3 transforms the points at, at+step and at+2*step.
func dft3(re, im *[9]float32, at, step int) {
	const half, root = 0.5, 0.86602540378443864676 // of the cube roots of 1
	i, j, k := at, at+step, at+2*step
	sr, si := re[j]+re[k], im[j]+im[k]
	dr, di := (re[j]-re[k])*root, (im[j]-im[k])*root
	mr, mi := re[i]-sr*half, im[i]-si*half
	re[i], im[i] = re[i]+sr, im[i]+si
	re[j], im[j] = mr+di, mi-dr
	re[k], im[k] = mr-di, mi+dr
}

// twiddle9 is cos and sin of 2*pi/9 * n.
var twiddle9 = func() (t [5][2]float32) {
	for n := range t {
		s, c := math.Sincos(2 * math.Pi / 9 * float64(n))
		t[n] = [2]float32{float32(c), float32(s)}
	}
	return t
}()
