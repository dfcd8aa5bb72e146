package match

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/audio"
)

// pink is noise that falls off towards the heights, as music does.
func pink(n int, seed uint64) []float32 {
	r := rand.New(rand.NewPCG(seed, 0))
	x := make([]float32, n)
	low := 0.0
	for i := range x {
		low = 0.8*low + 0.1*r.NormFloat64()
		x[i] = float32(low)
	}
	return x
}

// A recording longer than what is kept whole is thinned as it comes, and compared
// with a short one all the same, as exactly.
func TestThinnedRecordings(t *testing.T) {
	const rate = 11025
	in := audio.Info{Rate: rate, Channels: 1}
	side := func(x []float32, full int) *Side {
		r, err := NewReader(in, nil)
		require.NoError(t, err)
		if full > 0 {
			r.full = full
		}
		for len(x) > 0 {
			n := min(5000, len(x))
			require.NoError(t, r.Write(x[:n]))
			x = x[n:]
		}
		return r.Finish()
	}
	song := pink(20*rate, 1)
	long := append(append(pink(25*rate+1234, 2), song...), pink(15*rate, 3)...)
	for _, full := range []int{0, 30 * rate, 8 * rate} { // whole, thinned once, thinned twice
		s := side(long, full)
		thinned := map[int]int{0: 1, 30 * rate: 3, 8 * rate: 9}[full]
		require.Equal(t, matchRate/thinned, s.Rate)
		require.InDelta(t, float64(len(long))/rate, float64(len(s.Mono))/float64(s.Rate), 0.001)
		runs, err := sameSound(context.Background(), side(song, 0), s)
		require.NoError(t, err)
		require.Len(t, runs, 1)
		require.True(t, runs[0].exact)
		require.InDelta(t, 25+1234./rate, runs[0].new-runs[0].old, 0.0001)
		require.InDelta(t, 20, runs[0].length, 0.05)
	}
}

// The level that is looked up is the one that the logarithm gives.
func TestLevelIsTheLogarithm(t *testing.T) {
	const full = frameSize * frameSize / 16
	require.Equal(t, uint8(0), level(0))
	for exact, rest := -10., 0.; exact < 270; exact += 0.01 {
		power := float32((math.Pow(10, (exact/2-107)/10) - 1e-12) * full)
		if power < 0 {
			continue
		}
		want := math.Floor(min(255, max(0, exact+0.5)))
		if _, rest = math.Modf(exact + 0.5); rest < 1e-3 || rest > 1-1e-3 {
			continue // on the very border of two
		}
		require.Equal(t, uint8(want), level(power), "%g: %g", exact, power)
	}
}

// What was read again to be compared is the same sound with the same spectrum.
func TestSoundReadAgain(t *testing.T) {
	const rate = 48000
	song := pink(12*rate, 4)
	sides := [2]*Side{}
	for i := range sides {
		r, err := NewReader(audio.Info{Rate: rate, Channels: 1}, nil)
		require.NoError(t, err)
		r.again = i > 0
		require.NoError(t, r.Write(song))
		sides[i] = r.Finish()
	}
	require.NotEmpty(t, sides[0].marks)
	require.Empty(t, sides[1].marks)
	require.Empty(t, sides[1].chroma)
	require.Equal(t, sides[0].Mono, sides[1].Mono)
	require.Equal(t, sides[0].bands, sides[1].bands)
}
