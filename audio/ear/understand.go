package ear

import (
	"math"
	"slices"

	"emberbeat/timeline"
)

// understand makes an Analysis of features: everything after the front end.
func understand(f *features, o Options) *Analysis {
	a := &Analysis{Duration: f.duration, Rate: f.rate}
	ons := f.findOnsets()
	if len(ons) < 4 {
		return a
	}
	parts := findParts(f.pulses(), ons, f.duration)
	pulses := times(parts)
	settled := slices.Clone(ons)
	settle(settled, pulses)
	for _, n := range kept(settled) {
		a.Onsets = append(a.Onsets, n.at)
	}
	if len(pulses) < 8 {
		return a
	}
	k := newTicks(f, pulses)
	rs := k.readings(strong(ons))
	if len(rs) == 0 {
		return a
	}
	weigh(rs)
	best := 0
	for i := range rs {
		if rs[i].score > rs[best].score {
			best = i
		}
	}
	r := rs[best]
	for i := r.phase; i < len(k.at); i += r.cycle {
		a.Beats = append(a.Beats, k.at[i])
	}
	a.complete(parts, k.pulse*float64(r.cycle)/ticksPerPulse)
	a.BPM = 60 / (k.pulse * float64(r.cycle) / ticksPerPulse)
	a.bars(f, ons)
	for _, p := range parts {
		q := Part{From: p.from, To: p.to, Steady: p.steady, BPM: a.BPM}
		if p.steady {
			q.Offset = p.offset
		}
		a.Parts = append(a.Parts, q)
	}
	a.Steady = len(parts) == 1 && parts[0].steady
	return a
}

// pulses tracks the plainest pulse through the song.
func (f *features) pulses() []float64 {
	z := salience(f.detection())
	per := periods()
	path := tempoPath(tempogram(z, per))
	at := func(frame int) float64 {
		return per[path[min(len(path)-1, int(float64(frame)/(tempoHop*fluxRate)))]]
	}
	var out []float64
	for _, t := range trackPulses(z, at, tightness) {
		out = append(out, float64(t)/fluxRate)
	}
	return out
}

const tightness = 40

func weigh(rs []reading) {
	for i := range rs {
		for j, v := range rs[i].x {
			rs[i].score += tactusWeights[j] * v
		}
	}
}

// complete adds the beats before the first and after the last pulse, as far as
// the music goes.
func (a *Analysis) complete(parts []part, period float64) {
	if len(a.Beats) == 0 {
		return
	}
	for t := a.Beats[0] - period; t > -0.03; t -= period {
		a.Beats = append([]float64{math.Max(0, t)}, a.Beats...)
	}
	for t := a.Beats[len(a.Beats)-1] + period; t < a.Duration-0.05; t += period {
		a.Beats = append(a.Beats, t)
	}
}

func (a *Analysis) bars(f *features, ons []onset) {
	b := newBeatFacts(f, a.Beats, firstStrong(ons))
	rs := b.barrings()
	if len(rs) == 0 {
		return
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
	r := rs[best]
	a.Metre = timeline.Metre{Num: r.beats, Den: 4}
	for i := r.phase; i < len(a.Beats); i += r.beats {
		a.Downbeats = append(a.Downbeats, a.Beats[i])
	}
}
