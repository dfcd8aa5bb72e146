//go:build fit

package ear

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/audio"
)

// checkSongs loads the development set that eval-ear makes: EARS_DATA/audio/ID.wav
// with EARS_DATA/truth/ID.json.
func checkSongs(t *testing.T) []*taught {
	dir := os.Getenv("EARS_DATA")
	if dir == "" {
		dir = filepath.Join("..", "..", "out", "ears")
	}
	files, err := filepath.Glob(filepath.Join(dir, "truth", "*.json"))
	require.NoError(t, err)
	require.NotEmpty(t, files, "no songs in %s: make eval-ear makes them", dir)
	return side(files, func(file string) *taught {
		id := strings.TrimSuffix(filepath.Base(file), ".json")
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		var truth struct {
			Beats, Downbeats []float64
			BPM              float64
			Kind             string
		}
		require.NoError(t, json.Unmarshal(text, &truth))
		f := cachedFeatures(t, filepath.Join(fitDir(), "check", id+".gob"), func() audio.Source {
			src, err := audio.Open(filepath.Join(dir, "audio", id+".wav"))
			require.NoError(t, err)
			t.Cleanup(func() { src.Close() })
			return src
		})
		return &taught{id: id, kind: truth.Kind, bpm: truth.BPM, beats: truth.Beats, bars: truth.Downbeats, features: f, check: true, real: truth.Kind == "real"}
	})
}

const hitWindow = 0.070 // s, of the beat F-measure; the first 5 s are left out, as is usual

// fScore is the F-measure of sorted times.
func fScore(ref, est []float64, window float64) float64 {
	ref, est = late(ref), late(est)
	n := 0
	for i, j := 0, 0; i < len(ref) && j < len(est); {
		switch {
		case math.Abs(ref[i]-est[j]) <= window:
			n, i, j = n+1, i+1, j+1
		case ref[i] < est[j]:
			i++
		default:
			j++
		}
	}
	if n == 0 {
		return 0
	}
	return 2 * float64(n) / float64(len(ref)+len(est))
}

func late(v []float64) []float64 {
	i, _ := slices.BinarySearch(v, 5)
	return v[i:]
}

// close is how near hits lie to the truth on average: 1 at the same time, .6 at 20 ms.
func closeness(ref, est []float64) float64 {
	sum, n := 0.0, 0.0
	for _, r := range late(ref) {
		i, _ := slices.BinarySearch(est, r)
		d := math.Inf(1)
		for j := max(0, i-1); j < min(len(est), i+1); j++ {
			d = min(d, math.Abs(est[j]-r))
		}
		if d < hitWindow {
			n++
			sum += math.Exp(-d * d / (2 * 0.020 * 0.020))
		}
	}
	return sum / max(1, n)
}

// beatChoice lists the readings of a song; nil if it has no pulse.
func beatChoice(s *taught) *choice {
	ons := s.features.findOnsets()
	h := &hearing{features: s.features, onsets: ons}
	pulses := times(findParts(h.track(), ons, s.features.duration))
	if len(pulses) < leastBeats {
		return nil
	}
	c := &choice{song: s}
	k := newTicks(s.features, pulses, firstStrong(ons))
	for _, r := range k.readings(strong(ons)) {
		var est []float64
		for i := r.phase; i < len(k.at); i += r.cycle {
			est = append(est, k.at[i])
		}
		c.x, c.bpm = append(c.x, r.x), append(c.bpm, r.bpm)
		c.y = append(c.y, fScore(s.beats, est, hitWindow)*closeness(s.beats, est))
	}
	if len(c.x) == 0 {
		return nil
	}
	return c
}

// barChoice lists the barrings of a song over its true beats; nil if the bars
// are not known.
func barChoice(s *taught) *choice {
	if len(s.bars) == 0 || len(s.beats) < 20 {
		return nil
	}
	b := newBeatFacts(s.features, s.beats, firstStrong(s.features.findOnsets()))
	c := &choice{song: s}
	for _, r := range b.barrings() {
		var est []float64
		for i := r.phase; i < len(s.beats); i += r.beats {
			est = append(est, s.beats[i])
		}
		c.x, c.bpm = append(c.x, r.x), append(c.bpm, float64(r.beats))
		c.y = append(c.y, fScore(s.bars, est, hitWindow))
	}
	return c
}
