package score_test

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/jfreymuth/oggvorbis"
	"github.com/stretchr/testify/require"

	"emberbeat/audio"
	"emberbeat/shows/example/score"
)

const encodedFolder = "../show/audio"

func encodedPath(s score.Song) string { return filepath.Join(encodedFolder, s.Slug+".ogg") }

// The files are made from the texts as they are now.
func TestEncodedFilesAreOfThisScore(t *testing.T) {
	for _, s := range score.Songs() {
		f, err := os.Open(encodedPath(s))
		require.NoError(t, err)
		defer f.Close()
		r, err := oggvorbis.NewReader(f)
		require.NoError(t, err)
		comments := r.CommentHeader().Comments
		require.Contains(t, comments, "SCORE="+s.Digest, "%s was changed: run make songs", s.Slug)
		require.Contains(t, comments, "title="+s.Title)
	}
}

// One decoding serves all checks of a song.
func TestEncodedFilesAgreeWithTruth(t *testing.T) {
	for _, s := range score.Songs() {
		t.Run(s.Slug, func(t *testing.T) {
			t.Parallel()
			pcm, err := audio.Decode(context.Background(), encodedPath(s), nil)
			require.NoError(t, err)
			require.Equal(t, score.SampleRate, pcm.Rate)
			require.EqualValues(t, s.Length.Sample(), pcm.Frames())
			x := middle(pcm)
			requirePeak(t, x)
			rise := rises(x)
			requireStopsEnd(t, s, rise)
			requireDrumsInPlace(t, s, rise)
		})
	}
}

// middle gives the mean of both sides, full scale 1.
func middle(p *audio.PCM) []float64 {
	x := make([]float64, p.Frames())
	for i := range x {
		x[i] = (float64(p.Samples[2*i]) + float64(p.Samples[2*i+1])) / (2 << 15)
	}
	return x
}

func requirePeak(t *testing.T, x []float64) {
	peak := max(slices.Max(x), -slices.Min(x))
	require.Less(t, 20*math.Log10(peak), -1.0)
	require.Greater(t, 20*math.Log10(peak), -6.0)
}

// After a stop, and at the first beat, the steepest rise within 25 ms must be
// where the band comes in, within 4 ms. What rang into the stop may still be
// loud, so that level alone would not tell.
func requireStopsEnd(t *testing.T, s score.Song, rise []float64) {
	const reach, slack = 25, 4
	starts := []score.Tick{s.Anchors[0].At}
	for _, stop := range s.Stops {
		starts = append(starts, stop.To)
	}
	for _, at := range starts {
		n := nearestMillisecond(at)
		around := rise[n-reach : n+reach+1]
		steepest := slices.Index(around, slices.Max(around)) - reach
		require.InDelta(t, 0, steepest, slack, "start at %.3f s", at.Seconds())
	}
}

func nearestMillisecond(t score.Tick) int { return int(1000*t.Seconds() + 0.5) }

// Moved against the sound, the kicks and snares of each section must fit best
// where the score has them, within two milliseconds.
func requireDrumsInPlace(t *testing.T, s score.Song, rise []float64) {
	const enough = 8
	for _, section := range s.Sections {
		var hits []int
		for _, h := range s.Hits {
			if h.At >= section.From && h.At < section.To && h.Force > 1 && (h.Drum == "kick" || h.Drum == "snare") {
				hits = append(hits, nearestMillisecond(h.At))
			}
		}
		if len(hits) < enough {
			continue
		}
		require.InDelta(t, 0, bestShift(rise, hits), 2, "%s, %d hits", section.Name, len(hits))
	}
}

// rises gives, for each millisecond, how much louder the next 3 ms are than
// the 8 ms before, in nats, on the first difference of the signal.
func rises(x []float64) []float64 {
	width := score.SampleRate / 1000.0
	energy := make([]float64, int(float64(len(x))/width)-1)
	for i := range energy {
		for j := int(float64(i) * width); j < int(float64(i+1)*width); j++ {
			d := x[j+1] - x[j]
			energy[i] += d * d
		}
	}
	rise := make([]float64, len(energy))
	for i := 8; i+3 < len(energy); i++ {
		rise[i] = max(0, math.Log((mean(energy[i:i+3])+1e-7)/(mean(energy[i-8:i])+1e-7)))
	}
	return rise
}

func mean(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}

// bestShift gives the milliseconds by which the hits must move to meet the
// most rise, within a fifteenth of a second.
func bestShift(rise []float64, hits []int) int {
	best, at := 0.0, math.MaxInt
	for shift := -66; shift <= 66; shift++ {
		sum := 0.0
		for _, h := range hits {
			if i := h + shift; i >= 0 && i < len(rise) {
				sum += rise[i]
			}
		}
		if sum > best {
			best, at = sum, shift
		}
	}
	return at
}
