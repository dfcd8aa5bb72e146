package ear

import (
	"math"
	"slices"
)

const (
	leastOnsets = 4
	leastBeats  = 8 // pulses under which nothing is said about beats
)

// understand makes an Analysis of features: everything after the front end.
func understand(f *features, o Options) *Analysis {
	a := &Analysis{Duration: f.duration, Rate: f.rate, Loudness: f.loud}
	a.Energy = f.energy()
	ons := f.findOnsets()
	h := &hearing{features: f, onsets: ons, locks: o.Locks}
	if len(kept(ons)) >= leastOnsets || len(o.Locks.Taps) >= leastTaps {
		h.findBeats(a)
	}
	settled := slices.Clone(ons)
	settle(settled, h.pulses)
	settled = kept(settled)
	a.Hits = f.findHits(settled)
	for _, n := range settled {
		a.Onsets = append(a.Onsets, n.at)
	}
	a.Sections = f.findSections(a.barLines(), a.Duration)
	return a
}

// energy maps short-term loudness to 0..1: 20 LU under the integrated loudness
// to 6 LU over it.
func (f *features) energy() []float32 {
	out := make([]float32, len(f.short))
	for i, v := range f.short {
		if v > quietest {
			out[i] = min(1, max(0, (v-float32(f.loud.Integrated)+20)/26))
		}
	}
	return out
}

// barLines are the downbeats, or marks two seconds apart where there are none.
func (a *Analysis) barLines() []float64 {
	if len(a.Downbeats) >= leastBeats {
		return a.Downbeats
	}
	var out []float64
	for t := 0.0; t+1 < a.Duration; t += 2 {
		out = append(out, t)
	}
	return out
}

// hearing is the work on one recording: from pulses to beats to bars.
type hearing struct {
	*features
	onsets  []onset
	locks   Locks
	parts   []part
	pulses  []float64
	ticks   *ticks
	clarity float64 // how plain the pulse is, 0..1
}

// findBeats fills in everything about tempo, beats and bars.
func (h *hearing) findBeats(a *Analysis) {
	tracked := h.track()
	h.parts = findParts(tracked, h.onsets, h.duration)
	h.pulses = times(h.parts)
	if len(h.pulses) < leastBeats {
		h.pulses = nil
		return
	}
	h.ticks = newTicks(h.features, h.pulses)
	rs := h.heed(h.ticks.readings(strong(h.onsets)))
	if len(rs) == 0 {
		return
	}
	best, share := choose(rs)
	r := rs[best]
	h.snap(r)
	beats := h.beatsOf(r)
	if len(beats) < leastBeats {
		return
	}
	a.Beats = beats
	h.describeParts(a, r)
	a.Alternatives = alternatives(rs, share, r)
	bar := h.findBars(a)
	a.Metre = h.metre(r, bar.beats)
	h.confide(a, rs, share, r, bar)
}

// track follows the plainest pulse through the song, or the user's tempo.
func (h *hearing) track() []float64 {
	z := salience(h.detection())
	per := periods()
	if bpm := h.locks.tempo(); bpm > 0 {
		per = periodsNear(bpm)
	}
	gram := tempogram(z, per)
	path := tempoPath(gram)
	for i, p := range path {
		h.clarity += max(0, gram[i][p]) / float64(len(path))
	}
	at := func(frame int) float64 {
		return per[path[min(len(path)-1, int(float64(frame)/(tempoHop*fluxRate)))]]
	}
	var out []float64
	for _, t := range trackPulses(z, at, tightness) {
		out = append(out, float64(t)/fluxRate)
	}
	return out
}

const tightness = 40 // of the tracker's hold on the period

// choose gives the best reading and the share of each in the whole (softmax).
func choose(rs []reading) (best int, share []float64) {
	for i := range rs {
		for j, v := range rs[i].x {
			rs[i].score += tactusWeights[j] * v
		}
		if rs[i].score > rs[best].score {
			best = i
		}
	}
	share = make([]float64, len(rs))
	sum := 0.0
	for i := range rs {
		share[i] = math.Exp(rs[i].score - rs[best].score)
		sum += share[i]
	}
	for i := range share {
		share[i] /= sum
	}
	return best, share
}

// beatsOf lists the beats of a reading from the first sound to the last.
func (h *hearing) beatsOf(r reading) []float64 {
	var out []float64
	at := h.ticks.at
	for i := r.phase; i < len(at); i += r.cycle {
		out = append(out, at[i])
	}
	if len(out) < 2 {
		return nil
	}
	for step := out[1] - out[0]; out[0]-step > -0.03; {
		out = slices.Insert(out, 0, math.Max(0, out[0]-step))
	}
	n := len(out)
	for step := out[n-1] - out[n-2]; out[len(out)-1]+step < h.duration-0.05; {
		out = append(out, out[len(out)-1]+step)
	}
	return h.sounding(out)
}

// sounding leaves out the beats before the first onset and long after the last.
func (h *hearing) sounding(beats []float64) []float64 {
	first, last := h.duration, 0.0
	for _, o := range h.onsets {
		if o.rise >= clearRise {
			first, last = min(first, o.at), max(last, o.at)
		}
	}
	return slices.DeleteFunc(beats, func(t float64) bool { return t < first-0.05 || t > last+4 })
}

// findBars groups the beats.
func (h *hearing) findBars(a *Analysis) barring {
	b := newBeatFacts(h.features, a.Beats, firstStrong(h.onsets))
	rs := h.heedBars(b.barrings(), a.Beats)
	if len(rs) == 0 {
		return barring{beats: 4, share: 0}
	}
	best := 0
	for i := range rs {
		for j, v := range rs[i].x {
			rs[i].score += barWeights[j] * v
		}
		if rs[i].score > rs[best].score {
			best = i
		}
	}
	sum := 0.0
	for i := range rs {
		sum += math.Exp(rs[i].score - rs[best].score)
	}
	r := rs[best]
	r.share = 1 / sum
	for i := r.phase; i < len(a.Beats); i += r.beats {
		a.Downbeats = append(a.Downbeats, a.Beats[i])
	}
	return r
}
