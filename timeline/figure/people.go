package figure

import (
	"math"
	"slices"
)

// Seen gives which places stand further from a spotter than most, by their index,
// and the angle in degrees that all of them span from there.
func Seen(spotter Point, places []Point, most float64) (far []int, angle float64) {
	var turns []float64
	for i, p := range places {
		if p.from(spotter) > most+1e-9 {
			far = append(far, i)
		}
		turns = append(turns, math.Mod(math.Atan2(p.Y-spotter.Y, p.X-spotter.X)*180/math.Pi+360, 360))
	}
	slices.Sort(turns)
	widest := 0.0
	for i := range turns {
		widest = max(widest, math.Mod(turns[(i+1)%len(turns)]-turns[i]+360, 360))
	}
	if len(turns) < 2 {
		widest = 360
	}
	return far, 360 - widest
}

// Between is the time at a zone between one effect and the next.
type Between struct {
	End, Hang         float64 // when the effect and what hangs of it are over
	Spread, Settle    float64
	Next, NextSpread  float64 // the next command
	Arm, Call, Inside float64 // s of arming and of the call, m of the way out
	Walk              float64 // m/s
}

// Out gives from when, until when and how long nothing of either effect counts.
// It serves a finding alone: no sheet prints a time from which anybody may
// enter.
func (b Between) Out() (from, to, long float64) {
	from = max(b.End, b.Hang) + b.Spread + b.Settle
	to = b.Next - b.NextSpread - b.Arm - b.Call - b.Inside/b.Walk
	return from, to, max(0, to-from)
}
