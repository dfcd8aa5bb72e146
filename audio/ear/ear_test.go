package ear_test

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"runtime"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/audio/ear"
	"emberbeat/timeline"
)

// Grooves whose metre a listener would not doubt.
var (
	rock     = groove{"b.h.x.h.b.b.x.h.", 4}
	club     = groove{"k.h.b.h.k.h.b.h.", 4}
	halfTime = groove{"b.h.h.h.x.h.h.h.", 4}
	waltz    = groove{"b.h.x.h.x.h.", 3}
	jig      = groove{"bhhxhh", 2} // 6/8
	five     = groove{"b.h.x.h.b.h.b.h.x.h.", 5}
)

func TestSteadySongs(t *testing.T) {
	cases := []struct {
		name   string
		g      groove
		bpm    float64
		offset float64
		metre  timeline.Metre
	}{
		{"rock 92", rock, 92, 0.5, timeline.Metre{Num: 4, Den: 4}},
		{"rock 120", rock, 120, 0.25, timeline.Metre{Num: 4, Den: 4}},
		{"rock 128.5", rock, 128.5, 1.013, timeline.Metre{Num: 4, Den: 4}},
		{"rock 165", rock, 165, 0.1, timeline.Metre{Num: 4, Den: 4}},
		{"waltz 150", waltz, 150, 0.3, timeline.Metre{Num: 3, Den: 4}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			bars := int(40 * c.bpm / 60 / float64(c.g.beats))
			b := newBand(22050, 42)
			beats, downs := b.play(c.g, bars, steady(c.bpm, c.offset))
			a := hear(t, b.source(), ear.Options{})
			require.InDelta(t, c.bpm, a.BPM, 0.01)
			require.True(t, a.Steady)
			require.GreaterOrEqual(t, fMeasure(beats, a.Beats, 0.01), 0.97, "beats within 10 ms")
			require.Equal(t, c.metre, a.Metre)
			require.GreaterOrEqual(t, fMeasure(downs, a.Downbeats, 0.01), 0.94)
			require.Greater(t, a.Confidence.Beats, 0.5)
			e := errorsOf(beats, a.Beats)
			require.InDelta(t, 0, e[len(e)/2], 0.002, "offset")
		})
	}
}

// Metres that ears disagree on: the beat map is right, or the doubt is stated.
func TestOddMetresRightOrInDoubt(t *testing.T) {
	cases := []struct {
		name string
		g    groove
		bpm  float64
	}{
		{"6/8", jig, 80}, {"5/4", five, 132}, {"7/8", groove{"b.x.b.x.b.x.x.", 7}, 210}, {"half time", halfTime, 140}, {"four on the floor", club, 126},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			b := newBand(22050, 42)
			beats, downs := b.play(c.g, int(40*c.bpm/60/float64(c.g.beats)), steady(c.bpm, 0.4))
			a := hear(t, b.source(), ear.Options{})
			fb, fd := fMeasure(beats, a.Beats, 0.03), fMeasure(downs, a.Downbeats, 0.03)
			t.Logf("%v %.2f bpm, beats %.2f sure %.2f, bars %.2f sure %.2f", a.Metre, a.BPM, fb, a.Confidence.Beats, fd, a.Confidence.Downbeats)
			require.True(t, fb > 0.95 || a.Confidence.Beats < 0.75, "beats wrong and sure")
			require.True(t, fd > 0.9 || a.Confidence.Downbeats < 0.6, "bars wrong and sure")
			// whatever the level, the grid itself lies on the pulse
			half := append([]float64{}, beats...)
			for i := 0; i+1 < len(beats); i++ {
				for k := 1.0; k < 6; k++ {
					half = append(half, beats[i]+(beats[i+1]-beats[i])*k/6)
				}
			}
			for _, x := range a.Beats[1 : len(a.Beats)-8] {
				require.Less(t, nearest(half, x), 0.008)
			}
		})
	}
}

func nearest(ref []float64, x float64) float64 {
	best := math.Inf(1)
	for _, r := range ref {
		best = min(best, math.Abs(r-x))
	}
	return best
}

func TestTempoRamp(t *testing.T) {
	// from 100 to 130 over a minute: beat k at the inverse of the integral
	b := newBand(22050, 50)
	at := func(k float64) float64 {
		const r = 30.0 / 60 / 60 // beats/s per s
		v := 100.0 / 60
		return 0.5 + (math.Sqrt(v*v+2*r*k)-v)/r
	}
	beats, _ := b.play(rock, 21, at)
	a := hear(t, b.source(), ear.Options{})
	t.Log(a.Parts)
	require.False(t, a.Steady)
	f := fMeasure(beats, a.Beats, 0.05)
	require.True(t, f > 0.85 || a.Confidence.Beats < 0.4, "F %.2f, sure %.2f", f, a.Confidence.Beats)
}

func TestTempoChange(t *testing.T) {
	b := newBand(22050, 64)
	change := 0.5 + 48*60/120.0
	at := func(k float64) float64 {
		if k <= 48 {
			return 0.5 + k*60/120
		}
		return change + (k-48)*60/140
	}
	beats, _ := b.play(rock, 28, at)
	a := hear(t, b.source(), ear.Options{})
	require.GreaterOrEqual(t, fMeasure(beats, a.Beats, 0.03), 0.95)
	require.Len(t, a.Parts, 2)
	require.InDelta(t, 120, a.Parts[0].BPM, 0.01)
	require.InDelta(t, 140, a.Parts[1].BPM, 0.01)
	require.InDelta(t, change, a.Parts[0].To, 0.05)
}

// From 96 to 144 the pulses of one grid can carry both tempi.
func TestTempoChangeByHalf(t *testing.T) {
	b := newBand(22050, 64)
	change := 0.5 + 40*60/96.0
	at := func(k float64) float64 {
		if k <= 40 {
			return 0.5 + k*60/96
		}
		return change + (k-40)*60/144
	}
	beats, _ := b.play(rock, 30, at)
	a := hear(t, b.source(), ear.Options{})
	require.GreaterOrEqual(t, fMeasure(beats, a.Beats, 0.03), 0.95)
	require.Len(t, a.Parts, 2)
	require.InDelta(t, 96, a.Parts[0].BPM, 0.01)
	require.InDelta(t, 144, a.Parts[1].BPM, 0.01)
	require.InDelta(t, change, a.Parts[0].To, 0.05)
}

func TestFermata(t *testing.T) {
	b := newBand(22050, 60)
	at := func(k float64) float64 {
		if k < 48 {
			return 0.5 + k*0.5
		}
		return 0.5 + k*0.5 + 2.23 // the band waits, then goes on
	}
	beats, _ := b.play(rock, 26, at)
	a := hear(t, b.source(), ear.Options{})
	t.Log(a.Parts)
	require.False(t, a.Steady)
	require.GreaterOrEqual(t, fMeasure(beats, a.Beats, 0.03), 0.93)
	require.Len(t, a.Parts, 2)
	require.InDelta(t, at(48), a.Parts[1].From, 0.05)
}

func TestPickUpAndNoisyStart(t *testing.T) {
	b := newBand(22050, 50)
	b.tone(0, 5.2, func(float64) float64 { return 0.02 * b.rnd.NormFloat64() })
	start := steady(120, 7)
	b.snare(start(-1), 1)
	b.snare(start(-0.5), 1)
	beats, downs := b.play(rock, 20, start)
	a := hear(t, b.source(), ear.Options{})
	require.InDelta(t, 120, a.BPM, 0.01)
	in := func(v []float64) []float64 {
		var out []float64
		for _, x := range v {
			if x > 6.9 {
				out = append(out, x)
			}
		}
		return out
	}
	require.GreaterOrEqual(t, fMeasure(beats, in(a.Beats), 0.01), 0.97)
	require.GreaterOrEqual(t, fMeasure(downs, in(a.Downbeats), 0.01), 0.9)
}

func TestAttackTimes(t *testing.T) {
	b := newBand(44100, 31)
	var ref []float64
	for i := range 40 {
		at := 0.5 + float64(i)*0.7137
		ref = append(ref, at)
		switch i % 4 {
		case 0:
			b.kick(at, 1)
		case 1:
			b.snare(at, 1)
		case 2:
			b.hat(at, 1)
		case 3:
			b.note(at, 0.5, 220, 1)
		}
	}
	a := hear(t, b.source(), ear.Options{})
	require.GreaterOrEqual(t, fMeasure(ref, a.Onsets, 0.05), 0.98)
	e := errorsOf(ref, a.Onsets)
	require.InDelta(t, 0, e[len(e)/2], 0.002, "bias")
	within := 0
	for _, x := range e {
		if math.Abs(x) <= 0.010 {
			within++
		}
	}
	require.GreaterOrEqual(t, float64(within)/float64(len(ref)), 0.97)
}

func TestLabels(t *testing.T) {
	b := newBand(44100, 34)
	want := map[float64]ear.Label{}
	for i := range 40 {
		at := 0.5 + float64(i)*0.8
		switch i % 4 {
		case 0:
			b.kick(at, 1)
			want[at] = ear.Kick
		case 1:
			b.snare(at, 1)
			want[at] = ear.Snare
		case 2:
			b.hat(at, 1)
			want[at] = ear.Hat
		case 3:
			b.note(at, 0.5, 330, 1)
			want[at] = ear.Tonal
		}
	}
	right := 0
	for _, h := range hear(t, b.source(), ear.Options{}).Hits {
		sum := 0.0
		for _, p := range h.Probability {
			sum += p
		}
		require.InDelta(t, 1, sum, 1e-9)
		for at, l := range want {
			if math.Abs(at-h.At) < 0.03 {
				if l == h.Label {
					right++
				} else {
					t.Log(at, l, "heard as", h.Label, h.Probability)
				}
			}
		}
	}
	require.GreaterOrEqual(t, right, 34, "of 40 labels")
}

func TestStopsAndRests(t *testing.T) {
	b := newBand(22050, 30)
	b.play(rock, 6, steady(120, 0.5))
	b.play(rock, 4, steady(120, 16.5))
	a := hear(t, b.source(), ear.Options{})
	for _, h := range a.Hits {
		if math.Abs(h.At-16.5) < 0.02 {
			require.True(t, h.AfterRest)
			return
		}
	}
	t.Fatal("the hit after the rest was not heard")
}

// What carries no beat must not be given one with confidence.
func TestHonestDoubt(t *testing.T) {
	quiet := newBand(22050, 20)
	one := newBand(22050, 20)
	one.kick(3, 1)
	noise := newBand(22050, 30)
	noise.tone(0, 30, func(float64) float64 { return 0.2 * noise.rnd.NormFloat64() })
	chance := newBand(22050, 30)
	for at := 0.2; at < 29; at += 0.08 + 0.9*chance.rnd.Float64() {
		chance.snare(at, 0.3+chance.rnd.Float64())
	}
	short := newBand(22050, 0.01)
	empty := newBand(22050, 0)
	for name, b := range map[string]*band{"silence": quiet, "one hit": one, "noise": noise, "hits at random": chance, "10 ms": short, "nothing": empty} {
		t.Run(name, func(t *testing.T) {
			a := hear(t, b.source(), ear.Options{})
			t.Logf("%d beats, %.1f bpm, sure %+v", len(a.Beats), a.BPM, a.Confidence)
			require.Less(t, a.Confidence.Beats, 0.3)
			require.Less(t, a.Confidence.Downbeats, 0.3)
			require.False(t, a.Steady && a.Confidence.Tempo > 0.3)
		})
	}
	require.Len(t, hear(t, one.source(), ear.Options{}).Onsets, 1)
	require.Empty(t, hear(t, quiet.source(), ear.Options{}).Onsets)
}

// The same song in other clothes is heard the same.
func TestUnusualFiles(t *testing.T) {
	const rate = 48000
	b := newBand(rate, 24)
	beats, _ := b.play(rock, 11, steady(125, 0.4))
	mono := b.x
	each := func(f func(float32) float32) *sound {
		x := make([]float32, len(mono))
		for i, v := range mono {
			x[i] = f(v)
		}
		return &sound{rate: rate, channels: 1, x: x}
	}
	spread := func(rate, channels int, gain ...float32) *sound {
		s := &sound{rate: rate, channels: channels}
		up := max(1, rate/48000)
		for i := 0; i < len(mono); i++ {
			for range up {
				for c := range channels {
					s.x = append(s.x, gain[c%len(gain)]*mono[i])
				}
			}
		}
		return s
	}
	narrow := newBand(8000, 24)
	narrow.play(rock, 11, steady(125, 0.4))
	cases := map[string]*sound{
		"as it is":          each(func(v float32) float32 { return v }),
		"8 kHz mono":        narrow.source(),
		"192 kHz, 6 ch":     spread(192000, 6, 0.5, 0.5, 0.7, 0.1, 0.3, 0.3),
		"constant offset":   each(func(v float32) float32 { return v*0.5 + 0.3 }),
		"clipped":           each(func(v float32) float32 { return max(-0.25, min(0.25, 2*v)) }),
		"inverted":          each(func(v float32) float32 { return -v }),
		"40 dB down":        each(func(v float32) float32 { return v * 0.01 }),
		"opposite channels": spread(rate, 2, 1, -1),
	}
	for name, s := range cases {
		t.Run(name, func(t *testing.T) {
			a := hear(t, s, ear.Options{})
			require.InDelta(t, 125, a.BPM, 0.02)
			require.GreaterOrEqual(t, fMeasure(beats, a.Beats, 0.01), 0.95)
		})
	}
}

func TestSameBytesOnAnyNumberOfCores(t *testing.T) {
	b := newBand(44100, 20)
	b.play(rock, 9, steady(120, 0.5))
	var first []byte
	counts := []int{1, 2, 7}
	if testing.Short() {
		counts = []int{1, 7}
	}
	for _, cores := range counts {
		old := runtime.GOMAXPROCS(cores)
		got, err := json.Marshal(hear(t, b.source(), ear.Options{}))
		runtime.GOMAXPROCS(old)
		require.NoError(t, err)
		if first == nil {
			first = got
		}
		require.Equal(t, string(first), string(got), "%d cores", cores)
	}
}

func TestJSONRoundTrip(t *testing.T) {
	b := newBand(22050, 20)
	b.play(rock, 9, steady(120, 0.5))
	a := hear(t, b.source(), ear.Options{})
	text, err := json.Marshal(a)
	require.NoError(t, err)
	var back ear.Analysis
	require.NoError(t, json.Unmarshal(text, &back))
	require.Equal(t, a, &back)
}

// endless never ends: only cancelling stops it, which happens while it is read
// for the tenth time.
type endless struct {
	sound
	reads  int
	cancel func()
}

func (e *endless) Read(dst []float32) (int, error) {
	if e.reads++; e.reads == 10 {
		e.cancel()
	}
	return len(dst), nil
}

func TestCancel(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	_, err := ear.Analyse(ctx, &endless{sound: sound{rate: 44100, channels: 1}, cancel: cancel}, ear.Options{})
	require.ErrorIs(t, err, context.Canceled)
}

func TestProgressRuns(t *testing.T) {
	b := newBand(22050, 10)
	b.play(rock, 4, steady(120, 0.5))
	last := 0.0
	hear(t, b.source(), ear.Options{Progress: func(done float64) {
		require.GreaterOrEqual(t, done, last)
		last = done
	}})
	require.Equal(t, 1.0, last)
}

// The user's word: each kind of error is righted by one lock.
func TestLocks(t *testing.T) {
	b := newBand(22050, 42)
	beats, _ := b.play(rock, 20, steady(120, 0.5))
	at := func(s float64) *timeline.Time { v := timeline.FromSeconds(s); return &v }
	t.Run("half as fast", func(t *testing.T) {
		a := hear(t, b.source(), ear.Options{Locks: ear.Locks{BPM: 60}})
		require.InDelta(t, 60, a.BPM, 0.01)
	})
	t.Run("twice as fast", func(t *testing.T) {
		a := hear(t, b.source(), ear.Options{Locks: ear.Locks{BPM: 240}})
		require.InDelta(t, 240, a.BPM, 0.01)
	})
	t.Run("bar one on another beat", func(t *testing.T) {
		a := hear(t, b.source(), ear.Options{Locks: ear.Locks{BarOne: at(beats[2] + 0.02)}})
		require.InDelta(t, 120, a.BPM, 0.01)
		require.Less(t, nearest(a.Downbeats, beats[2]), 0.01)
		require.Greater(t, nearest(a.Downbeats, beats[0]), 0.4)
	})
	t.Run("bar one between the beats", func(t *testing.T) {
		a := hear(t, b.source(), ear.Options{Locks: ear.Locks{BarOne: at((beats[0] + beats[1]) / 2)}})
		require.Less(t, nearest(a.Downbeats, (beats[0]+beats[1])/2), 0.01)
	})
	t.Run("three in a bar", func(t *testing.T) {
		a := hear(t, b.source(), ear.Options{Locks: ear.Locks{Metre: timeline.Metre{Num: 3, Den: 4}}})
		require.Equal(t, timeline.Metre{Num: 3, Den: 4}, a.Metre)
		require.InDelta(t, 1.5, a.Downbeats[1]-a.Downbeats[0], 0.01)
	})
	t.Run("taps, unsteady and late", func(t *testing.T) {
		var taps []timeline.Time
		for i := range 6 {
			taps = append(taps, timeline.FromSeconds(beats[10]+float64(i)+0.03*math.Sin(float64(i))+0.04))
		}
		a := hear(t, b.source(), ear.Options{Locks: ear.Locks{Taps: taps}})
		require.InDelta(t, 60, a.BPM, 0.01, "taps choose among what was heard")
		require.Less(t, nearest(a.Beats, beats[10]), 0.01)
	})
}

func TestBeatMap(t *testing.T) {
	b := newBand(22050, 42)
	_, downs := b.play(rock, 20, steady(120, 0.5))
	a := hear(t, b.source(), ear.Options{})
	m, err := a.BeatMap()
	require.NoError(t, err)
	require.LessOrEqual(t, len(m.Anchors()), 3, "a steady song needs few anchors")
	for i, d := range downs {
		require.InDelta(t, d, m.BarStart(i+1).Seconds(), 0.005, fmt.Sprint("bar ", i+1))
	}
	none, err := (&ear.Analysis{}).BeatMap()
	require.NoError(t, err)
	require.True(t, none.Empty())
}

func TestSections(t *testing.T) {
	b := newBand(22050, 100)
	g := []groove{rock, {"h.h.h.h.h.h.h.h.", 4}}
	start := 0.5
	var cuts []float64
	for i := range 6 {
		b.play(g[i%2], 8, steady(120, start))
		if i%2 == 1 { // the quiet part has another colour
			for k := range 32 {
				b.note(start+float64(k)*0.5, 0.5, 880, 0.3)
			}
		}
		cuts = append(cuts, start)
		start += 16
	}
	a := hear(t, b.source(), ear.Options{})
	var from []float64
	for _, s := range a.Sections {
		from = append(from, s.From)
	}
	require.GreaterOrEqual(t, fMeasure(cuts, from, 2.1), 0.8, "boundaries within a bar: %v", from)
	t.Log(a.Sections)
	require.Equal(t, a.Sections[0].Label, a.Sections[2].Label)
	require.NotEqual(t, a.Sections[0].Label, a.Sections[1].Label)
}
