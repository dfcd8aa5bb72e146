package ltc_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/audio/ltc"
	"emberbeat/timeline"
)

// interleave puts channels side by side, as long as the longest.
func interleave(channels ...[]float32) []float32 {
	longest := 0
	for _, c := range channels {
		longest = max(longest, len(c))
	}
	out := make([]float32, longest*len(channels))
	for n, c := range channels {
		for i, v := range c {
			out[i*len(channels)+n] = v
		}
	}
	return out
}

// Timecode is found on the channel that holds it, with the timecode at which the
// recording begins; music and noise hold none.
func TestFinderFindsTheChannel(t *testing.T) {
	const rate = 48000
	random := rand.New(rand.NewPCG(1, 2))
	music, noise := make([]float32, 4*rate), make([]float32, 4*rate)
	for i := range music {
		music[i] = float32(0.5 * math.Sin(float64(i)*0.05))
		noise[i] = float32(random.NormFloat64() / 4)
	}
	for _, c := range []struct {
		rate   timeline.Rate
		first  string
		silent int // samples before it
		start  string
	}{
		{timeline.Rate25, "01:00:00:00", 0, "01:00:00:00"},
		{timeline.Rate25, "01:00:00:00", rate, "00:59:59:00"},
		{timeline.Rate2997DF, "02:00:00;00", 0, "02:00:00;00"},
		{timeline.Rate30, "00:00:00:10", rate, ""},
	} {
		code := append(make([]float32, c.silent), sound(t, stripe(c.rate, rate, label(t, c.rate, c.first), 50))...)
		for i := range code {
			code[i] += float32(random.NormFloat64() * 0.05) // a poor tape: 14 dB between them
		}
		f := ltc.NewFinder(rate, 3)
		frames := interleave(music, code, noise)
		for len(frames) > 0 {
			n := min(len(frames), 3*1001)
			require.NoError(t, f.Write(frames[:n]))
			frames = frames[n:]
		}
		found := f.Close()
		require.Len(t, found, 1, c.first)
		require.Equal(t, 2, found[0].Channel)
		start, ok := found[0].Start()
		require.Equal(t, c.start != "", ok)
		if ok {
			frame, err := c.rate.Frame(start)
			require.NoError(t, err)
			require.Equal(t, label(t, c.rate, c.start), frame)
		}
		require.Contains(t, found[0].String(), "channel 2 holds timecode at "+c.rate.String())
	}
}

// What is played are the wanted channels, all by default, and timecode never.
func TestTimecodeIsNeverHeard(t *testing.T) {
	code := []ltc.Found{{Channel: 2}}
	for _, c := range []struct {
		channels int
		wanted   []int
		found    []ltc.Found
		heard    []int
	}{
		{2, nil, nil, []int{1, 2}},
		{2, nil, code, []int{1}},
		{4, []int{3, 4}, nil, []int{3, 4}},
		{4, []int{2, 3, 9}, code, []int{3}},
		{2, []int{2}, code, nil},
		{1, nil, []ltc.Found{{Channel: 1}}, nil},
	} {
		require.Equal(t, c.heard, ltc.Heard(c.channels, c.wanted, c.found), "%v", c)
	}
}
