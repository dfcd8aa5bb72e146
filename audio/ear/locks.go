package ear

import (
	"math"
	"slices"
)

// LeastTaps is the number of taps from which they are heeded.
const LeastTaps = 4

const (
	lockNear   = 0.04  // share by which a reading's tempo may differ from the user's
	barOneNear = 0.060 // s by which a beat may differ from the user's bar one
)

// tempo is the tempo the user has said or tapped, 0 for none.
func (l Locks) tempo() float64 {
	if l.BPM > 0 {
		return l.BPM
	}
	if len(l.Taps) < LeastTaps {
		return 0
	}
	var gaps []float64
	for i := 1; i < len(l.Taps); i++ {
		gaps = append(gaps, (l.Taps[i] - l.Taps[i-1]).Seconds())
	}
	if g := median(gaps); g > 0 {
		return 60 / g
	}
	return 0
}

// periodsNear lists pulse periods, in flux frames, within 5 % of a tempo or of
// its double or half, whichever can be tracked.
func periodsNear(bpm float64) []float64 {
	p := 60 / bpm
	for p > longestPulse {
		p /= 2
	}
	for p < shortestPulse {
		p *= 2
	}
	var out []float64
	for k := -10; k <= 10; k++ {
		out = append(out, p*math.Pow(1.005, float64(k))*fluxRate)
	}
	return out
}

// heed leaves the readings that the user's word allows. Taps choose among the
// tempo and the phases that were heard; they never set the period themselves.
func (h *hearing) heed(k *ticks, rs []reading) []reading {
	l := h.locks
	if bpm := l.tempo(); bpm > 0 {
		rs = nearest(rs, func(r reading) float64 { return math.Abs(r.bpm/bpm - 1) }, lockNear)
	}
	if len(l.Taps) >= LeastTaps && k.spans(l.Taps[0].Seconds()) {
		rs = nearest(rs, func(r reading) float64 { return h.offTaps(k, r) }, 0.1)
	}
	if l.BarOne != nil && k.spans(l.BarOne.Seconds()) {
		t := l.BarOne.Seconds()
		rs = nearest(rs, func(r reading) float64 { return offBeat(k, r, t) }, barOneNear)
	}
	return rs
}

// spans says whether a time lies among the ticks.
func (k *ticks) spans(t float64) bool {
	n := len(k.at)
	return n > 0 && t >= k.at[0]-k.pulse && t <= k.at[n-1]+k.pulse
}

// nearest keeps what lies within limit, or else what lies nearest.
func nearest(rs []reading, off func(reading) float64, limit float64) []reading {
	least := math.Inf(1)
	for _, r := range rs {
		least = min(least, off(r))
	}
	limit = max(limit, least+1e-9)
	return slices.DeleteFunc(rs, func(r reading) bool { return off(r) > limit })
}

// offBeat is the distance of t from the nearest beat of a reading, s.
func offBeat(k *ticks, r reading, t float64) float64 {
	best := math.Inf(1)
	for i := r.phase; i < len(k.at); i += r.cycle {
		best = min(best, math.Abs(k.at[i]-t))
	}
	return best
}

// offTaps is the median distance of the taps from the beats, in beats.
func (h *hearing) offTaps(k *ticks, r reading) float64 {
	var off []float64
	for _, t := range h.locks.Taps {
		off = append(off, offBeat(k, r, t.Seconds())*r.bpm/60)
	}
	return median(off)
}

// heedBars leaves the barrings that the user's word allows. Bar one moves the
// bars; it does not change how long they are.
func (h *hearing) heedBars(rs []barring, beats []float64) []barring {
	l := h.locks
	if !l.Metre.IsZero() {
		want := feltBeats(l.Metre)
		rs = slices.DeleteFunc(rs, func(r barring) bool { return r.beats != want })
	}
	if l.BarOne != nil && len(beats) > 0 && len(rs) > 0 && within(beats, l.BarOne.Seconds()) {
		long := rs[bestBarring(rs)].beats
		rs = slices.DeleteFunc(rs, func(r barring) bool { return r.beats != long })
		at, t := 0, l.BarOne.Seconds()
		for i := range beats {
			if math.Abs(beats[i]-t) < math.Abs(beats[at]-t) {
				at = i
			}
		}
		rs = slices.DeleteFunc(rs, func(r barring) bool { return (at-r.phase)%r.beats != 0 })
	}
	return rs
}

// within says whether t lies among the beats or a bar before or after them.
func within(beats []float64, t float64) bool {
	n := len(beats)
	return t > beats[0]-4 && t < beats[n-1]+4
}
