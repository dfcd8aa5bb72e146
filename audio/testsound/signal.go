package testsound

import (
	"math"
	"math/rand/v2"
	"path/filepath"
	"testing"

	"emberbeat/audio"

	"github.com/stretchr/testify/require"
)

// Noise is noise that is the same for the same seed.
func Noise(n int, seed uint64) []int16 {
	r := rand.New(rand.NewPCG(seed, 1))
	list := make([]int16, n)
	for i := range list {
		list[i] = int16(r.Uint32())
	}
	return list
}

// Floats is samples at full scale ±1.
func Floats(samples []int16) []float32 {
	list := make([]float32, len(samples))
	for i, v := range samples {
		list[i] = float32(v) / (1 << 15)
	}
	return list
}

// ClickTimes are the frames where the clicks of a clicked signal begin: at odd
// places, also near both ends.
func ClickTimes(frames int) []int {
	times := []int{100}
	for at := 5003; at < frames-2000; at += 7919 {
		times = append(times, at)
	}
	return append(times, frames-700)
}

// clicked is a quiet tone with clicks, each a burst of 2 kHz that dies away in
// some milliseconds. Channels differ in level.
func clicked(rate, channels, frames int) []int16 {
	list := make([]int16, frames*channels)
	put := func(frame int, v float64) {
		for c := range channels {
			s := &list[frame*channels+c]
			*s = audio.ToPCM(float32(float64(*s)/(1<<15) + v/float64(1+c)))
		}
	}
	for i := range frames {
		put(i, 0.02*math.Sin(2*math.Pi*330*float64(i)/float64(rate)))
	}
	for _, at := range ClickTimes(frames) {
		for i := range min(rate/50, frames-at) {
			s := float64(i) / float64(rate)
			put(at+i, 0.6*math.Exp(-s*400)*math.Cos(2*math.Pi*2000*s))
		}
	}
	return list
}

// WriteClicked writes a clicked signal of that many frames as a WAV file.
func WriteClicked(t testing.TB, rate, channels, frames int) (path string, samples []int16) {
	t.Helper()
	path = filepath.Join(t.TempDir(), "clicked.wav")
	samples = clicked(rate, channels, frames)
	require.NoError(t, WriteWAV16(path, rate, channels, samples))
	return path, samples
}

// Lag is how many frames later than in want the sound around frame at comes in
// got, of the first channel, by correlation.
func Lag(want []int16, got []float32, channels, at int) int {
	best, top := 0, math.Inf(-1)
	for shift := -60; shift <= 60; shift++ {
		var sum float64
		for i := at - 20; i < at+200; i++ {
			j := i + shift
			if i >= 0 && j >= 0 && i*channels < len(want) && j*channels < len(got) {
				sum += float64(want[i*channels]) * float64(got[j*channels])
			}
		}
		if sum > top {
			best, top = shift, sum
		}
	}
	return best
}

// RequireClicks demands that all clicks of a clicked signal are in place.
func RequireClicks(t testing.TB, want []int16, got []float32, channels int) {
	t.Helper()
	require.Equal(t, len(want), len(got), "length")
	for _, at := range ClickTimes(len(want) / channels) {
		require.InDelta(t, 0, Lag(want, got, channels, at), 1, "click at frame %d", at)
	}
}
