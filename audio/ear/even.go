package ear

import (
	"math"
	"slices"
)

// even says whether the attacks of a stretch lie about the grid and not all to
// one side of it, nor on places that stay empty elsewhere, as they do after a
// pause that did not last whole beats.
func (p *part) even(ons []onset, from, to float64) bool {
	if !alike(p.places(ons, p.from, p.to), p.places(ons, from, to)) {
		return false
	}
	q := *p
	q.from, q.to = from, to
	q.period /= 2
	return math.Abs(q.late(ons)) < mostLate
}

const mostLate = 0.012 // s

// places is the onset weight on each tick of the pulse in a stretch.
func (p *part) places(ons []onset, from, to float64) (out [ticksPerPulse]float64) {
	for _, o := range onsetsIn(ons, from, to) {
		x := (o.at - p.offset) / p.period * ticksPerPulse
		out[mod(int(math.Round(x)), ticksPerPulse)] += o.pull()
	}
	return out
}

// alike says whether b strikes the places that a does, and would do so no better
// if it were shifted.
func alike(a, b [ticksPerPulse]float64) bool {
	var fit [ticksPerPulse]float64
	top, on, all := slices.Max(a[:]), 0.0, 0.0
	for i, v := range b {
		all += v
		if a[i] >= struckPlace*top {
			on += v
		}
	}
	if on < leastPlaced*all {
		return false
	}
	for shift := range fit {
		for i, v := range a {
			fit[shift] += v * b[(i+shift)%ticksPerPulse]
		}
	}
	return fit[0] >= leastAlike*slices.Max(fit[:])
}

const (
	leastAlike  = 0.5 // of the best fit of a shifted stretch, that it must have unshifted
	leastPlaced = 0.4 // of its weight must lie on places that are struck
	struckPlace = 0.1 // of the weight of the most struck place
)
