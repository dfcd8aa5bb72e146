package ear

import "math"

const (
	settleNear  = 0.020 // s; an onset this near a tick stands on it
	settleRise  = 0.06  // rise that counts a tick as struck
	settleTrust = 0.85  // how far a tick that is always struck lowers the bar
	settleReach = 16    // pulses on each side in which it is asked how often a tick is struck
)

// settle weighs faint onsets by the rhythm around them: a place in the pulse
// that is struck again and again is likely struck here too, so that less of a
// rise is needed there. It scales the rises.
func settle(ons []onset, pulses []float64) {
	n := len(pulses)
	if n < 8 {
		return
	}
	// struck[j][k] is the number of pulses before k whose tick j is struck
	var struck [ticksPerPulse][]int
	for j := range struck {
		struck[j] = make([]int, n+1)
	}
	tick, pulse := make([]int, len(ons)), make([]int, len(ons))
	k := 0
	for i, o := range ons {
		for k+2 < n && pulses[k+1] <= o.at-settleNear {
			k++
		}
		tick[i], pulse[i] = tickOf(o.at, pulses[k], pulses[k+1]), k
		if tick[i] >= 0 && o.rise >= settleRise {
			struck[tick[i]][k+1] = 1
		}
	}
	for j := range struck {
		for k := range n {
			struck[j][k+1] += struck[j][k]
		}
	}
	for i := range ons {
		if j := tick[i]; j >= 0 {
			a, b := max(0, pulse[i]-settleReach), min(n, pulse[i]+settleReach+1)
			share := float64(struck[j][b]-struck[j][a]) / float64(b-a)
			ons[i].rise /= 1 - settleTrust*min(1, share)
		}
	}
}

// tickOf is the tick of the pulse from a to b on which t falls, -1 for none.
func tickOf(t, a, b float64) int {
	x := (t - a) / (b - a) * ticksPerPulse
	j := math.Round(x)
	if math.Abs(x-j)*(b-a)/ticksPerPulse > settleNear || j < 0 || j > ticksPerPulse {
		return -1
	}
	return int(j) % ticksPerPulse
}
