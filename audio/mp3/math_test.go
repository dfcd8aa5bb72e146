package mp3

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// random fills x with numbers between -1 and 1.
func random(x []float32) {
	r := rand.New(rand.NewPCG(1, 2))
	for i := range x {
		x[i] = r.Float32()*2 - 1
	}
}

// The fast transforms against the formulas of ISO/IEC 11172-3 §2.4.3.4.
func TestDCT32IsItsFormula(t *testing.T) {
	var x, y [32]float32
	random(x[:])
	dct32(&x, &y)
	for k := range y {
		var want float64
		for n, v := range x {
			want += float64(v) * math.Cos(math.Pi/64*float64((2*n+1)*k))
		}
		require.InDelta(t, want, y[k], 1e-5, "%d", k)
	}
}

// imdctFormula is the inverse transform of the lines into twice as many samples.
func imdctFormula(lines []float32) []float64 {
	n := 2 * len(lines)
	x := make([]float64, n)
	for i := range x {
		for k, v := range lines {
			x[i] += float64(v) * math.Cos(math.Pi/float64(2*n)*float64((2*i+1+n/2)*(2*k+1)))
		}
	}
	return x
}

func TestIMDCT36IsItsFormula(t *testing.T) {
	var in [18]float32
	var x [36]float32
	random(in[:])
	for block := range windows {
		imdct36(&in, &windows[block], &x)
		for i, want := range imdctFormula(in[:]) {
			require.InDelta(t, want*float64(windows[block][i]), x[i], 1e-5, "%d", i)
		}
	}
}

func TestIMDCT12IsItsFormula(t *testing.T) {
	var in [18]float32
	var got [36]float32
	random(in[:])
	imdct12(&in, &got)
	var want [36]float64
	for win := range 3 {
		lines := make([]float32, 6)
		for k := range lines {
			lines[k] = in[3*k+win]
		}
		for i, v := range imdctFormula(lines) {
			want[6+6*win+i] += v * math.Sin(math.Pi/12*(float64(i)+0.5))
		}
	}
	for i := range want {
		require.InDelta(t, want[i], got[i], 1e-5, "%d", i)
	}
}

// The synthesis against the flow chart of ISO/IEC 11172-3 figure A.2.
func TestSynthesisIsItsFlowChart(t *testing.T) {
	var s synth
	var v [1024]float64
	for slot := range 40 {
		var in [32]float32
		random(in[:])
		in[slot%32] += 1
		got := make([]float32, 32)
		s.step(&in, got, 1)
		copy(v[64:], v[:960])
		for i := range 64 {
			v[i] = 0
			for k, x := range in {
				v[i] += float64(x) * math.Cos(math.Pi/64*float64((16+i)*(2*k+1)))
			}
		}
		for j := range 32 {
			var want float64
			for i := range 8 {
				want += v[128*i+j] * float64(windowAt(64*i+j))
				want += v[128*i+96+j] * float64(windowAt(64*i+32+j))
			}
			require.InDelta(t, want, got[j], 1e-5, "slot %d sample %d", slot, j)
		}
	}
}

// Every code must be complete: no bits without a meaning, none with two.
func TestHuffmanCodesAreComplete(t *testing.T) {
	for n, text := range codeTables {
		codes := parseCodes(text)
		var share float64
		seen := map[uint32]bool{}
		for _, c := range codes {
			share += math.Exp2(-float64(c.Length))
			seen[c.Value] = true
			window := uint64(c.Bits) << (64 - c.Length)
			for _, rest := range []uint64{0, 1<<(64-c.Length) - 1} {
				value, bits := tables[n].decode(window | rest)
				require.EqualValues(t, c.Value, value, "table %d", n)
				require.EqualValues(t, c.Length, bits, "table %d", n)
			}
		}
		require.Equal(t, 1.0, share, "table %d", n)
		require.Len(t, seen, len(codes), "table %d", n)
	}
}
