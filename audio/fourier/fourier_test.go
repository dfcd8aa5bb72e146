package fourier

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	gonum "gonum.org/v1/gonum/dsp/fourier"
)

// The yardstick is gonum's transform in double precision.
func TestPowerAgreesWithGonum(t *testing.T) {
	for _, n := range []int{8, 16, 32, 256, 512, 1024, 2048, 4096} {
		t.Run(fmt.Sprint(n), func(t *testing.T) {
			r := rand.New(rand.NewPCG(1, uint64(n)))
			x, wide := make([]float32, n), make([]float64, n)
			for i := range x {
				x[i] = float32(r.NormFloat64())
				wide[i] = float64(x[i])
			}
			got := make([]float32, n/2+1)
			New(n).Power(x, got)
			for k, c := range gonum.NewFFT(n).Coefficients(nil, wide) {
				want := real(c)*real(c) + imag(c)*imag(c)
				require.InDelta(t, want, float64(got[k]), 1e-4*float64(n)*math.Max(1, want/float64(n)), "bin %d", k)
			}
		})
	}
}

func BenchmarkFFT2048(b *testing.B) {
	f, x, out := New(2048), make([]float32, 2048), make([]float32, 1025)
	for i := range x {
		x[i] = float32(i%17) - 8
	}
	b.ReportAllocs()
	for b.Loop() {
		f.Power(x, out)
	}
}

// There and back is where it began, and between lies what gonum gives.
func TestForwardAndBack(t *testing.T) {
	for _, n := range []int{8, 16, 64, 1024, 8192} {
		t.Run(fmt.Sprint(n), func(t *testing.T) {
			r := rand.New(rand.NewPCG(2, uint64(n)))
			x, wide, back := make([]float32, n), make([]float64, n), make([]float32, n)
			for i := range x {
				x[i] = float32(r.NormFloat64())
				wide[i] = float64(x[i])
			}
			f := New(n)
			re, im := make([]float32, n/2+1), make([]float32, n/2+1)
			f.Forward(x, re, im)
			within := 1e-5 * math.Sqrt(float64(n)) * math.Log2(float64(n))
			for k, c := range gonum.NewFFT(n).Coefficients(nil, wide) {
				require.InDelta(t, real(c), float64(re[k]), within, "bin %d", k)
				require.InDelta(t, imag(c), float64(im[k]), within, "bin %d", k)
			}
			f.Back(re, im, back)
			for i := range x {
				require.InDelta(t, x[i], back[i], 1e-5, "point %d", i)
			}
		})
	}
}
