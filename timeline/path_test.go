package timeline

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Paths of what has one, and of what has none.
func TestPath(t *testing.T) {
	at := &StagePosition{X: 1, Y: 2, Z: 0}
	comet := &Article{Family: Comet, Height: 12, Fallout: 3}
	tilted := func(pan, tilt float64) *Unit { return &Unit{Position: at, Placed: &Placed{Pan: pan, Tilt: tilt}} }
	p, ok := tilted(30, 0).Path(comet, 1)
	require.True(t, ok)
	require.InDelta(t, 21.7846, p.To.X, 1e-4)
	require.InDelta(t, 2, p.To.Y, 1e-9)
	require.Equal(t, 3.0, p.Half)
	p, _ = tilted(0, -45).Path(comet, 0.5)
	require.InDelta(t, -10, p.To.Y, 1e-9, "towards the audience, half the throw")
	p, _ = tilted(30, 30).Path(comet, 1)
	require.Greater(t, p.To.X, 1.0)
	require.Greater(t, p.To.Y, 2.0)
	p, ok = tilted(90, 90).Path(comet, 1)
	require.True(t, ok)
	require.InDelta(t, 25, p.To.X, 1e-9)
	for _, none := range []struct {
		u *Unit
		a *Article
	}{{tilted(0, 0), comet}, {tilted(30, 0), &Article{Family: CO2Jet, Height: 6}}, {tilted(30, 0), &Article{Family: Mine}}, {&Unit{Placed: &Placed{Pan: 30}}, comet}} {
		_, ok := none.u.Path(none.a, 1)
		require.False(t, ok)
	}
	line := &Unit{Position: at, End: &StagePosition{X: 1, Y: 12, Z: 6}, Placed: &Placed{}}
	p, ok = line.Path(&Article{Family: LineRocket, Corridor: 3, Fallout: 1, Height: 10}, 1)
	require.True(t, ok)
	require.Equal(t, Path{Point{1, 2}, Point{1, 12}, 1.5, true, 6}, p)
}

// Distances of paths against walking along them.
func TestPathDistancesEqualTheirSlowTwin(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		point := func(name string) Point {
			return Point{float64(rapid.IntRange(-10, 10).Draw(rt, name)), float64(rapid.IntRange(-10, 10).Draw(rt, name))}
		}
		p := Path{From: point("from"), To: point("to")}
		a, b := point("a"), point("b")
		const steps = 200
		along := func(from, to Point, i int) Point {
			f := float64(i) / steps
			return Point{from.X + f*(to.X-from.X), from.Y + f*(to.Y-from.Y)}
		}
		nearest, line := math.Inf(1), math.Inf(1)
		for i := range steps + 1 {
			q := along(p.From, p.To, i)
			nearest = min(nearest, math.Hypot(q.X-a.X, q.Y-a.Y))
			for k := range steps + 1 {
				r := along(a, b, k)
				line = min(line, math.Hypot(q.X-r.X, q.Y-r.Y))
			}
		}
		require.InDelta(rt, nearest, p.Away(a), 0.15)
		require.InDelta(rt, line, p.AwayFromLine(a, b), 0.15)
		require.LessOrEqual(rt, p.AwayFromLine(a, b), line+1e-9)
	})
}
