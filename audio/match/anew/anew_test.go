package anew_test

import (
	"context"
	"math"
	"math/rand/v2"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/audio/match/anew"
	"emberbeat/timeline/testtool"
)

// verdict counts what became of cues on every half beat of the old recording, and
// at a chance place after each.
type verdict struct{ here, near, close, wrong, lost, gone, found int }

const (
	sureEnough = 0.8  // what stands without a look
	seamBeats  = 1.0  // around a seam nothing is asked
	rightBeat  = 0.07 // s
)

func judge(old, new *recording, runs []anew.Run, seed uint64) (v verdict) {
	r := rand.New(rand.NewPCG(seed, 5))
	for b := seamBeats; b < float64(len(old.beats)-1)-seamBeats; b += 0.5 {
		for _, beat := range []float64{b, b + 0.5*r.Float64()} {
			in := math.Mod(beat, sectionBeats)
			if in < seamBeats || in > sectionBeats-seamBeats {
				continue
			}
			var true_ []float64
			for k, section := range new.order {
				if section == old.order[int(beat)/sectionBeats] {
					true_ = append(true_, new.at(float64(k*sectionBeats)+in))
				}
			}
			v.count(carried(runs, old.at(beat)), true_)
		}
	}
	return v
}

// carried gives where the surest run that holds an old time has it now, and how
// sure; below 0 where none does.
func carried(runs []anew.Run, at float64) (place [2]float64) {
	place[1] = -1
	for _, r := range runs {
		if r.Old <= at && at <= r.Old+r.Length*r.Rate && r.Sure > place[1] {
			place = [2]float64{r.New + (at-r.Old)/r.Rate, r.Sure}
		}
	}
	return place
}

func (v *verdict) count(place [2]float64, want []float64) {
	if len(want) == 0 {
		if v.gone++; place[1] >= sureEnough {
			v.found++
		}
		return
	}
	v.here++
	off := math.Inf(1)
	for _, w := range want {
		off = min(off, math.Abs(w-place[0]))
	}
	switch {
	case place[1] < 0:
		v.lost++
	case off <= 0.02:
		v.near++
		v.close++
	case off <= rightBeat:
		v.close++
	case place[1] >= sureEnough:
		v.wrong++
	}
}

func share(n, of int) float64 { return 100 * float64(n) / float64(max(1, of)) }

// the old recording of most tests
var asWritten = sync.OnceValue(func() *recording {
	return newSong(3, 5).play(band{order: []int{0, 1, 2, 3, 4}, bpm: 118, sounds: 1, lead: 0.4})
})

func TestSongPlayedAnew(t *testing.T) {
	drift := func(beat float64) float64 { return 1 + 0.03*math.Sin(beat/9) }
	twoTempi := func(beat float64) float64 {
		if beat < 37 {
			return 1
		}
		return 0.93
	}
	for _, c := range []struct {
		name string
		band band
		near float64 // per cent within 20 ms, at least
	}{
		{"other sounds", band{order: []int{0, 1, 2, 3, 4}, bpm: 118, sounds: 2}, 95},
		{"faster and higher", band{order: []int{0, 1, 2, 3, 4}, bpm: 129, key: 3, sounds: 3, lead: 1.3}, 95},
		{"two tempi", band{order: []int{0, 1, 2, 3, 4}, bpm: 124, change: twoTempi, sounds: 5}, 95},
		{"one cut, one repeated", band{order: []int{0, 1, 1, 3, 4}, bpm: 118, sounds: 6}, 95},
		{"another order", band{order: []int{0, 3, 1, 2, 4}, bpm: 114, key: 1, sounds: 7}, 95},
		{"lower at first, then higher", band{order: []int{0, 1, 2, 3, 4}, bpm: 121, lift: []int{-3, -3, 1, 1, 1}, sounds: 3}, 95},
		{"live", band{order: []int{0, 1, 3, 4}, bpm: 121, change: drift, sounds: 8, loose: 0.015, noise: 0.25, lead: 5}, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := newSong(3, 5)
			old, new := asWritten(), s.play(c.band)
			runs, err := anew.Find(t.Context(), old.heard, new.heard, nil)
			require.NoError(t, err)
			wellFormed(t, runs, old, new)
			v := judge(old, new, runs, 1)
			require.GreaterOrEqual(t, share(v.near, v.here), c.near, "%+v", v)
			require.GreaterOrEqual(t, share(v.close, v.here), 95.0, "%+v", v)
			require.LessOrEqual(t, share(v.wrong+v.found, v.here+v.gone), 2.0, "%+v", v)
		})
	}
}

// wellFormed says that runs lie in both recordings, in the order of the new one, none over another.
func wellFormed(t *testing.T, runs []anew.Run, old, new *recording) {
	t.Helper()
	at := 0.0
	for _, r := range runs {
		require.Positive(t, r.Length)
		require.Positive(t, r.Rate)
		require.GreaterOrEqual(t, r.New, at-1e-6)
		require.GreaterOrEqual(t, r.Old, -1e-6)
		require.LessOrEqual(t, r.Old+r.Length*r.Rate, old.seconds()+1e-3)
		require.True(t, r.Sure > 0 && r.Sure <= 1)
		at = r.New + r.Length
		require.LessOrEqual(t, at, new.seconds()+1e-3)
	}
}

// Songs by one hand, at one speed and with the same instruments, are still other songs.
func TestOtherSongsGiveNothing(t *testing.T) {
	var all []*recording
	for seed := range uint64(3) {
		all = append(all, newSong(100+seed, 5).play(band{order: []int{0, 1, 2, 3, 4}, bpm: 118 + 3*float64(seed%2), sounds: 9}))
	}
	for i, old := range all {
		for j, new := range all {
			if i != j {
				runs, err := anew.Find(t.Context(), old.heard, new.heard, nil)
				require.NoError(t, err)
				require.Empty(t, runs, "song %d in song %d", i, j)
			}
		}
	}
}

func TestNothingToCompareGivesNothing(t *testing.T) {
	whole := asWritten()
	r := testtool.Random(t, 0)
	noise := make([]float32, 30*testRate)
	for i := range noise {
		noise[i] = float32(0.2 * r.NormFloat64())
	}
	for name, x := range map[string][]float32{
		"nothing": nil, "a sample": {0.5}, "silence": make([]float32, 30*testRate), "noise": noise,
	} {
		other := anew.Hear(x, testRate)
		for _, pair := range [][2]*anew.Sound{{whole.heard, other}, {other, whole.heard}} {
			runs, err := anew.Find(t.Context(), pair[0], pair[1], nil)
			require.NoError(t, err, name)
			require.Empty(t, runs, name)
		}
	}
}

// What is known stands: nothing is said of the new recording where a fixed run is, and
// what goes on from it is found.
func TestKnownRunsStand(t *testing.T) {
	s := newSong(3, 5)
	old, new := asWritten(), s.play(band{order: []int{0, 1, 2, 3, 4}, bpm: 118, sounds: 2})
	fixed := []anew.Run{{Old: old.at(16), New: new.at(16), Length: new.at(32) - new.at(16), Rate: 1, Sure: 1}}
	runs, err := anew.Find(t.Context(), old.heard, new.heard, fixed)
	require.NoError(t, err)
	for _, r := range runs {
		require.True(t, r.New+r.Length <= new.at(16)+1e-6 || r.New >= new.at(32)-1e-6, "%+v", r)
	}
	v := judge(old, new, append(runs, fixed...), 1)
	require.GreaterOrEqual(t, share(v.near, v.here), 95.0, "%+v", v)
}

func TestCancelled(t *testing.T) {
	r := asWritten()
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	_, err := anew.Find(ctx, r.heard, r.heard, nil)
	require.ErrorIs(t, err, context.Canceled)
}

func TestComparable(t *testing.T) {
	require.True(t, anew.Comparable(240, 240))
	require.True(t, anew.Comparable(240, 1740))
	require.False(t, anew.Comparable(7200, 240))
}
