//go:build fit

package ear

import (
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"testing"
)

// fitDir is where songs and features are kept.
func fitDir() string {
	if d := os.Getenv("FIT_DIR"); d != "" {
		return d
	}
	return filepath.Join("..", "..", "out", "fit-ear")
}

// taught is one song of the training set.
type taught struct {
	id, kind    string
	bpm         float64
	beats, bars []float64 // bars nil where unknown
	turns       []float64 // starts of sections, without the first; nil where unknown
	features    *features
	real, check bool // a recording of people; one of the songs that are left out in turn
	compound    bool // beats of three
}

// madeSongs renders every song of the styles.
func madeSongs(t *testing.T) []*taught {
	var all []*madeSong
	for _, s := range styles {
		for i := range s.songs {
			m := makeSong(s, i)
			m.id = fmt.Sprintf("%s-%d", s.name, i)
			all = append(all, m)
		}
	}
	return side(all, func(m *madeSong) *taught {
		f := m.features(t, filepath.Join(fitDir(), "made"))
		return &taught{id: m.id, kind: m.kind, bpm: m.bpm, beats: m.beats, bars: m.bars, turns: m.turns, compound: m.compound, features: f}
	})
}

// side does the same to all, two at a time, and keeps the order.
func side[A, B any](in []A, do func(A) B) []B {
	out := make([]B, len(in))
	var wait sync.WaitGroup
	free := make(chan bool, 2)
	for i, a := range in {
		free <- true
		wait.Add(1)
		go func() { defer wait.Done(); out[i] = do(a); <-free }()
	}
	wait.Wait()
	return out
}
