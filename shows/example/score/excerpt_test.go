package score

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/audio"
)

// The synthesiser as it is now must make the encoded sound: the first seconds
// of each song are played again and compared. Rendering whole songs would be
// the same test at ten times the price.
func TestEncodedFilesAreOfThisSynthesiser(t *testing.T) {
	const seconds = 7
	for _, s := range Songs() {
		t.Run(s.Slug, func(t *testing.T) {
			t.Parallel()
			// The end of an excerpt is faded.
			want := Render(beginning(s, (seconds+1)*Second))[:2*seconds*SampleRate]
			got := firstSamples(t, "../show/audio/"+s.Slug+".ogg", len(want))
			var signal, fault float64
			for i, v := range want {
				d := float64(v) - float64(got[i])*math.MaxInt16
				signal += float64(v) * float64(v)
				fault += d * d
			}
			// The codec's own error at this quality leaves 12 dB or more.
			require.Greater(t, 10*math.Log10(signal/fault), 10.0, "run make songs")
		})
	}
}

// beginning cuts a song short.
func beginning(s Song, end Tick) Song {
	var notes []note
	for _, n := range s.notes {
		if n.at < end {
			notes = append(notes, n)
		}
	}
	s.notes, s.Length = notes, end
	return s
}

func firstSamples(t *testing.T, path string, count int) []float32 {
	src, err := audio.Open(path)
	require.NoError(t, err)
	defer src.Close()
	x := make([]float32, count)
	for at := 0; at < count; {
		n, err := src.Read(x[at:])
		require.NoError(t, err)
		at += 2 * n
	}
	return x
}
