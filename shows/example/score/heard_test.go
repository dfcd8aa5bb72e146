package score

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/audio"
	"emberbeat/audio/ear"
)

// The ear on the songs whose truth stands in their scores: whoever tries it on
// the example show sees it right.
func TestTheEarHearsTheSongs(t *testing.T) {
	found := 0.0
	for _, s := range Songs() {
		src, err := audio.Open("../show/audio/" + s.Slug + ".ogg")
		require.NoError(t, err)
		a, err := ear.Analyse(t.Context(), src, ear.Options{})
		require.NoError(t, err)
		require.NoError(t, src.Close())
		t.Logf("%s: %.2f bpm, %v, %+v, parts %v", s.Slug, a.BPM, a.Metre, a.Confidence, a.Parts)

		require.Equal(t, s.Metre.String(), a.Metre.String(), s.Slug)
		for i, tempo := range steadyTempi(s) {
			require.InDelta(t, tempo.bpm, a.Parts[i].BPM, 0.02, s.Slug)
			require.InDelta(t, tempo.from, a.Parts[i].From, 0.05+2*truthy(i == 0), s.Slug)
		}
		from := make([]float64, 0, len(s.Sections))
		for _, p := range s.Sections[1:] {
			from = append(from, inSeconds(p.From))
		}
		bar := inSeconds(s.Sections[len(s.Sections)-2].To-s.Sections[len(s.Sections)-2].From) / float64(s.Sections[len(s.Sections)-2].Bars)
		found += sectionF(from, a.Sections, 1.02*bar) / float64(len(Songs()))
	}
	require.GreaterOrEqual(t, found, 0.8, "starts of sections within a bar, F")
}

type tempoFrom struct{ bpm, from float64 }

// steadyTempi are the tempi that hold for eight bars or more.
func steadyTempi(s Song) []tempoFrom {
	var out []tempoFrom
	for i, a := range s.Anchors[:len(s.Anchors)-1] {
		if s.Anchors[i+1].At-a.At > 16*Second {
			out = append(out, tempoFrom{float64(a.Tempo), inSeconds(a.At)})
		}
	}
	return out
}

func inSeconds(t Tick) float64 { return float64(t) / float64(Second) }

func truthy(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// sectionF is the F-measure of the starts of sections, the first left out.
func sectionF(from []float64, heard []ear.Section, window float64) float64 {
	hits := 0
	for _, f := range from {
		for _, h := range heard[1:] {
			if math.Abs(h.From-f) <= window {
				hits++
				break
			}
		}
	}
	return 2 * float64(hits) / float64(len(from)+len(heard)-1)
}
