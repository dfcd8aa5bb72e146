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
	faint := faintShare(ons)
	h := &hearing{features: f, onsets: ons, locks: o.Locks}
	if len(kept(ons, faint)) >= leastOnsets || len(o.Locks.Taps) >= LeastTaps {
		h.findBeats(a)
	}
	settled := slices.Clone(ons)
	settle(settled, h.pulses)
	settled = kept(settled, faint)
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
	cycles  []int   // ticks in a beat, of each part
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
	h.ticks = newTicks(h.features, h.pulses, firstStrong(h.onsets))
	rs := h.heed(h.ticks, h.ticks.readings(strong(h.onsets)))
	if len(rs) == 0 {
		return
	}
	best, share := choose(rs)
	r := rs[best]
	h.split(r)
	h.count(r)
	h.snap()
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
		rs[i].weigh()
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

// count settles how many ticks make a beat in each part, unless split has.
func (h *hearing) count(r reading) {
	if len(h.cycles) > 0 {
		return
	}
	for _, p := range h.parts {
		c := r.cycle
		if len(h.parts) > 1 {
			c = h.readAgain(h.ticks.between(p.from, p.to), r, sameCycle).cycle
		}
		h.cycles = append(h.cycles, c)
	}
}

// beatsOf lists the beats of a reading from the first sound to the last. Each
// part finds its own phase: after a halt the beat need not go on where the
// pulse, counted through, would have it.
func (h *hearing) beatsOf(r reading) []float64 {
	var out []float64
	for i, p := range h.parts {
		v := h.ticks.between(p.from, p.to)
		q := r
		if len(h.parts) > 1 {
			r.cycle = h.cycles[i]
			q = h.readAgain(v, r, math.Inf(1))
		} else if i == 0 {
			v = h.ticks
		}
		for j := q.phase; j < len(v.at); j += q.cycle {
			if t, n := v.at[j], len(out); n < 2 || t-out[n-1] > 0.5*(out[n-1]-out[n-2]) {
				out = append(out, t)
			}
		}
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

// sameCycle is what a part's own reading must score above the song's to count
// the pulse in another way.
const sameCycle = 3.0

// readAgain chooses the reading of one part; one with another cycle than r is
// held back by other.
func (h *hearing) readAgain(v *ticks, r reading, other float64) reading {
	rs := h.heed(v, v.readings(h.strongIn(v)))
	best := -1
	score := func(i int) float64 {
		s := rs[i].score
		if rs[i].cycle != r.cycle {
			s -= other
		}
		return s
	}
	for i := range rs {
		rs[i].weigh()
		if best < 0 || score(i) > score(best) {
			best = i
		}
	}
	if best < 0 {
		// too short to tell: go on counting from the start of the song
		return reading{cycle: r.cycle, phase: mod(r.phase-v.first, r.cycle)}
	}
	return rs[best]
}

func mod(a, n int) int { return (a%n + n) % n }

func (h *hearing) strongIn(v *ticks) int {
	if len(v.at) == 0 {
		return 0
	}
	return strong(onsetsIn(h.onsets, v.at[0], v.at[len(v.at)-1]))
}

// sounding leaves out the beats before the first onset, and all but one after the last.
func (h *hearing) sounding(beats []float64) []float64 {
	first, last := h.duration, 0.0
	for _, o := range h.onsets {
		if o.rise >= loudRise {
			first, last = min(first, o.at), max(last, o.at)
		}
	}
	n := len(beats)
	last += 1.05 * (beats[n-1] - beats[n-2])
	return slices.DeleteFunc(beats, func(t float64) bool { return t < first-0.05 || t > last })
}

// findBars groups the beats: into bars of one length for the song, beginning
// anew in each part.
func (h *hearing) findBars(a *Analysis) barring {
	b := newBeatFacts(h.features, a.Beats, firstStrong(h.onsets))
	rs := h.heedBars(weighBars(b.barrings()), a.Beats)
	if len(rs) == 0 {
		return barring{beats: 4, share: 0}
	}
	best := bestBarring(rs)
	sum := 0.0
	for i := range rs {
		sum += math.Exp(rs[i].score - rs[best].score)
	}
	r := rs[best]
	r.share = 1 / sum
	a.Downbeats = h.downbeats(a, b, r)
	return r
}

// downbeats applies a barring, part by part.
func (h *hearing) downbeats(a *Analysis, b *beatFacts, r barring) []float64 {
	var out []float64
	for i := range a.Parts {
		from, to := beatRange(a.Beats, a.Parts, i)
		phase := mod(r.phase-from, r.beats)
		if len(a.Parts) > 1 && to-from >= 8*r.beats {
			own := weighBars(b.between(from, to).barrings())
			own = slices.DeleteFunc(own, func(q barring) bool { return q.beats != r.beats })
			own = h.heedBars(own, a.Beats[from:to])
			if len(own) > 0 {
				phase = own[bestBarring(own)].phase
			}
		}
		for k := from + phase; k < to; k += r.beats {
			out = append(out, a.Beats[k])
		}
	}
	return out
}

// beatRange gives the beats of part i: from, to.
func beatRange(beats []float64, parts []Part, i int) (from, to int) {
	from, _ = slices.BinarySearch(beats, parts[i].From-0.03)
	to, _ = slices.BinarySearch(beats, parts[i].To-0.03)
	if i == 0 {
		from = 0
	}
	if i == len(parts)-1 {
		to = len(beats)
	}
	return from, to
}

func weighBars(rs []barring) []barring {
	for i := range rs {
		for j, v := range rs[i].x {
			rs[i].score += barWeights[j] * v
		}
	}
	return rs
}

func bestBarring(rs []barring) int {
	best := 0
	for i := range rs {
		if rs[i].score > rs[best].score {
			best = i
		}
	}
	return best
}
