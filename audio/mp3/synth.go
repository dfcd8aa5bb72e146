package mp3

import "math"

// synth is the polyphase synthesis of one channel: 32 subband samples in, 32
// samples out.
//
// The standard keeps 1024 values, of which a cosine matrix makes 64 new ones
// each time; they are 32 values of a DCT-II, mirrored. So the last 16 results
// of the DCT are kept, those of even and of odd times apart and each twice, for
// eight that lie in a row are multiplied with eight of the window.
type synth struct {
	past [2][subbandCount][16]float32
	turn int // rows of eight begin here
	odd  int // which half is written next
}

// synthWindow holds the window: for each sample 8 coefficients for the newest
// kind of values and 8 for the one before.
var synthWindow [subbandCount][2][8]float32

// synthRow tells which result of the DCT is meant by value m of 64, and its
// sign.
func synthRow(m int) (row int, sign float32) {
	switch {
	case m < 16:
		return 16 + m, 1
	case m == 16:
		return 16, 0
	case m <= 48:
		return 48 - m, -1
	}
	return m - 48, -1
}

func init() {
	for j := range subbandCount {
		_, now := synthRow(j)
		_, before := synthRow(32 + j)
		for i := range 8 {
			synthWindow[j][0][i] = now * windowAt(64*i+j)
			synthWindow[j][1][i] = before * windowAt(64*i+32+j)
		}
	}
}

// step makes 32 samples, every stride-th of out.
func (s *synth) step(in *[subbandCount]float32, out []float32, stride int) {
	var y [subbandCount]float32
	dct32(in, &y)
	if s.odd == 0 {
		s.turn = (s.turn - 1) & 7
	}
	now := &s.past[s.odd]
	for i, v := range &y {
		now[i][s.turn], now[i][s.turn+8] = v, v
	}
	// The values before the newest lie in the other half; at even times that
	// one has not yet turned.
	before, turn := &s.past[1-s.odd], s.turn
	if s.odd == 0 {
		turn = (turn + 1) & 7
	}
	for j := range subbandCount {
		a, _ := synthRow(j)
		b, _ := synthRow(32 + j)
		w := &synthWindow[j]
		out[j*stride] = dot8((*[8]float32)(now[a&31][s.turn:]), &w[0]) + dot8((*[8]float32)(before[b&31][turn:]), &w[1])
	}
	s.odd = 1 - s.odd
}

func dot8(a, b *[8]float32) float32 {
	return (a[0]*b[0] + a[1]*b[1]) + (a[2]*b[2] + a[3]*b[3]) + ((a[4]*b[4] + a[5]*b[5]) + (a[6]*b[6] + a[7]*b[7]))
}

// dct32 is y[k] = sum over n of x[n] * cos(pi/64 * (2n+1) * k), by halving (B.
// G. Lee's way): even results are the DCT of the sums of mirrored inputs, odd
// ones sums of neighbours in the DCT of their weighted differences.
func dct32(x, y *[32]float32) {
	var a, b, ya, yb [16]float32
	for n := range 16 {
		p, q := x[n], x[31-n]
		a[n], b[n] = p+q, (p-q)*halfSec32[n]
	}
	dct16(&a, &ya)
	dct16(&b, &yb)
	for k := range 15 {
		y[2*k], y[2*k+1] = ya[k], yb[k]+yb[k+1]
	}
	y[30], y[31] = ya[15], yb[15]
}

func dct16(x, y *[16]float32) {
	var a, b, ya, yb [8]float32
	for n := range 8 {
		p, q := x[n], x[15-n]
		a[n], b[n] = p+q, (p-q)*halfSec16[n]
	}
	dct8(&a, &ya)
	dct8(&b, &yb)
	for k := range 7 {
		y[2*k], y[2*k+1] = ya[k], yb[k]+yb[k+1]
	}
	y[14], y[15] = ya[7], yb[7]
}

func dct8(x, y *[8]float32) {
	var a, b [4]float32
	for n := range 4 {
		p, q := x[n], x[7-n]
		a[n], b[n] = p+q, (p-q)*halfSec8[n]
	}
	dct4(&a)
	dct4(&b)
	y[0], y[2], y[4], y[6] = a[0], a[1], a[2], a[3]
	y[1], y[3], y[5], y[7] = b[0]+b[1], b[1]+b[2], b[2]+b[3], b[3]
}

// dct4 works in place.
func dct4(x *[4]float32) {
	const root = math.Sqrt2 / 2
	s0, s1 := x[0]+x[3], x[1]+x[2]
	d0, d1 := (x[0]-x[3])*halfSec4[0], (x[1]-x[2])*halfSec4[1]
	odd := (d0 - d1) * root
	x[0], x[2] = s0+s1, (s0-s1)*root
	x[1], x[3] = d0+d1+odd, odd
}

// The weights 1 / (2 cos(pi/2N * (2n+1))) of each halving.
var (
	halfSec32 [16]float32
	halfSec16 [8]float32
	halfSec8  [4]float32
	halfSec4  [2]float32
)

func init() {
	for _, t := range [][]float32{halfSec32[:], halfSec16[:], halfSec8[:], halfSec4[:]} {
		for n := range t {
			t[n] = float32(0.5 / math.Cos(math.Pi/float64(4*len(t))*float64(2*n+1)))
		}
	}
}
