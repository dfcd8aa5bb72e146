package ear

import (
	"math"
	"slices"

	"emberbeat/timeline"
)

// snap rounds the tempo of steady parts to the number a person typed in, if
// the attacks do not speak against it: most songs are made at a whole number of
// beats a minute.
func (h *hearing) snap() {
	ref := mainPeriod(h.parts)
	for i := range h.parts {
		p := &h.parts[i]
		if !p.steady {
			continue
		}
		felt := p.level(ref) * float64(h.cycles[i]) / ticksPerPulse
		bpm := 60 / felt
		for _, s := range snaps {
			want := math.Round(bpm*s.parts) / s.parts
			if h.locks.BPM > 0 && math.Abs(h.locks.BPM-bpm) < 0.3 {
				want = h.locks.BPM
			}
			if p.accept(p.period*bpm/want, s.drift, h.onsets) {
				break
			}
		}
	}
	if again := times(h.parts); len(again) == len(h.pulses) {
		h.pulses = again
		h.ticks.move(again)
	}
}

// move lays the ticks anew between pulses that have shifted a little.
func (k *ticks) move(pulses []float64) {
	for i := range len(pulses) - 1 {
		gap := pulses[i+1] - pulses[i]
		for j := range ticksPerPulse {
			k.at[i*ticksPerPulse+j] = pulses[i] + gap*float64(j)/ticksPerPulse
		}
	}
	k.at[len(k.at)-1] = pulses[len(pulses)-1]
}

// level is the period of a steady part near ref: doubled or halved.
func (p *part) level(ref float64) float64 {
	period := p.period
	for period > 1.42*ref {
		period /= 2
	}
	for period < 0.707*ref {
		period *= 2
	}
	return period
}

// snaps are the fractions of a beat a minute that a tempo is rounded to, and how
// far, in s, that may move the ends of a part: whole numbers are likely.
var snaps = []struct{ parts, drift float64 }{{1, 0.012}, {2, 0.004}, {10, 0.002}, {100, 0.001}}

const (
	snapCost = 1.02 // by which the fit may grow worse
)

// accept takes on a rounded period where the fit stays as good.
func (p *part) accept(period, drift float64, ons []onset) bool {
	half := (p.to - p.from) / 2
	if math.Abs(period/p.period-1)*half > drift {
		return false
	}
	q := *p
	q.period = period
	mid := (p.from + p.to) / 2
	q.offset = p.offset + (p.period-period)*math.Round((mid-p.offset)/p.period)
	q.offset += q.late(ons)
	if q.cost(ons) > snapCost*p.cost(ons) {
		return false
	}
	*p = q
	return true
}

// late is the weighted mean distance of near attacks from the pulses.
func (p *part) late(ons []onset) float64 {
	var n, s float64
	for _, o := range onsetsIn(ons, p.from, p.to) {
		r := o.at - p.offset
		r -= p.period * math.Round(r/p.period)
		if u := 1 - (r/0.025)*(r/0.025); u > 0 && o.attack {
			n += o.pull() * u * u
			s += o.pull() * u * u * r
		}
	}
	if n == 0 {
		return 0
	}
	return s / n
}

// cost is the weighted mean square distance of attacks from the pulses, clipped.
func (p *part) cost(ons []onset) float64 {
	var n, s float64
	for _, o := range onsetsIn(ons, p.from, p.to) {
		r := o.at - p.offset
		r -= p.period * math.Round(r/p.period)
		if o.attack && math.Abs(r) < 0.05 {
			n += o.pull()
			s += o.pull() * min(r*r, 0.025*0.025)
		}
	}
	return (s + 1e-9) / (n + 1e-9)
}

// describeParts turns the inner parts into those of the Analysis and sets its tempo.
func (h *hearing) describeParts(a *Analysis, r reading) {
	ref := mainPeriod(h.parts)
	longest := 0.0
	for i, p := range h.parts {
		q := Part{From: p.from, To: p.to, Steady: p.steady, Doubt: 1 - min(1, p.hold)}
		if p.steady {
			q.BPM = 60 / (p.level(ref) * float64(h.cycles[i]) / ticksPerPulse)
			q.Offset = firstFrom(a.Beats, p.from)
		} else {
			q.BPM = medianBPM(a.Beats, p.from, p.to)
			q.Doubt = 1 - 0.7*min(1, h.clarity)
		}
		if q.BPM == 0 {
			q.BPM = 60 / (h.ticks.pulse * float64(r.cycle) / ticksPerPulse)
		}
		if p.to-p.from > longest {
			longest, a.BPM = p.to-p.from, q.BPM
		}
		a.Parts = append(a.Parts, q)
	}
	a.Steady = len(a.Parts) == 1 && a.Parts[0].Steady
}

func firstFrom(beats []float64, t float64) float64 {
	i, _ := slices.BinarySearch(beats, t-0.03)
	if i == len(beats) {
		i--
	}
	return beats[i]
}

func medianBPM(beats []float64, from, to float64) float64 {
	var gaps []float64
	for i := 1; i < len(beats); i++ {
		if beats[i-1] >= from && beats[i] <= to {
			gaps = append(gaps, beats[i]-beats[i-1])
		}
	}
	if g := median(gaps); g > 0 {
		return 60 / g
	}
	return 0
}

// metre names the bar: a beat that falls into three makes it compound.
func (h *hearing) metre(r reading, beats int) timeline.Metre {
	if !h.locks.Metre.IsZero() {
		return h.locks.Metre
	}
	c, p, z := r.cycle, r.phase, h.ticks.total
	if c%12 == 0 && beats <= 4 {
		thirds := min(fold(z, c, p+c/3), fold(z, c, p+2*c/3))
		halves := max(fold(z, c, p+c/2), fold(z, c, p+c/4), fold(z, c, p+3*c/4))
		if thirds > 1.5*halves && thirds > 0.25*fold(z, c, p) {
			return timeline.Metre{Num: 3 * beats, Den: 8}
		}
	}
	return timeline.Metre{Num: beats, Den: 4}
}

var multiples = []struct {
	name  string
	ratio float64
}{{"half", 0.5}, {"double", 2}, {"third", 1. / 3}, {"triple", 3}, {"two thirds", 2. / 3}, {"three halves", 1.5}}

// alternatives lists the other tempi that the same pulse allows.
func alternatives(rs []reading, share []float64, r reading) []Alternative {
	var out []Alternative
	for _, m := range multiples {
		alt := Alternative{Name: m.name}
		for i, q := range rs {
			if math.Abs(q.bpm/r.bpm/m.ratio-1) < 0.01 {
				alt.BPM = q.bpm
				alt.Share += share[i]
			}
		}
		if alt.BPM > 0 {
			out = append(out, alt)
		}
	}
	slices.SortStableFunc(out, func(a, b Alternative) int {
		switch {
		case a.Share > b.Share:
			return -1
		case a.Share < b.Share:
			return 1
		}
		return 0
	})
	return out
}

// confide says how sure the ear is: how plain the pulse is, how well attacks
// hold to the grid, and how far the chosen reading stands before the others.
func (h *hearing) confide(a *Analysis, rs []reading, share []float64, r reading, bar barring) {
	tempo, phase := 0.0, 0.0
	for i, q := range rs {
		if math.Abs(q.bpm/r.bpm-1) < 0.01 {
			tempo += share[i]
			if q.phase == r.phase {
				phase += share[i]
			}
		}
	}
	held, span := 0.0, 0.0
	for _, p := range h.parts {
		g := 0.0
		if p.steady {
			g = min(1, max(0, (p.hold-0.2)/0.5))
		} else {
			g = min(1, max(0, (h.clarity-0.15)/0.5)) * 0.5
		}
		held += g * (p.to - p.from)
		span += p.to - p.from
	}
	held /= max(span, 1e-9)
	plain := min(1, max(0, (h.clarity-0.05)/0.25))
	tempo, phase = min(1, tempo), min(1, phase)
	a.Confidence.Tempo = tempo * held * plain
	a.Confidence.Beats = phase * held * plain
	a.Confidence.Downbeats = bar.share * a.Confidence.Beats
}
