package match

import (
	"cmp"
	"context"
	"math"
	"slices"
)

// stretch is a part of the new recording that follows the old one along a line.
type stretch struct {
	line
	from, to float64 // of the new recording, s: where it is known to
	like     float64 // correlation, 0..1
	off      float64 // how far single probes lie from the line, s
	bands    int     // the old recording lies so many bands higher
	wave     bool    // known by the waveform; else by the spectrum
}

const (
	probeSize       = 8192 // samples at matchRate, 0.74 s
	probeReach      = 512  // 46 ms, two frames
	probeStep       = 1.0  // s from probe to probe, where a piece is long enough
	mostProbes      = 60   // of one piece
	leastLike       = 0.3  // a probe that counts
	proofLike       = 0.5  // one that is proof by itself
	sameLine        = 0.0005
	sameSpectrum    = 0.01
	shortestMatched = 5.0    // s: spectra of two songs may go together for a bar
	shortestRun     = 1.5    // s: a single sound of that pitch and shape can be anywhere
	leastLean       = 0.0001 // s that probes must drift in all to have a rate of their own
)

// comparison is what is needed of two recordings to find the same sound in both.
type comparison struct {
	old, new         *Side
	oldWave, newWave wave // at one rate
	index            *index
	prober           *prober
	oldRows, newRows rows // made when the spectrum is asked
	fine             *fineRows
}

func compare(old, new *Side) *comparison {
	rate := min(old.Rate, new.Rate)
	c := &comparison{old: old, new: new, oldWave: newWave(old, rate), newWave: newWave(new, rate), index: old.marksIndex()}
	c.prober = newProber(c.oldWave, c.newWave, probeSize, probeReach)
	return c
}

// sameSound finds the stretches of the old recording whose very sound is in the
// new one: first as it was, then, in what that leaves, faster, slower or in another key.
func sameSound(ctx context.Context, old, new *Side) ([]run, error) {
	c := compare(old, new)
	var found []stretch
	var runs []run
	for round := range mostChanges + 1 {
		marks := c.left(runs)
		ch := change{rate: 1}
		if round > 0 {
			if float64(len(marks)) < leastLeft*float64(len(new.marks)) {
				break
			}
			var agree float64
			if ch, agree = changeOf(c.index, marks); agree < leastAgreement*float64(len(marks)) || agree < leastAgreed {
				break
			}
		}
		hits := c.index.hits(marks, ch, 1)
		var more []stretch
		for _, p := range pathOf(votesOf(hits, ch.rate, len(new.bands)/bandCount)) {
			if err := ctx.Err(); err != nil {
				return nil, err
			}
			if round == 0 {
				more = append(more, proved(c.prober, p, ch.rate)...)
			} else if s, ok := c.follows(hits, p, ch); ok {
				more = append(more, s)
			}
		}
		if round > 0 {
			if len(more) == 0 {
				break
			}
			c.together(more)
		}
		found, runs = c.settle(append(found, more...))
	}
	return runs, nil
}

const (
	mostChanges    = 2    // speeds or keys that one new recording may have beside its own
	leastLeft      = 0.04 // of the marks that must be left to look for another
	leastAgreement = 0.03 // of these that must agree
	leastAgreed    = 60
)

// left gives the marks of the new recording that no run holds.
func (c *comparison) left(runs []run) []mark {
	var left []mark
	i := 0
	for _, m := range c.new.marks {
		t := float64(m.frame) * frameSeconds
		for i < len(runs) && runs[i].newEnd() < t {
			i++
		}
		if i == len(runs) || t < runs[i].new {
			left = append(left, m)
		}
	}
	return left
}

// proved probes a piece and gives the stretches along which the waves agree.
func proved(p *prober, c piece, rate float64) []stretch {
	l := line{c.at * frameSeconds, rate}
	from, to := float64(c.from)*frameSeconds, float64(c.to)*frameSeconds
	n := int(min(mostProbes, max(3, (to-from)/probeStep)))
	half := probeSize / 2 / p.new.rate
	var good []probe
	for i := range n {
		t := from + half + (to-from-2*half)*(float64(i)+0.5)/float64(n)
		if r, ok := p.at(t, l); ok && math.Abs(r.like) >= leastLike {
			good = append(good, r)
		}
	}
	var all []stretch
	for len(good) > 0 {
		n := 1
		for n < len(good) && math.Abs(good[n].off-good[n-1].off) < sameLine {
			n++
		}
		if s, ok := along(good[:n], l); ok {
			// the first and the last may match in their inner half alone
			s.from, s.to = good[0].new+half, good[n-1].new-half
			if s.from > s.to {
				s.from = (s.from + s.to) / 2
				s.to = s.from
			}
			all = append(all, s)
		}
		good = good[n:]
	}
	return all
}

// along lays a line through probes that go on in each other; false where they are no proof.
func along(good []probe, l line) (stretch, bool) {
	best, sum := 0.0, 0.0
	offs := make([]float64, len(good))
	for _, r := range good {
		best, sum = max(best, math.Abs(r.like)), sum+math.Abs(r.like)
	}
	if best < proofLike && len(good) < 3 {
		return stretch{}, false
	}
	s := stretch{line: straightened(l, good), like: sum / float64(len(good)), wave: true}
	for i, r := range good {
		offs[i] = math.Abs(l.old(r.new) + r.off - s.old(r.new))
	}
	s.off = quantileOf(offs, 0.5)
	return s, true
}

// slope is how much later in the old recording probes lie with each second;
// the median over all pairs, 0 where it does not show above their scatter.
func slope(good []probe) float64 {
	if len(good) < 8 {
		return 0
	}
	var list []float64
	for i, r := range good {
		for _, q := range good[i+1:] {
			if q.new-r.new > 4 {
				list = append(list, (q.off-r.off)/(q.new-r.new))
			}
		}
	}
	if len(list) < 8 {
		return 0
	}
	mid := quantileOf(list, 0.5)
	if low, high := quantileOf(list, 0.2), quantileOf(list, 0.8); low*high <= 0 {
		return 0
	}
	return mid
}

// settle finds where each stretch begins and ends, and leaves out those that
// are nothing then: too short, or no longer alike over all of their length.
func (c *comparison) settle(found []stretch) ([]stretch, []run) {
	slices.SortStableFunc(found, func(a, b stretch) int { return cmp.Compare(a.from, b.from) })
	found = joined(found)
	for len(found) > 0 {
		runs := c.bounded(found)
		worst, by := -1, 0.0
		for i, r := range runs {
			lacks := max(least(r)-r.length, 0)
			if found[i].wave && r.confidence < sureOf(found[i], leastLike) {
				lacks = math.Inf(1)
			}
			if lacks > by {
				worst, by = i, lacks
			}
		}
		if worst < 0 {
			return found, runs
		}
		found = joined(slices.Delete(found, worst, worst+1))
	}
	return nil, nil
}

// least is how long a run must be to stand by itself.
func least(r run) float64 {
	if r.exact {
		return shortestRun
	}
	return shortestMatched
}

// bounded gives a run for each stretch, from where it begins to where it ends.
func (c *comparison) bounded(found []stretch) []run {
	begin, end := 0, int(c.new.Duration/blockSeconds)
	es := make([]*evidence, len(found))
	mid, more := c.scaleOf(found)
	for i, s := range found {
		from, to := begin, end
		if i > 0 {
			from = blocks(found[i-1].from)
		}
		if i+1 < len(found) {
			to = blocks(found[i+1].to)
		}
		// not outside of the old recording
		from = max(from, blocks(-s.at/s.rate))
		to = min(to, int((c.old.Duration-s.at)/s.rate/blockSeconds))
		if s.wave {
			es[i] = weigh(c.oldWave, c.newWave, s.line, from, to, blocks(s.from), blocks(s.to))
		} else {
			es[i] = c.weighRows(s, from, to, mid, more)
		}
	}
	starts, ends := make([]int, len(found)), make([]int, len(found))
	starts[0] = before(es[0], max(begin, es[0].first), blocks(found[0].from), true)
	for i := range found[1:] {
		from, to := around(&found[i], &found[i+1])
		ends[i], starts[i+1] = parted(es[i], es[i+1], blocks(from), blocks(to), found[i].wave && found[i+1].wave)
	}
	last := len(found) - 1
	ends[last] = after(es[last], blocks(found[last].to), min(end, es[last].first+len(es[last].sum)-1), true)
	var runs []run
	for i, s := range found {
		if s.wave && s.rate == 1 && c.old.Sampled == c.new.Sampled { // an edit moves sound by whole samples
			s.at = math.Round(s.at*float64(c.old.Sampled)) / float64(c.old.Sampled)
		}
		from, to := c.toEnds(s.line, float64(starts[i])*blockSeconds, float64(ends[i])*blockSeconds)
		runs = append(runs, run{old: s.old(from), new: from, length: to - from, rate: s.rate, exact: s.wave, confidence: sureOf(s, es[i].like)})
	}
	return runs
}

// overshoot is how far, in s, a stretch may be said to go on beyond its true end:
// probes match in their inner half alone, and a cut by less than they reach
// leaves much alike on both sides of it.
const overshoot = 0.4

// around gives the time within which one stretch becomes the next, in order; half of either is not in doubt.
func around(a, b *stretch) (from, to float64) {
	from, to = min(a.to, b.from), max(a.to, b.from)
	return max(from-overshoot, min(from, (a.from+a.to)/2)), min(to+overshoot, max(to, (b.from+b.to)/2))
}

// atEnd is how close to an end of a recording, in s, a run goes on to it:
// filters ring there, and blocks are whole.
const atEnd = 0.02

// toEnds lets a run that comes close to an end of either recording reach it.
func (c *comparison) toEnds(l line, from, to float64) (float64, float64) {
	if left := min(from, l.old(from)/l.rate); left < atEnd {
		from -= left
	}
	if left := min(c.new.Duration-to, (c.old.Duration-l.old(to))/l.rate); left < atEnd {
		to += left
	}
	return from, to
}

// sureOf is how sure a stretch is that is so alike.
func sureOf(s stretch, like float64) float64 {
	if s.wave {
		return min(1, 0.75+0.25*like)
	}
	return min(0.98, 0.7+0.3*like)
}

// joined puts stretches together that lie on one line.
func joined(found []stretch) []stretch {
	var all []stretch
	for _, s := range found {
		if n := len(all); n > 0 {
			p := &all[n-1]
			near := sameLine
			if !s.wave && !p.wave {
				near = sameSpectrum
			}
			if s.bands == p.bands && math.Abs(p.old(s.from)-s.old(s.from)) < near && math.Abs(p.old(p.from)-s.old(p.from)) < near {
				if s.to-s.from > p.to-p.from {
					p.line = s.line
				}
				p.to = max(p.to, s.to)
				continue
			}
			// what two claim stays claimed by both: parted asks where in it one becomes the other
			if s.to <= p.to && s.from < p.to {
				mid := (s.from + p.to) / 2
				if s.to <= mid {
					continue
				}
				p.to, s.from = mid, mid
			}
		}
		all = append(all, s)
	}
	return all
}

// before gives where a stretch begins that is known from block known on.
func before(e *evidence, from, known int, atEnd bool) int {
	best, at := 0.0, known
	for k := known - 1; k >= from; k-- {
		if v := e.span(k, known); v > best-borne(known-k, atEnd)+1e-6 {
			at = k
			best = max(best, v)
		}
	}
	return at
}

// borne is how much evidence against it a stretch goes on through for so many
// blocks: at the ends of a recording what is silent on both sides, or drowns in
// noise, says next to nothing and belongs to it; another sound says ten times as much.
func borne(blocks int, atEnd bool) float64 {
	if !atEnd {
		return 0
	}
	return 0.5 + 2*float64(blocks)
}

// after gives where a stretch ends that is known up to block known.
func after(e *evidence, known, to int, atEnd bool) int {
	best, at := 0.0, known
	for k := known + 1; k <= to; k++ {
		if v := e.span(known, k); v > best-borne(k-known, atEnd)+1e-6 {
			at = k
			best = max(best, v)
		}
	}
	return at
}

// longestFade is how many blocks may be like neither where one stretch is faded
// into the next: 60 ms.
const longestFade = 12

// longestBlur is the same where the spectrum shows them: a frame over the cut is
// like neither, and frames overlap. 0.4 s.
const longestBlur = 80

// apartCost is the evidence it takes for something else to lie between two stretches.
const apartCost = 10.0

// parted gives where one stretch ends and the next begins: at once, or with
// something else between them.
func parted(a, b *evidence, from, to int, wave bool) (end, start int) {
	from, to = min(from, to), max(from, to)
	// at once
	best, cut := math.Inf(-1), from
	for k := from; k <= to; k++ {
		if v := a.span(from, k) + b.span(k, to); v > best {
			best, cut = v, k
		}
	}
	end, start = after(a, from, to, false), before(b, from, to, false)
	if end < start && a.span(from, end)+b.span(start, to)-apartCost > best {
		switch {
		case wave && start-end <= longestFade:
			cut = (end + start) / 2
		case wave || start-end > longestBlur:
			return end, start
		}
	}
	return cut, cut
}
