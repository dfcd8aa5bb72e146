package ear

import (
	"math"
	"sort"
)

// Label names what an onset sounds like.
type Label string

// Labels in the order of Hit.Probability.
var Labels = [labelCount]Label{Kick, Snare, Hat, Crash, Tonal}

// The labels.
const (
	Kick  Label = "kick"
	Snare Label = "snare"
	Hat   Label = "hat"
	Crash Label = "crash"
	Tonal Label = "tonal"

	labelCount = 5
)

// Bands a hit can be strongest in.
var bandNames = [bandCount]string{"low", "mid", "mid", "high"}

const (
	accentRank = 0.95 // strength from which a hit can be an accent
	bandRank   = 0.60 // rank in a band from which the band takes part in it
	stopFall   = 12.0 // dB
	restFall   = 25.0 // dB under what follows
)

// findHits describes the onsets that stand.
func (f *features) findHits(ons []onset) []Hit {
	hits := make([]Hit, len(ons))
	strength := make([]float64, len(ons))
	var band [bandCount][]float64
	for i, o := range ons {
		jump := f.level(o.at, o.at+0.1) - f.level(o.at-0.4, o.at-0.01)
		strength[i] = o.rise + 0.02*math.Max(0, jump) + 0.02*f.level(o.at, o.at+0.05)
		for b := range band {
			band[b] = append(band[b], o.bands[b])
		}
	}
	rank := ranks(strength)
	var bands [bandCount][]float64
	for b := range band {
		bands[b] = ranks(band[b])
	}
	for i, o := range ons {
		h := Hit{At: o.at, Sigma: o.sigma, Strength: rank[i]}
		wide, top := 0, 0
		for b := range bands {
			if bands[b][i] >= bandRank {
				wide++
			}
			if o.bands[b] > o.bands[top] {
				top = b
			}
		}
		h.Band = bandNames[top]
		h.Accent = rank[i] >= accentRank && wide >= 3
		h.Stop = f.level(o.at, o.at+0.05)-f.level(o.at+0.20, o.at+0.30) > stopFall && f.level(o.at+0.2, o.at+0.3) < f.level(o.at+0.3, o.at+0.6)+3
		h.AfterRest = f.level(o.at, o.at+0.1)-f.level(o.at-0.4, o.at-0.04) > restFall
		h.Probability = f.labels(o)
		best := 0
		for l, p := range h.Probability {
			if p > h.Probability[best] {
				best = l
			}
		}
		h.Label = Labels[best]
		hits[i] = h
	}
	return hits
}

// level is the mean power between two times, in dB, at least -100.
func (f *features) level(from, to float64) float64 {
	a, b := max(0, int(from*fluxRate+0.5)), min(len(f.power), int(to*fluxRate+0.5)+1)
	sum := 0.0
	for i := a; i < b; i++ {
		sum += float64(f.power[i])
	}
	if b <= a || sum <= 0 {
		return -100
	}
	return math.Max(-100, 10*math.Log10(sum/float64(b-a)))
}

// labels weighs what the bands and the decay say. The weights are common
// practice of drum tuning put into numbers: a kick is low and short, a snare
// wide, a hat high and short, a crash high and long; the rest is tonal.
func (f *features) labels(o onset) [labelCount]float64 {
	sum := 1e-3
	for _, v := range o.bands {
		sum += v
	}
	low, body := o.bands[bandLow]/sum, o.bands[bandLowMid]/sum
	mid, high := o.bands[bandMid]/sum, o.bands[bandHigh]/sum
	tail := f.tail(o.at)
	score := [labelCount]float64{
		10*low - 5*high - 1.5,
		5*(mid+body) + 5*high - 8*math.Abs(high-0.4) - 4*low - 2,
		9*high - 3*low - 3*mid - 2.5*tail - 2.5,
		7*high + 4*tail - 4*low - 4.5,
		4*(mid+body) - 7*high - 3*low + 1.5*tail - 1,
	}
	top, all := math.Inf(-1), 0.0
	for _, s := range score {
		top = math.Max(top, s)
	}
	for i, s := range score {
		score[i] = math.Exp(s - top)
		all += score[i]
	}
	for i := range score {
		score[i] /= all
	}
	return score
}

// tail says how much of the high band still sounds 0.4 s after an attack, 0..1.
func (f *features) tail(at float64) float64 {
	e := f.env[envHigh]
	c := int(at * envRate)
	if c+450 >= len(e) {
		return 0
	}
	var early, late int
	for i := range 50 {
		early += int(e[c+i])
		late += int(e[c+400+i])
	}
	fall := float64(early-late) / 50 * envStep
	return math.Min(1, math.Max(0, 1-fall/24))
}

// ranks gives each value's rank among all, 0..1; equal values share theirs.
func ranks(v []float64) []float64 {
	s := append([]float64(nil), v...)
	sort.Float64s(s)
	out := make([]float64, len(v))
	for i, x := range v {
		lo, hi := sort.SearchFloat64s(s, x), sort.Search(len(s), func(j int) bool { return s[j] > x })
		out[i] = float64(lo+hi) / float64(2*len(s))
	}
	return out
}
