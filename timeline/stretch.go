package timeline

import (
	"fmt"
	"math/big"
)

// stretch is the part of a beat map from one anchor on, in which the tempo and
// the metre are even: `beats` beats last `ticks` units.
type stretch struct {
	bar   int   // the anchor's bar
	beat  Rat   // and its beats after the start of the bar
	from  Time  // the anchor's time
	metre Metre // in force
	beats Rat   // positive
	ticks int64 // positive
}

func (s *stretch) start(a Anchor) {
	s.bar, s.beat, s.from = a.Bar, a.Beat, a.At
}

// continueFrom takes over the tempo of the stretch before. Where the metre
// changes at the same time it is the note values that keep their length: an
// eighth after a quarter is half as long.
func (s *stretch) continueFrom(before stretch, a Anchor) {
	s.start(a)
	s.ticks = before.ticks
	s.beats = before.beats.Mul(NewRat(int64(s.metre.Den), int64(before.metre.Den)))
}

// fromAnchor returns the number of beats from the anchor to a place, counted
// with the metre of the stretch.
func (s *stretch) fromAnchor(p BarBeat) Rat {
	bars := int64(p.Bar-s.bar) * int64(s.metre.Num)
	return NewRat(bars, 1).Add(p.Beat.Sub(s.beat))
}

// checkTempo compares the tempo with the limits, exactly.
func (s *stretch) checkTempo(a, b Anchor) error {
	atLimit := func(bpm int64) Rat { return NewRat(bpm, 1).Mul(NewRat(s.ticks, int64(Minute))) }
	if s.beats.Cmp(atLimit(minTempo)) < 0 || s.beats.Cmp(atLimit(maxTempo)) > 0 {
		return fmt.Errorf("tempo from anchor %s to anchor %s is %.1f beats/min: it must be from %d to %d", a, b, s.bpm(), minTempo, maxTempo)
	}
	return nil
}

func (s *stretch) bpm() float64 {
	return float64(s.beats.num) / float64(s.beats.Den()) / Time(s.ticks).Seconds() * 60
}

// at returns the time of a place on the straight line of the stretch.
func (s *stretch) at(p BarBeat) Time {
	if ticks, ok := s.ticksTo(p); ok {
		if t := s.from + Time(ticks); (t > s.from) == (ticks > 0) {
			return t
		}
	}
	return s.atSlowly(p)
}

// ticksTo is the fast way, without allocation, for places of the position
// grammar between ordinary anchors. It reports false where a product might not
// fit.
func (s *stretch) ticksTo(p BarBeat) (int64, bool) {
	if !fits(p.Beat) || !fits(s.beat) || !fits(s.beats) {
		return 0, false
	}
	bars := int64(p.Bar-s.bar) * int64(s.metre.Num)
	pd, sd := p.Beat.Den(), s.beat.Den()
	n := (bars*pd+p.Beat.num)*sd - s.beat.num*pd
	num, okNum := mulRoundDiv(n, s.beats.Den(), 1)
	den, okDen := mulRoundDiv(pd*sd, s.beats.num, 1)
	if !okNum || !okDen {
		return 0, false
	}
	return mulRoundDiv(s.ticks, num, den)
}

// fits reports whether r has the size of the position grammar.
func fits(r Rat) bool {
	const limit = maxRatNumber * maxRatDen
	return r.denLess1 < maxRatDen && -limit <= r.num && r.num <= limit
}

// atSlowly is the plain twin of at for all values.
func (s *stretch) atSlowly(p BarBeat) Time {
	bars := new(big.Rat).SetInt64(int64(p.Bar - s.bar))
	beats := bars.Mul(bars, new(big.Rat).SetInt64(int64(s.metre.Num)))
	beats.Add(beats, p.Beat.big()).Sub(beats, s.beat.big())
	beats.Mul(beats, new(big.Rat).SetInt64(s.ticks)).Quo(beats, s.beats.big())
	ticks := roundBig(beats)
	t := s.from + Time(ticks)
	if (t > s.from) == (ticks > 0) {
		return t
	}
	return Time(clampInt64(ticks < 0))
}

// locate returns the place nearest to t in steps of 1/960 beat.
func (s *stretch) locate(t Time) BarBeat {
	units := s.steps(t, s.bar, NewRat(1, locateGrain))
	perBar := int64(s.metre.Num) * locateGrain
	bars := floorDiv(units, perBar)
	return BarBeat{s.bar + int(bars), NewRat(units-bars*perBar, locateGrain)}
}

// steps returns the number of steps of the given size, in beats, from the
// start of a bar to the time, to the nearest, halves away from zero.
func (s *stretch) steps(t Time, bar int, step Rat) int64 {
	if n, ok := s.stepsQuickly(t, bar, step); ok {
		return n
	}
	return s.stepsSlowly(t, bar, step)
}

// stepsQuickly works on counts of 1/d beat, d the common denominator of the
// anchor's beat and the length of the stretch:
//
//	steps = (offset*ticks + (t-from)*length) * step.Den / (d * ticks * step.num)
//
// It reports false where a product might not fit.
func (s *stretch) stepsQuickly(t Time, bar int, step Rat) (int64, bool) {
	if !fits(s.beat) || !fits(s.beats) || !fits(step) || s.beat.denLess1 > 1<<8 || s.beats.denLess1 > 1<<8 {
		return 0, false
	}
	d := s.beat.Den() * s.beats.Den()
	offset := int64(s.bar-bar)*int64(s.metre.Num)*d + s.beat.num*s.beats.Den()
	length := s.beats.num * s.beat.Den()
	elapsed := int64(t) - int64(s.from)
	offset, okOffset := mulRoundDiv(offset, step.Den(), 1)
	length, okLength := mulRoundDiv(length, step.Den(), 1)
	den, okDen := mulRoundDiv(d*step.num, s.ticks, 1)
	if !okOffset || !okLength || !okDen || (t > s.from) != (elapsed > 0) {
		return 0, false
	}
	return mul64(offset, s.ticks).add(mul64(elapsed, length)).roundDiv(den)
}

// stepsSlowly is the plain twin of steps for all values.
func (s *stretch) stepsSlowly(t Time, bar int, step Rat) int64 {
	elapsed := new(big.Rat).SetInt(new(big.Int).Sub(big.NewInt(int64(t)), big.NewInt(int64(s.from))))
	elapsed.Mul(elapsed, s.beats.big()).Quo(elapsed, new(big.Rat).SetInt64(s.ticks))
	bars := new(big.Rat).SetInt64(int64(s.bar-bar) * int64(s.metre.Num))
	elapsed.Add(elapsed, bars).Add(elapsed, s.beat.big())
	return roundBig(elapsed.Quo(elapsed, step.big()))
}
