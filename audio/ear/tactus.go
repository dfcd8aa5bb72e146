package ear

import (
	"math"
)

// A reading is one way to count the pulse: a beat every cycle ticks, from phase on.
type reading struct {
	cycle, phase int
	bpm          float64
	x            []float64 // what speaks for or against it
	score        float64
}

var beatCycles = []int{4, 6, 8, 9, 12, 16, 18, 24, 36, 48}

// readings lists every reading between 40 and 250 beats a minute of a stretch
// with so many strong onsets.
func (k *ticks) readings(onsets int) []reading {
	var out []reading
	mean := fold(k.total, 1, 0)
	var bands [bandCount]float64
	for b := range bands {
		bands[b] = fold(k.power[b], 1, 0)
	}
	for _, c := range beatCycles {
		bpm := 60 / (k.pulse * float64(c) / ticksPerPulse)
		if bpm < 40 || bpm > 250 || len(k.at) < 4*c {
			continue
		}
		for p := range c {
			if fold(k.total, c, p) < 0.5*mean {
				continue
			}
			r := reading{cycle: c, phase: p, bpm: bpm}
			k.describe(&r, mean, bands, onsets)
			out = append(out, r)
		}
	}
	return out
}

const softLog = 0.15 // keeps logarithms of nearly empty places small

func ratio(a, b float64) float64 { return math.Log((a + softLog) / (b + softLog)) }

const softLift = 0.02

func liftRatio(a, b float64) float64 { return math.Log((a + softLift) / (b + softLift)) }

// describe fills in the features of a reading.
func (k *ticks) describe(r *reading, mean float64, bands [bandCount]float64, onsets int) {
	c, p := r.cycle, r.phase
	add := func(v ...float64) { r.x = append(r.x, v...) }
	// tempo
	lb := math.Log(r.bpm / 120)
	add(lb, lb*lb, max(0, -lb-0.4), max(0, lb-0.4))
	// density of onsets
	perBeat := float64(onsets) / (float64(len(k.at)) / float64(c))
	ld := math.Log(perBeat/2 + 0.05)
	add(ld, ld*ld)
	// energy on the beat, per band, and between the beats
	add(ratio(fold(k.total, c, p), mean))
	for b := range bands {
		add(ratio(fold(k.power[b], c, p), bands[b]))
	}
	add(ratio(fold(k.total, c, p+c/2), mean))
	add(ratio(fold(k.power[bandLow], c, p+c/2), bands[bandLow]))
	add(ratio(fold(k.power[bandHigh], c, p+c/2), bands[bandHigh]))
	add(ratio((foldNear(k.total, c, p, 1, 4)+foldNear(k.total, c, p, 3, 4))/2, mean))
	add(ratio((foldNear(k.total, c, p, 1, 3)+foldNear(k.total, c, p, 2, 3))/2, mean))
	add(ratio(fold(k.power[bandMid], c, p+c/2), bands[bandMid]))
	one, two, half := foldNear(k.total, c, p, 1, 3), foldNear(k.total, c, p, 2, 3), fold(k.total, c, p+c/2)
	add(ratio(min(one, two), mean), ratio(min(one, two), half), ratio(two, half))
	add(k.threes(bandLow, c, p), k.threes(bandMid, c, p))
	// alternation of low and high from beat to beat: the back beat
	var d [bandCount]float64
	for b := range d {
		d[b] = ratio(fold(k.power[b], 2*c, p), fold(k.power[b], 2*c, p+c))
	}
	up := (d[bandMid] + d[bandHigh]) / 2
	add(math.Abs(d[bandLow]-up), math.Abs(d[bandLow]+up), math.Abs(d[bandLow]), math.Abs(d[bandMid]), math.Abs(d[bandHigh]))
	// the same within the beat: kick on the beat, snare between, says the beat is twice as fast
	for b := range d {
		d[b] = ratio(fold(k.power[b], c, p), fold(k.power[b], c, p+c/2))
	}
	up = (d[bandMid] + d[bandHigh]) / 2
	add(math.Abs(d[bandLow]-up), d[bandLow]-up)
	// alternation over four beats
	for b := range d {
		d[b] = ratio(fold(k.power[b], 4*c, p)+fold(k.power[b], 4*c, p+c), fold(k.power[b], 4*c, p+2*c)+fold(k.power[b], 4*c, p+3*c))
		e := ratio(fold(k.power[b], 4*c, p+c)+fold(k.power[b], 4*c, p+2*c), fold(k.power[b], 4*c, p+3*c)+fold(k.power[b], 4*c, p))
		d[b] = math.Sqrt(d[b]*d[b] + e*e)
	}
	add(d[bandLow], d[bandMid], d[bandHigh])
	for _, v := range k.lift {
		all := fold(v, 1, 0)
		add(liftRatio(fold(v, c, p), all), liftRatio(fold(v, c, p), fold(v, c, p+c/2)))
	}
	k.describeHarmony(r)
	// a swung off-beat comes late, never early
	add(ratio(two, one))
	// the loudest hits stand on beats
	add(ratio(fold(k.accent, c, p), fold(k.accent, c, p+c/2)), ratio(fold(k.accent, c, p), fold(k.accent, 1, 0)))
	add(k.opens(c, p), k.opens(c, p+c/2))
	k.describeRepeats(r)
}

// describeRepeats adds how like the song is to itself some beats later, and
// whether it is more so some beats and a half later: a bar holds whole beats.
func (k *ticks) describeRepeats(r *reading) {
	c := r.cycle
	whole, between := 0.0, 0.0
	for m := 2; m <= 8; m++ {
		whole = max(whole, k.likeness(m*c))
		between = max(between, k.likeness(m*c-c/2))
	}
	r.x = append(r.x, whole, between-whole, k.likeness(c)-whole, k.likeness(2*c)-whole, k.likeness(3*c)-whole, k.likeness(4*c)-whole)
}

// opens says whether the first sound of the song stands on a cycle's phase:
// songs mostly begin on a beat.
func (k *ticks) opens(cycle, phase int) float64 {
	if k.opening < 0 {
		return 0
	}
	off := mod(k.opening-phase, cycle)
	return truthy(min(off, cycle-off) <= max(1, cycle/12))
}

// foldNear folds at num/den of a cycle behind phase. Where that falls between
// two ticks the weaker of them counts: it cannot be told from its neighbours.
func foldNear(v []float64, cycle, phase, num, den int) float64 {
	at := phase + cycle*num/den
	if cycle*num%den == 0 {
		return fold(v, cycle, at)
	}
	return min(fold(v, cycle, at), fold(v, cycle, at+1))
}

// threes is how far one beat in three stands out in a band.
func (k *ticks) threes(band, c, p int) float64 {
	top := 0.0
	for i := range 3 {
		top = max(top, fold(k.power[band], 3*c, p+i*c))
	}
	return ratio(top, fold(k.power[band], c, p))
}

// describeHarmony adds how the pitches change on the beat, off it, and on
// every second, third and fourth beat.
func (k *ticks) describeHarmony(r *reading) {
	span := k.pulse * float64(r.cycle) / ticksPerPulse
	var on, off []float64
	for i := r.phase; i < len(k.at); i += r.cycle {
		t, b := k.tone.change(k.at[i], span)
		on = append(on, t+b)
		if j := i + r.cycle/2; j < len(k.at) {
			t, b = k.tone.change(k.at[j], span)
			off = append(off, t+b)
		}
	}
	m := fold(on, 1, 0)
	r.x = append(r.x, 10*(m-fold(off, 1, 0)), math.Log(m+0.02))
	for _, n := range []int{2, 3, 4, 8} {
		top := 0.0
		for p := range n {
			top = max(top, fold(on, n, p))
		}
		r.x = append(r.x, math.Log((top+0.02)/(m+0.02)))
	}
}

// strong counts the onsets that a listener would notice.
func strong(ons []onset) int {
	n := 0
	for _, o := range ons {
		if o.rise >= loudRise {
			n++
		}
	}
	return n
}

func truthy(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// firstStrong is the time of the first onset that a listener would notice.
func firstStrong(ons []onset) float64 {
	for _, o := range ons {
		if o.rise >= loudRise {
			return o.at
		}
	}
	return -1
}

// weigh adds up the features of a reading.
func (r *reading) weigh() {
	r.score = 0
	for j, v := range r.x {
		r.score += tactusWeights[j] * v
	}
}
