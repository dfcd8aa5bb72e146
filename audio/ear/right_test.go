package ear_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/audio/ear"
	"emberbeat/timeline"
)

// Whatever the ear makes of a song, its user has it right with three words at
// most: the tempo, where a bar begins, the metre; or some taps. Each row is what
// a person means, whether or not the ear has heard it so by itself.
func TestRightInThreeActions(t *testing.T) {
	type action func(*ear.Locks)
	bpm := func(v float64) action { return func(l *ear.Locks) { l.BPM = v } }
	barOne := func(s float64) action {
		return func(l *ear.Locks) { v := timeline.FromSeconds(s); l.BarOne = &v }
	}
	metre := func(num, den int) action {
		return func(l *ear.Locks) { l.Metre = timeline.Metre{Num: num, Den: den} }
	}
	taps := func(from, step float64) action {
		return func(l *ear.Locks) {
			for i := range 5 {
				l.Taps = append(l.Taps, timeline.FromSeconds(from+step*float64(i)))
			}
		}
	}
	const start = 0.4
	cases := []struct {
		name    string
		g       groove
		bpm     float64 // as the band counts
		felt    float64 // beats of the band in one beat as the user means it
		shift   float64 // beats of the user by which bar one lies behind the band's
		per     int     // beats of the user in a bar
		actions []action
	}{
		{"half as fast", rock, 120, 2, 0, 4, []action{bpm(60), barOne(start)}},
		{"twice as fast", rock, 90, 0.5, 0, 4, []action{bpm(180), barOne(start)}},
		{"two thirds as fast", rock, 150, 1.5, 0, 4, []action{bpm(100), barOne(start)}},
		{"beats between the beats", rock, 120, 1, 0.5, 4, []action{barOne(start + 0.25)}},
		{"bar one a beat later", rock, 120, 1, 1, 4, []action{barOne(start + 0.5)}},
		{"three in a bar", rock, 120, 1, 0, 3, []action{metre(3, 4), barOne(start)}},
		{"6/8", jig, 80, 1, 0, 2, []action{bpm(80), metre(6, 8), barOne(start)}},
		{"5/4", five, 132, 1, 0, 5, []action{bpm(132), metre(5, 4), barOne(start)}},
		{"7/8", groove{"b.x.b.x.b.x.x.", 7}, 210, 1, 0, 7, []action{bpm(210), metre(7, 8), barOne(start)}},
		{"tapped along", rock, 120, 2, 0, 4, []action{taps(start+4, 1), barOne(start)}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			b := newBand(22050, 42)
			beats, _ := b.play(c.g, int(40*c.bpm/60/float64(c.g.beats)), steady(c.bpm, start))
			require.LessOrEqual(t, len(c.actions), 3)
			var l ear.Locks
			for _, act := range c.actions {
				act(&l)
			}
			a := hear(t, b.source(), ear.Options{Locks: l})
			step := 60 / c.bpm * c.felt
			require.InDelta(t, 60/step, a.BPM, 0.02)
			var downs []float64
			last := beats[len(beats)-1]
			for at := start + c.shift*step; at <= last; at += step * float64(c.per) {
				downs = append(downs, at)
			}
			require.GreaterOrEqual(t, fMeasure(downs, a.Downbeats, 0.02), 0.93, "starts of bars: %v", a.Downbeats)
			var all []float64
			first := start + c.shift*step
			for first-step > start-0.01 {
				first -= step
			}
			for at := first; at <= last+0.01; at += step {
				all = append(all, at)
			}
			require.GreaterOrEqual(t, fMeasure(all, a.Beats, 0.02), 0.95)
		})
	}
}
