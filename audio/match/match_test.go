package match_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/audio"
	"emberbeat/audio/match"
	"emberbeat/timeline"
	"emberbeat/timeline/testtool"
)

// truth says that the old recording from old on is in the new one from new on.
type truth struct{ old, new, length, rate float64 }

// follows asks a map for cues every so often that are not close to where
// something was parted: at least share of them are within a distance of a true
// place, and none is more than 70 ms from all of them without being flagged.
func follows(t *testing.T, m *timeline.TimeMap, pieces []truth, within, share float64) {
	t.Helper()
	good, all := 0, 0
	for at := 0.2; at < m.Old.Seconds(); at += 0.37 {
		var places []float64
		near := false
		for _, p := range pieces {
			end := p.old + p.length*p.rate
			near = near || math.Abs(at-p.old) < 0.1 || math.Abs(at-end) < 0.1
			if at >= p.old && at < end {
				places = append(places, p.new+(at-p.old)/p.rate)
			}
		}
		got := m.Places(timeline.FromSeconds(at))
		if near {
			continue
		}
		if len(places) == 0 {
			for _, g := range got {
				require.Less(t, m.Runs[g.Run].Sure, timeline.LeastSure, "%.3f s was cut out, and is at %s", at, g.At)
			}
			continue
		}
		all++
		best := math.Inf(1)
		for _, g := range got {
			off := math.Inf(1)
			for _, p := range places {
				off = min(off, math.Abs(g.At.Seconds()-p))
			}
			if m.Runs[g.Run].Sure >= timeline.LeastSure {
				require.Less(t, off, 0.070, "%.3f s is at %v and not at %s", at, places, g.At)
			}
			best = min(best, off)
		}
		if best <= within {
			good++
		}
	}
	require.Positive(t, all)
	require.GreaterOrEqual(t, float64(good), share*float64(all), "of %d cues, %d within %v s; runs %v", all, good, within, m.Runs)
}

// parted asks for a run's end within 25 ms of each cut.
func parted(t *testing.T, m *timeline.TimeMap, seams ...float64) {
	t.Helper()
	for _, s := range seams {
		best := math.Inf(1)
		for _, r := range m.Runs {
			best = min(best, math.Abs(r.New.Seconds()-s), math.Abs(r.NewEnd.Seconds()-s))
		}
		require.Less(t, best, 0.025, "cut at %.3f s: %v", s, m.Runs)
	}
}

func exact(t *testing.T, m *timeline.TimeMap) {
	t.Helper()
	for _, r := range m.Runs {
		require.True(t, r.Exact, r.String())
		require.GreaterOrEqual(t, r.Sure, timeline.LeastSure, r.String())
	}
}

// One recording, cut, repeated and with another song put in, as it may arrive.
func TestSameRecordingEdited(t *testing.T) {
	s, other := songs["kettle-lightning"](), songs["tidewater-engine"]()
	edited := joined(s.from(0, 14.2), s.from(21.9, 40.4), s.from(33.1, 52), other.from(30, 36), s.from(52, 60))
	pieces := []truth{{0, 0, 14.2, 1}, {21.9, 14.2, 18.5, 1}, {33.1, 32.7, 18.9, 1}, {52, 57.6, 8, 1}}
	seams := []float64{14.2, 32.7, 51.6, 57.6}
	for name, new := range map[string]sound{
		"plain":           edited,
		"quiet, inverted": edited.times(-0.2),
		"noise at -20 dB": edited.noisy(20, 1),
		"pushed":          edited.clipped(3),
		"mono":            edited.mono(),
		"48 kHz":          edited.from(0, 40).played(44100./48000, 48000),
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			m := compared(t, s.from(0, 60), new)
			pieces, seams := pieces, seams
			if new.rate == 48000 {
				pieces, seams = []truth{pieces[0], pieces[1], {33.1, 32.7, 7.3, 1}}, seams[:2]
			}
			exact(t, m)
			follows(t, m, pieces, 0.001, 0.995)
			parted(t, m, seams...)
		})
	}
}

// Parts in another order, with silence between and a piece cut from both ends.
func TestSameRecordingReordered(t *testing.T) {
	s := songs["tidewater-engine"]()
	silence := s.from(0, 4).times(0)
	new := joined(s.from(4.3, 20), s.from(37.2, 50.1), s.from(20, 37.2), silence, s.from(50.1, 58))
	m := compared(t, s, new)
	exact(t, m)
	follows(t, m, []truth{{4.3, 0, 15.7, 1}, {37.2, 15.7, 12.9, 1}, {20, 28.6, 17.2, 1}, {50.1, 49.8, 7.9, 1}}, 0.001, 0.995)
	parted(t, m, 15.7, 28.6, 45.8)
}

// Faster as a tape is: exact all the same, for the waveform is there.
func TestFaster(t *testing.T) {
	s := songs["kettle-lightning"]().from(5, 35).mono().played(2, 22050)
	m := compared(t, s, s.played(1.031, s.rate))
	exact(t, m)
	follows(t, m, []truth{{0, 0, 30 / 1.031, 1.031}}, 0.001, 0.995)
}

// Stretched, and in another key: matched and not exact.
func TestStretchedAndTransposed(t *testing.T) {
	s := songs["kettle-lightning"]().from(0, 30).mono().played(2, 22050)
	for _, c := range []struct {
		name         string
		rate, higher float64
	}{{"slower", 0.957, 1}, {"faster", 1.043, 1}, {"two semitones down", 1, math.Exp2(-2. / 12)}, {"three up and slower", 0.98, math.Exp2(3. / 12)}} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			m := compared(t, s, s.stretched(c.rate/c.higher).played(c.higher, s.rate))
			for _, r := range m.Runs {
				require.False(t, r.Exact, r.String())
			}
			follows(t, m, []truth{{0, 0, 30 / c.rate, c.rate}}, 0.015, 0.97)
		})
	}
}

// Random edits of a recording: what is called exact is the same sound, and
// nearly all of the new recording is.
func TestExactIsTheSameSound(t *testing.T) {
	s := songs["tidewater-engine"]().from(0, 60).mono()
	for walk := range 6 {
		r := testtool.Random(t, uint64(walk))
		var parts []sound
		did := ""
		for len(parts) < 2+walk%4 {
			from, length := r.Float64()*44, 4+r.Float64()*12
			parts = append(parts, s.from(from, from+length))
			did += fmt.Sprintf(" %.6f..%.6f", from, from+length)
		}
		new := joined(parts...)
		m := compared(t, s, new)
		held := 0.0
		for _, run := range m.Runs {
			require.True(t, run.Exact, "%s:%s", run, did)
			held += (run.NewEnd - run.New).Seconds()
			for at := run.New.Seconds() + 0.05; at < run.NewEnd.Seconds()-0.15; at += 0.4 {
				now := int(math.Round(at * float64(s.rate)))
				was := int(math.Round(run.Back(timeline.FromSeconds(float64(now)/float64(s.rate))).Seconds() * float64(s.rate)))
				var ab, aa, bb float64
				for i := range s.rate / 10 {
					a, b := float64(s.x[min(was+i, len(s.x)-1)]), float64(new.x[now+i])
					ab, aa, bb = ab+a*b, aa+a*a, bb+b*b
				}
				if aa > 1e-4 && bb > 1e-4 {
					require.Greater(t, ab/math.Sqrt(aa*bb), 0.99, "%.3f s of the new recording, by %s:%s", at, run, did)
				}
			}
		}
		require.Greater(t, held, 0.99*new.seconds(), "%v:%s", m.Runs, did)
	}
}

// Cuts that are easily missed: by less than a beat of a phrase that goes on, and
// into a cymbal that has more height than a place between two samples can tell.
func TestCutsThatHide(t *testing.T) {
	s := songs["tidewater-engine"]().from(0, 60).mono()
	for _, parts := range [][][2]float64{
		{{22.218026, 29.674901}, {1.919933, 7.976479}, {13.962111, 26.909951}, {26.974758, 32.854474}, {42.571949, 56.552398}},
		{{3.444807, 8.888182}, {25.904559, 31.031858}, {35.551784, 46.668517}, {5.226698, 13.283901}},
		{{18.500666, 30.445780}, {34.543762, 45.400516}, {5.296260, 10.392137}},
	} {
		var list []sound
		var seams []float64
		at := 0.0
		for _, p := range parts {
			list = append(list, s.from(p[0], p[1]))
			at += p[1] - p[0]
			seams = append(seams, at)
		}
		m := compared(t, s, joined(list...))
		exact(t, m)
		parted(t, m, seams...)
		require.Len(t, m.Runs, len(parts), "%v", m.Runs)
	}
}

// The same file again is one run from beginning to end.
func TestSameFileAgain(t *testing.T) {
	s := songs["kettle-lightning"]().from(0, 40)
	m := compared(t, s, s)
	require.Len(t, m.Runs, 1)
	r := m.Runs[0]
	require.Equal(t, timeline.TimeRun{NewEnd: m.New, OldEnd: m.Old, Exact: true, Sure: r.Sure}, r)
	require.GreaterOrEqual(t, r.Sure, 990)
}

// Three seconds of it are found, and found where they are.
func TestThreeSeconds(t *testing.T) {
	s := songs["kettle-lightning"]()
	m := compared(t, s.from(0, 60), s.from(31.4, 34.4))
	require.Len(t, m.Runs, 1)
	require.InDelta(t, 31.4, m.Runs[0].Old.Seconds(), 0.001)
	require.True(t, m.Runs[0].Exact)
}

// What is not the old recording gives no run: another song, silence, noise, nothing.
func TestNothingOfTheOldRecording(t *testing.T) {
	s := songs["kettle-lightning"]().from(20, 36)
	silence := s.times(0)
	for name, new := range map[string]sound{
		"another song":   songs["tidewater-engine"]().from(20, 36),
		"silence":        silence,
		"noise":          {s.rate, 1, nil},
		"a tenth second": s.from(10, 10.1),
		"no sound":       {s.rate, 2, nil},
	} {
		if name == "noise" {
			new = sound{s.rate, 1, s.times(0).mono().x}
			for i := range new.x {
				new.x[i] = 0.1 * float32(math.Sin(float64(i)*float64(i)*0.7))
			}
		}
		m := compared(t, s, new)
		require.Empty(t, m.Runs, name)
		require.Len(t, m.Lost(), 1, name)
	}
	require.Empty(t, compared(t, silence, s).Runs, "the other way round")
	require.Empty(t, compared(t, silence, silence).Runs, "silence says nothing")
}

// Likeness tells one song from two.
func TestAlike(t *testing.T) {
	s, other := songs["kettle-lightning"](), songs["tidewater-engine"]()
	a, b := read(t, s), read(t, other)
	cut, lower := read(t, joined(s.from(10, 30), s.from(45, 60))), read(t, s.mono().stretched(1.05).played(0.9, s.rate))
	for _, side := range []*match.Side{a, b, cut, lower} {
		side.Compact()
	}
	require.GreaterOrEqual(t, match.Alike(a, cut), match.SameSong)
	require.GreaterOrEqual(t, match.Alike(a, lower), match.SameSong)
	for _, x := range []*match.Side{a, cut, lower} {
		require.Less(t, match.Alike(x, b), match.SameSong)
	}
	require.Zero(t, match.Alike(a, read(t, s.times(0))))
	// what was compact is read again
	m, err := match.Match(context.Background(), a, cut)
	require.NoError(t, err)
	require.Len(t, m.Runs, 2)
	require.Nil(t, a.Mono, "and forgotten again")
	require.Nil(t, cut.Mono)
	whole := read(t, s)
	_, err = match.Match(context.Background(), whole, a)
	require.NoError(t, err)
	require.NotNil(t, whole.Mono, "what was whole stays whole")
}

func TestReadRefuses(t *testing.T) {
	slow := sound{1500, 1, make([]float32, 15000)}
	_, err := match.Read(context.Background(), slow.open, match.Options{})
	require.ErrorContains(t, err, "1500 samples a second")
	gone := errors.New("gone")
	_, err = match.Read(context.Background(), func() (audio.Source, error) { return nil, gone }, match.Options{})
	require.ErrorIs(t, err, gone)
	ended, cancel := context.WithCancel(context.Background())
	cancel()
	_, err = match.Read(ended, songs["kettle-lightning"]().open, match.Options{})
	require.ErrorIs(t, err, context.Canceled)
}
