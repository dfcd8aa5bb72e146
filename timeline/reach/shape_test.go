package reach

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline/figure"
	_ "emberbeat/timeline/testtool"
)

// The nearest that an upright envelope comes to a mark is that of a walk along
// its axis in small steps, and never nearer than any step of it.
func TestUprightEnvelopeFromAMark(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		e := figure.Sweep(figure.Vec{Z: rapid.Float64Range(-1, 8).Draw(rt, "z")}, figure.Up, rapid.Float64Range(0.1, 20).Draw(rt, "height"),
			rapid.Float64Range(0, 0.5).Draw(rt, "tolerance"), rapid.Float64Range(0, 0.5).Draw(rt, "root"), rapid.Float64Range(0, 30).Draw(rt, "angle"))
		c := figure.Cylinder{At: figure.Point{X: rapid.Float64Range(0, 30).Draw(rt, "x")}, Radius: rapid.Float64Range(0, 2).Draw(rt, "radius"), Crown: rapid.Float64Range(0, 3).Draw(rt, "crown")}
		got := (&Shape{Envelope: &e}).toCylinder(c)
		const steps = 4000
		walk := math.Inf(1)
		for k := range steps + 1 {
			s := e.Axis * float64(k) / steps
			z := e.At.Z + s
			walk = min(walk, math.Hypot(max(0, c.At.X-c.Radius), max(0, c.Foot-z, z-c.Crown))-e.Radius(s))
		}
		require.LessOrEqual(rt, got, walk+1e-9)
		require.InDelta(rt, walk, got, 1.5*e.Axis/steps)
	})
}
