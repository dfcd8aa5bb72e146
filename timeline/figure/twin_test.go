package figure_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	. "emberbeat/timeline/figure"
	_ "emberbeat/timeline/testtool"
)

// Distances of an envelope against walking along its axis.
func TestReachEqualsItsSlowTwin(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		n := func(least, most int, name string) float64 { return float64(rapid.IntRange(least, most).Draw(rt, name)) }
		point := func(name string) Point { return Point{n(-10, 10, name+"x"), n(-10, 10, name+"y")} }
		e := Sweep(Vec{n(-3, 3, "x"), n(-3, 3, "y"), n(0, 6, "z")}, Direction(n(-180, 180, "pan"), n(-180, 180, "tilt")), n(1, 8, "height"), 0.2, 0.2, n(0, 25, "half angle"))
		a, b := point("a"), point("b")
		c := Cylinder{At: point("c"), Radius: n(0, 2, "radius"), Crown: 2}
		body := Vec{n(-8, 8, "bx"), n(-8, 8, "by"), n(0, 8, "bz")}
		line, mark, ball, top := math.Inf(1), math.Inf(1), math.Inf(1), 0.0
		const steps = 2000
		for i := range steps + 1 {
			s := e.Axis * float64(i) / steps
			q := e.At.Along(e.Dir, s)
			line = min(line, q.Plan().ToPiece(a, b)-e.Radius(s))
			mark = min(mark, math.Hypot(q.Plan().ToDisc(c.At, c.Radius), max(0, -q.Z, q.Z-2))-e.Radius(s))
			ball = min(ball, math.Sqrt((q.X-body.X)*(q.X-body.X)+(q.Y-body.Y)*(q.Y-body.Y)+(q.Z-body.Z)*(q.Z-body.Z))-e.Radius(s)-0.5)
			top = max(top, q.Z+e.Radius(s))
		}
		const near = 0.01 // half a step of the walk
		if line > 0 {
			require.InDelta(rt, line, e.ToLine(a, b), near)
		} else {
			require.LessOrEqual(rt, e.ToLine(a, b), near)
		}
		require.InDelta(rt, mark, e.ToMark(c), near)
		require.InDelta(rt, ball, e.ToBody(body, 0.5), near)
		require.InDelta(rt, max(top, e.At.Z+e.Root), e.Top(), 1e-9)
	})
}

// A throw against following it in small steps.
func TestThrowEqualsItsSlowTwin(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		height, z := float64(rapid.IntRange(1, 30).Draw(rt, "height")), float64(rapid.IntRange(0, 10).Draw(rt, "z"))
		lean := float64(rapid.IntRange(1, 89).Draw(rt, "lean"))
		const dt = 1e-4
		v := math.Sqrt(2 * Gravity * height)
		x, y, up, flight := 0.0, z, v*math.Cos(lean*math.Pi/180), 0.0
		for y >= 0 {
			x, y, up, flight = x+v*math.Sin(lean*math.Pi/180)*dt, y+up*dt-Gravity*dt*dt/2, up-Gravity*dt, flight+dt
		}
		require.InDelta(rt, x, Throw(height, z, lean), 0.05)
		require.InDelta(rt, flight, Flight(height, z, lean), 0.01)
		most, _ := ThrowUpper(height, z, lean, 0)
		require.GreaterOrEqual(rt, most, Throw(height, z, lean)-1e-9, "never less than the throw itself")
	})
}

// The largest dose of any window against trying windows that begin everywhere.
func TestMostDoseEqualsItsSlowTwin(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		var pulses []Pulse
		for range rapid.IntRange(1, 12).Draw(rt, "pulses") {
			from := rapid.IntRange(0, 200).Draw(rt, "from")
			pulses = append(pulses, Pulse{float64(from), float64(from + rapid.IntRange(1, 30).Draw(rt, "long")), float64(rapid.IntRange(1, 9).Draw(rt, "amount"))})
		}
		const floor = 2.5
		window := float64(rapid.IntRange(1, 80).Draw(rt, "window"))
		most := 0.0
		for start := -window; start <= 240; start++ { // all times are whole seconds, and so are the windows that come to most
			sum := 0.0
			for s := start; s < start+window; s++ {
				q := 0.0
				for _, p := range pulses {
					if p.From <= s && s < p.To {
						q += p.Amount
					}
				}
				if q > floor {
					sum += Dose(q, 1)
				}
			}
			most = max(most, sum)
		}
		require.InDelta(rt, most, MostDose(Added(pulses), window, floor), 1e-6)
	})
}

// A judgement of rows holds whatever their order, but for which of two equal rows
// governs.
func TestJudgeForgetsNoRow(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		figureOf := func(name string) float64 {
			if rapid.Bool().Draw(rt, name+" known") {
				return float64(rapid.IntRange(0, 50).Draw(rt, name)) / 10
			}
			return Unknown()
		}
		rows := make([]Row, rapid.IntRange(0, 5).Draw(rt, "rows"))
		short, unchecked := false, len(rows) == 0
		for i := range rows {
			rows[i] = Row{figureOf("required"), figureOf("planned")}
			unchecked = unchecked || math.IsNaN(rows[i].Required+rows[i].Planned)
			short = short || rows[i].Required > rows[i].Planned
		}
		want := Kept
		if unchecked {
			want = Unchecked
		}
		if short {
			want = Short
		}
		i, state := Judge(rows)
		require.Equal(rt, want, state)
		for _, r := range rows {
			if Known(r.Required) && Known(r.Planned) {
				require.GreaterOrEqual(rt, rows[i].Required-rows[i].Planned, r.Required-r.Planned-1e-9)
			}
		}
	})
}
