package timeline

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func anyStretch(t *rapid.T) stretch {
	den := rapid.SampledFrom([]int64{1, 2, 3, 4, 12, 255, 257, 960, 9599, 9600})
	beatDen, beatsDen := den.Draw(t, "beat den"), den.Draw(t, "beats den")*den.Draw(t, "beats den 2")
	return stretch{
		bar:   rapid.IntRange(-1000, 1000).Draw(t, "bar"),
		beat:  NewRat(rapid.Int64Range(0, 32*beatDen-1).Draw(t, "beat"), beatDen),
		from:  Time(rapid.Int64Range(-int64(maxTime), int64(maxTime)).Draw(t, "from")),
		metre: Metre{rapid.IntRange(1, 32).Draw(t, "num"), 4},
		beats: NewRat(rapid.Int64Range(1, 1000*beatsDen).Draw(t, "beats"), beatsDen),
		ticks: rapid.Int64Range(1, int64(2*maxTime)).Draw(t, "ticks"),
	}
}

// The fast ways agree with their plain twins wherever they answer, and they
// answer for what songs are made of.
func TestStretchAgreesWithItsSlowTwin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyStretch(t)
		p := BarBeat{rapid.IntRange(-maxBarReach, maxBarReach).Draw(t, "to bar"), NewRat(rapid.Int64Range(0, 1<<30).Draw(t, "num"), rapid.Int64Range(1, 9600).Draw(t, "den"))}
		if rapid.Bool().Draw(t, "near") {
			p.Bar = s.bar + rapid.IntRange(-1000, 1000).Draw(t, "bars")
		}
		require.Equal(t, s.atSlowly(p), s.at(p))

		time := Time(rapid.Int64().Draw(t, "time"))
		if rapid.Bool().Draw(t, "near in time") {
			time = s.from + Time(rapid.Int64Range(-int64(Hour), int64(Hour)).Draw(t, "elapsed"))
		}
		step := NewRat(rapid.Int64Range(1, 100).Draw(t, "step"), rapid.Int64Range(1, 9600).Draw(t, "step den"))
		require.Equal(t, s.stepsSlowly(time, p.Bar, step), s.steps(time, p.Bar, step))
	})
}

func TestStretchIsFastForSongs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		den := rapid.SampledFrom([]int64{1, 2, 3, 4, 8, 12, 16})
		beatDen, beatsDen := den.Draw(t, "beat den"), den.Draw(t, "beats den")
		s := stretch{
			bar:   rapid.IntRange(-100, 1000).Draw(t, "bar"),
			beat:  NewRat(rapid.Int64Range(0, 32*beatDen-1).Draw(t, "beat"), beatDen),
			from:  Time(rapid.Int64Range(0, int64(Hour)).Draw(t, "from")),
			metre: Metre{rapid.IntRange(1, 32).Draw(t, "num"), 4},
			beats: NewRat(rapid.Int64Range(1, 1000*beatsDen).Draw(t, "beats"), beatsDen),
			ticks: rapid.Int64Range(int64(Millisecond), int64(Hour)).Draw(t, "ticks"),
		}
		_, ok := s.ticksTo(BarBeat{s.bar + 7, NewRat(5, 12)})
		require.True(t, ok)
		_, ok = s.stepsQuickly(s.from+Minute, s.bar, NewRat(1, locateGrain))
		require.True(t, ok)
	})
}
