package score

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"testing"

	gowav "github.com/go-audio/wav"
	"github.com/stretchr/testify/require"
)

func smallSong(t *testing.T) Song {
	s, err := Parse(small)
	require.NoError(t, err)
	return s
}

func TestRenderRepeats(t *testing.T) {
	s := smallSong(t)
	require.Equal(t, Render(s), Render(s))
}

func TestRenderKeepsLengthAndSilence(t *testing.T) {
	s := smallSong(t)
	x := Render(s)
	require.Len(t, x, 2*s.Length.Sample())
	lead := 2 * (s.Anchors[0].At.Sample() - lookAhead)
	require.Equal(t, make([]int16, lead), x[:lead])
	require.NotZero(t, x[2*s.Anchors[0].At.Sample()+40])
}

// However loud the strips are, no sample passes the ceiling.
func TestRenderStaysBelowCeiling(t *testing.T) {
	s := smallSong(t)
	s.chart.gain = 24
	loudest := 0.0
	for _, v := range Render(s) {
		loudest = max(loudest, math.Abs(float64(v))/math.MaxInt16)
	}
	require.LessOrEqual(t, loudest, ceiling+1.0/math.MaxInt16)
	require.Greater(t, loudest, 0.9*ceiling)
}

// Every drum is loudest right where it is struck: half of its highest peak is
// reached within three milliseconds.
func TestDrumsStrikeAtOnce(t *testing.T) {
	for name, ins := range instruments {
		if !ins.drum() {
			continue
		}
		t.Run(name, func(t *testing.T) {
			x := ins.voice(note{keys: []key{ins.base}, force: 1, seed: 7}).left
			// A low drop takes a quarter of its period to swell.
			limit := 0.003
			if name == "boom" {
				limit = 0.006
			}
			require.Less(t, float64(firstAbove(x, 0.5*loudest(x)))/SampleRate, limit)
		})
	}
}

func loudest(x []float64) float64 {
	m := 0.0
	for _, v := range x {
		m = max(m, math.Abs(v))
	}
	return m
}

func firstAbove(x []float64, level float64) int {
	for i, v := range x {
		if math.Abs(v) >= level {
			return i
		}
	}
	return len(x)
}

// Equal temperament with A4 at 440 Hz, ISO 16:1975 (number from memory): E2 is
// 82.407 Hz. A string must be in tune within five cents.
func TestPluckIsInTune(t *testing.T) {
	for _, k := range []key{28, 40, 52, 64, 76} {
		p := newPluck(k.hertz(), 0.3, 4, 1)
		x := make([]float64, SampleRate/2)
		for i := range x {
			x[i] = p.step()
		}
		cents := 1200 * math.Log2(frequency(x, k.hertz())/k.hertz())
		require.InDelta(t, 0, cents, 5, "key %d", k)
	}
	require.InDelta(t, 82.407, key(40).hertz(), 0.001)
}

// frequency finds the strongest frequency within half a semitone of a guess by
// trying steps of a cent.
func frequency(x []float64, guess float64) float64 {
	best, at := 0.0, 0.0
	for cents := -50.0; cents <= 50; cents++ {
		h := guess * math.Exp2(cents/1200)
		var re, im float64
		for i, v := range x {
			window := 1 - math.Cos(2*math.Pi*float64(i)/float64(len(x)))
			s, c := math.Sincos(2 * math.Pi * h / SampleRate * float64(i))
			re, im = re+window*v*c, im+window*v*s
		}
		if power := re*re + im*im; power > best {
			best, at = power, h
		}
	}
	return at
}

// The file must be what another reader of WAV takes it for.
func TestWriteWAV(t *testing.T) {
	want := []int16{0, 1, -1, math.MaxInt16, math.MinInt16, 12345}
	var b bytes.Buffer
	require.NoError(t, WriteWAV(&b, want))
	path := filepath.Join(t.TempDir(), "x.wav")
	require.NoError(t, os.WriteFile(path, b.Bytes(), 0o600))
	f, err := os.Open(path)
	require.NoError(t, err)
	defer f.Close()
	d := gowav.NewDecoder(f)
	buffer, err := d.FullPCMBuffer()
	require.NoError(t, err)
	require.Equal(t, SampleRate, buffer.Format.SampleRate)
	require.Equal(t, 2, buffer.Format.NumChannels)
	require.EqualValues(t, 16, d.BitDepth)
	var got []int16
	for _, v := range buffer.Data {
		got = append(got, int16(v))
	}
	require.Equal(t, want, got)
}

func TestWriteWAVRefusesHalfAPair(t *testing.T) {
	require.ErrorContains(t, WriteWAV(&bytes.Buffer{}, []int16{1}), "whole stereo pairs")
}

func BenchmarkRender(b *testing.B) {
	s, err := Parse(small)
	require.NoError(b, err)
	for b.Loop() {
		Render(s)
	}
}
