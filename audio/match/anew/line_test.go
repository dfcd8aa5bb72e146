package anew

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	_ "emberbeat/timeline/testtool"
)

// A line of a few speeds with some milliseconds of noise is found again: few
// pieces, all near the truth.
func TestStraightenedFindsTheSpeeds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pieces := rapid.IntRange(1, 3).Draw(t, "pieces")
		at, l, truth := knot{0, 5}, line(nil), line(nil)
		rate := 1.0
		for range pieces {
			rate += rapid.SampledFrom([]float64{-0.05, 0.04, 0.07}).Draw(t, "change")
			for range rapid.IntRange(20, 80).Draw(t, "knots") {
				truth = append(truth, at)
				l = append(l, knot{at.new, at.old + rapid.Float64Range(-0.005, 0.005).Draw(t, "noise")})
				at = knot{at.new + knotStep, at.old + knotStep*rate}
			}
		}
		got := l.straightened()
		require.Len(t, got, len(l))
		require.LessOrEqual(t, len(got.plain(1e-6)), pieces+1+2)
		for i, k := range got {
			require.Equal(t, l[i].new, k.new)
			require.InDelta(t, truth[i].old, k.old, 0.006)
		}
	})
}

// What is made plain goes through none but its own knots and misses no other by
// more than it may.
func TestPlainKeepsWithin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := line{{0, 0}}
		for range rapid.IntRange(1, 60).Draw(t, "knots") {
			p := l.last()
			l = append(l, knot{p.new + 0.5, p.old + rapid.Float64Range(0.3, 0.7).Draw(t, "step")})
		}
		off := rapid.Float64Range(0.001, 0.2).Draw(t, "off")
		got := l.plain(off)
		require.Equal(t, l.first(), got.first())
		require.Equal(t, l.last(), got.last())
		for _, k := range l {
			require.LessOrEqual(t, math.Abs(got.at(k.new)-k.old), off+1e-9)
		}
	})
}

func TestInsideCutsWhatLiesOutside(t *testing.T) {
	l := line{{0, -1}, {10, 9}, {20, 21}}
	require.Equal(t, line{{1, 0}, {10, 9}, {15, 15}}, l.inside(15, 100))
	require.Equal(t, line{{1, 0}, {8, 7}}, l.inside(15, 8))
}

// The path follows what is alike: along two lines of different speed, with a jump
// back between them, and nowhere in what is like nothing.
func TestBestPathFollowsWhatIsAlike(t *testing.T) {
	l := &likeness{rows: 220, cols: 200, at: make([]float32, 220*200)}
	for i := range l.at {
		l.at[i] = -0.8
	}
	rs := ratesAround(1, 0.05, 0.01)
	plant := func(from, to, old int, rate float64) {
		for n := from; n < to; n++ {
			o := old + int(float64(n-from)*rate)
			l.row(n)[o], l.row(n)[max(0, o-1)], l.row(n)[o+1] = 1.2, 1.2, 1.2
		}
	}
	plant(20, 100, 10, 1)
	plant(100, 200, 40, rs[8])
	ss, err := bestPath(t.Context(), l, rs, pathCosts{turn: 1, jump: 30, into: 15})
	require.NoError(t, err)
	require.Len(t, ss, 2)
	require.InDelta(t, 20, ss[0].from, 1)
	require.InDelta(t, 100, ss[1].from, 1)
	for i, o := range ss[0].old {
		require.InDelta(t, 10+float64(ss[0].from+i-20), o, 1.5)
	}
	for i, o := range ss[1].old {
		require.InDelta(t, 40+float64(ss[1].from+i-100)*rs[8], o, 2.5)
	}
	require.InDelta(t, 200, ss[1].from+len(ss[1].old), 1)
}

// What fixed runs hold of the new recording is left to them; what lies beside keeps its place.
func TestBesides(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		run := rapid.Custom(func(t *rapid.T) Run {
			return Run{Old: rapid.Float64Range(0, 50).Draw(t, "old"), New: rapid.Float64Range(0, 50).Draw(t, "new"),
				Length: rapid.Float64Range(0.1, 30).Draw(t, "length"), Rate: rapid.Float64Range(0.8, 1.2).Draw(t, "rate"), Sure: 1}
		})
		one := run.Draw(t, "run")
		fixed := rapid.SliceOfN(run, 0, 4).Draw(t, "fixed")
		left := 0.0
		for _, r := range besides([]Run{one}, fixed) {
			left += r.Length
			require.Positive(t, r.Length)
			require.InDelta(t, one.Old+(r.New-one.New)*one.Rate, r.Old, 1e-6)
			for _, f := range fixed {
				require.True(t, r.newEnd() <= f.New+1e-9 || f.newEnd() <= r.New+1e-9)
			}
		}
		free := 0
		const steps = 400
		for i := range steps {
			at, in := one.New+one.Length*(float64(i)+0.5)/steps, false
			for _, f := range fixed {
				in = in || f.New <= at && at < f.newEnd()
			}
			if !in {
				free++
			}
		}
		require.InDelta(t, one.Length*float64(free)/steps, left, one.Length*5/steps)
	})
}
