package ear

import "math"

const (
	settleNear  = 0.020 // s; an onset this near a tick stands on it
	settleRise  = 0.06  // rise that counts a tick as struck
	settleTrust = 0.8   // how far a tick that is always struck lowers the bar
)

// settle weighs faint onsets by the rhythm around them: a place in the pulse
// that is struck again and again is likely struck here too, so that less of a
// rise is needed there. It scales the rises.
func settle(ons []onset, pulses []float64) {
	if len(pulses) < 8 {
		return
	}
	var struck [ticksPerPulse]float64
	place := make([]int, len(ons))
	k := 0
	for i, o := range ons {
		for k+2 < len(pulses) && pulses[k+1] <= o.at-settleNear {
			k++
		}
		place[i] = tickOf(o.at, pulses[k], pulses[k+1])
		if place[i] >= 0 && o.rise >= settleRise {
			struck[place[i]]++
		}
	}
	for i := range ons {
		if place[i] >= 0 {
			share := min(1, struck[place[i]]/float64(len(pulses)))
			ons[i].rise /= 1 - settleTrust*share
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
