// Package anew finds a song again in a recording of it that was played anew: with
// other sounds, in another key, at another and changing speed, in another order,
// by other hands.
//
// Its one rule: a stretch counts when what sounds and what begins agree along all
// of it, by more than different songs ever do. It looks at every pair of places
// and at every speed, so that it hangs on no beat having been heard rightly in
// either recording.
package anew

import (
	"cmp"
	"context"
	"math"
	"slices"
)

// Run is a stretch of the old recording that is heard again in the new one, in seconds.
type Run struct {
	Old, New float64 // where it begins in either
	Length   float64 // in the new recording
	Rate     float64 // old seconds in one new second
	Sure     float64 // 0 no idea .. 1
}

func (r Run) newEnd() float64 { return r.New + r.Length }

// The speeds at which a song played anew is looked for, as logarithms: first over
// all that a band would do to a song, then around what was found. Judgements.
const (
	widestRate = 0.30
	wideStep   = 0.03
	rateReach  = 0.12
	rateStep   = 0.01
)

// mostStates bounds the memory of the search for the path, in bytes. What is
// longer is searched at fewer rates.
const (
	mostStates = 90 << 20
	leastRates = 9
)

const (
	shortest   = 5.0   // s, of a stretch that counts
	neighbours = 1.0   // s between stretches that are taken to follow each other
	edgeReach  = 2.0   // s by which a stretch may go on before and after what harmony shows
	fileEnd    = 1.5   // s before the ends of a recording that belong to what comes next
	leastLeft  = 2.0   // s of a stretch that its neighbours must leave
	plainOff   = 0.002 // s by which a straight run may miss the line
)

// Comparable says whether two recordings of so many seconds can be compared at every
// pair of places: songs of up to 11 minutes, or one of four with a concert of half an hour.
func Comparable(old, new float64) bool {
	return old*new*wideRate*wideRate*leastRates <= mostStates
}

// Find gives the stretches of old that are heard again in new, outside of what the
// fixed runs hold of new: those are known, and say besides that it is the same song.
// A stretch whose speed changes is many runs that touch; stretches may differ in key.
// Other songs give none, and so do recordings that are not Comparable. It stops with
// ctx.Err() soon after ctx ends.
func Find(ctx context.Context, old, new *Sound, fixed []Run) ([]Run, error) {
	lines, err := trace(ctx, old, new, fixed)
	if err != nil {
		return nil, err
	}
	var out []Run
	for _, t := range lines {
		out = append(out, t.runs()...)
	}
	out = besides(out, fixed)
	held := slices.Concat(fixed, out)
	if len(held) == 0 {
		return nil, nil // another song
	}
	more, err := otherKeys(ctx, old, new, held)
	out = append(out, more...)
	slices.SortFunc(out, func(a, b Run) int { return cmp.Compare(a.New, b.New) })
	return out, err
}

// traced is a stretch of the song played anew and what speaks for each of its knots.
type traced struct {
	line
	weight float64 // likeness gained, times the agreement of what begins
	rivals []rival
	twin   bool      // could as well be elsewhere
	sure   []float64 // confidence at each knot
}

// proven leaves the lines that have enough weight, none if no line proves that this
// is the same song at all.
func proven(ts []traced, known bool) []traced {
	for _, t := range ts {
		known = known || t.weight >= songWeight
	}
	return slices.DeleteFunc(ts, func(t traced) bool { return !known || t.weight < lineWeight })
}

// trace finds where the song was played anew.
func trace(ctx context.Context, old, new *Sound, fixed []Run) ([]traced, error) {
	cells := len(old.tone) * len(new.tone)
	if cells == 0 || !Comparable(old.seconds, new.seconds) {
		return nil, nil
	}
	shift, rate, err := findKey(ctx, old, new)
	if err != nil {
		return nil, err
	}
	like := compare(old, new, shift)
	like.rank()
	like.hold(fixed)
	n := min(int(math.Round(rateReach/rateStep)), (mostStates/cells-1)/2)
	rs := ratesAround(rate, float64(n)*rateStep, rateStep)
	strands, err := bestPath(ctx, like, rs, pathCosts{turn: 1, jump: 30, into: 15})
	if err != nil {
		return nil, err
	}
	p := &pair{old: old, new: new, like: like, a: old.rise.turned(shift).evened(), b: new.rise.evened()}
	p.wideA, p.wideB = p.a.widened(), p.b.widened()
	var out []traced
	for _, s := range strands {
		if len(s.old) < shortest*wideRate {
			continue
		}
		l := s.base(rs).refined(p.a, p.b)
		t := traced{line: l, weight: s.gain * p.agreement(l, l.first().new, l.last().new)}
		out = append(out, p.best(t))
	}
	out = proven(out, len(fixed) > 0)
	for i := range out {
		out[i].twin = ambiguous(out, i)
	}
	out = p.join(out)
	for i := range out {
		out[i].prove(p)
	}
	return out, ctx.Err()
}

// pair is two recordings while they are compared: old in the key of new.
type pair struct {
	old, new     *Sound
	like         *likeness
	a, b         rises // what begins in old and new
	wideA, wideB rises // the same, with less care for the instant
}

// agreement is how well what begins agrees along a line between two new times.
func (p *pair) agreement(l line, from, to float64) float64 {
	e := l.evidence(p.wideA, p.wideB, p.like, from, to)
	return e.proof().agreement()
}

// runs are the proved stretches of a line, as straight pieces.
func (t *traced) runs() []Run {
	var out []Run
	grade := func(i int) int {
		switch s := t.sure[i]; {
		case s == 0:
			return 0
		case s < 0.8:
			return 1
		}
		return 2
	}
	for i := 0; i+1 < len(t.line); {
		j, sum := i+1, t.sure[i]
		for ; j < len(t.line) && grade(j) == grade(i); j++ {
			sum += t.sure[j]
		}
		end := min(j, len(t.line)-1)
		if grade(i) > 0 {
			l := t.line[i : end+1].plain(plainOff)
			for k := 1; k < len(l); k++ {
				p, q := l[k-1], l[k]
				if q.old > p.old {
					out = append(out, Run{Old: p.old, New: p.new, Length: q.new - p.new, Rate: (q.old - p.old) / (q.new - p.new), Sure: sum / float64(j-i)})
				}
			}
		}
		i = end
		if end == j {
			continue
		}
	}
	return out
}

// besides cuts off what fixed runs hold of the new recording.
func besides(runs, fixed []Run) []Run {
	for _, f := range fixed {
		var out []Run
		for _, r := range runs {
			if r.newEnd() <= f.New || f.newEnd() <= r.New {
				out = append(out, r)
				continue
			}
			if r.New < f.New {
				p := r
				p.Length = f.New - r.New
				out = append(out, p)
			}
			if r.newEnd() > f.newEnd() {
				p := r
				d := f.newEnd() - r.New
				p.Old, p.New, p.Length = r.Old+d*r.Rate, f.newEnd(), r.Length-d
				out = append(out, p)
			}
		}
		runs = out
	}
	return runs
}

// findKey finds by how many semitones the old recording must be raised, and the
// speed at which most of it is in the new one.
func findKey(ctx context.Context, old, new *Sound) (shift int, rate float64, err error) {
	old, new = old.halved(), new.halved()
	best := 0.0
	rate = 1
	for k := range classes {
		if err := ctx.Err(); err != nil {
			return 0, 0, err
		}
		l := compare(old, new, k)
		for _, r := range ratesAround(1, widestRate, wideStep) {
			if g := l.bestLine(r); g > best {
				best, shift, rate = g, k, r
			}
		}
	}
	return shift, rate, nil
}
