package match

import (
	"cmp"
	"context"
	"math"
	"slices"
)

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

// playedAnew looks for the song played anew, in another key, at another and
// changing speed, with other sounds and in another order, in what the runs of the
// same sound leave of the new recording.
//
// It compares which notes sound and what begins, at every pair of places and at
// every speed, so that it depends on no beat having been found in either recording.
func playedAnew(ctx context.Context, old, new *Side, fixed []run) ([]run, error) {
	lines, err := trace(ctx, newSound(old.Mono, old.Rate), newSound(new.Mono, new.Rate), fixed)
	if err != nil {
		return nil, err
	}
	var out []run
	for _, t := range lines {
		out = append(out, t.runs()...)
	}
	return besidesFixed(out, fixed), nil
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
func trace(ctx context.Context, old, new *sound, fixed []run) ([]traced, error) {
	cells := len(old.tone) * len(new.tone)
	if cells == 0 || cells*leastRates > mostStates {
		return nil, nil
	}
	shift, rate, err := findKey(ctx, old, new)
	if err != nil {
		return nil, err
	}
	like := compare(old, new, shift)
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
	old, new     *sound
	like         *likeness
	a, b         rises // what begins in old and new
	wideA, wideB rises // the same, with less care for the instant
}

// agreement is how well what begins agrees along a line between two new times.
func (p *pair) agreement(l line, from, to float64) float64 {
	e := l.evidence(p.wideA, p.wideB, p.like, from, to)
	return e.proof().agreement()
}

// best moves a line to the place in the old recording that weighs most, among those
// where much the same sounds, and remembers the next heaviest.
func (p *pair) best(t traced) traced {
	gains := p.gains(t.line)
	mid := p.like.cols
	var tops []int
	for d, g := range gains {
		lo, hi := max(0, d-apart), min(len(gains), d+apart+1)
		if d != mid && g >= likeEnough*gains[mid] && g == slices.Max(gains[lo:hi]) && (d < mid-apart || d > mid+apart) {
			tops = append(tops, d)
		}
	}
	slices.SortStableFunc(tops, func(a, b int) int { return cmp.Compare(gains[b], gains[a]) })
	best := t
	for _, d := range tops[:min(len(tops), mostPlaces)] {
		l := slices.Clone(t.line)
		for i := range l {
			l[i].old += float64(d-mid) / wideRate
		}
		l = l.refined(p.a, p.b)
		o := traced{line: l, weight: gains[d] * p.agreement(l, l.first().new, l.last().new)}
		if o.weight > best.weight {
			best, o = o, best
		}
		best.rivals = append(best.rivals, append(o.rivals, rival{o.first().old, o.weight})...)
	}
	return best
}

// gains sums the likeness along a line moved by so many frames, less the number of columns.
func (p *pair) gains(l line) []float64 {
	cols := p.like.cols
	sum := make([]float64, 2*cols)
	for n := int(l.first().new*wideRate + 0.5); n < min(p.like.rows, int(l.last().new*wideRate+0.5)); n++ {
		row := p.like.row(n)
		at := cols - int(l.at(float64(n)/wideRate)*wideRate+0.5) // of the first column
		for d := range sum {
			if o := d - at; o >= 0 && o < cols {
				sum[d] += float64(row[o])
			} else {
				sum[d] -= chanceLine
			}
		}
	}
	return sum
}

const (
	apart      = 3   // frames of harmony within which two places are one
	likeEnough = 0.8 // of the likeness of the path that another place must have to be tried
	mostPlaces = 4
	twinShare  = 0.95 // of the weight that makes a rival as good as the place that was chosen
	inOrder    = 2.0  // s by which a place may come early and still follow what was before
)

// rival is another place for a line: where it would begin in the old recording.
type rival struct{ old, weight float64 }

// ambiguous says whether a line could as well be elsewhere: there it would weigh as
// much, and stand in order between its neighbours.
func ambiguous(ts []traced, i int) bool {
	from, to := math.Inf(-1), math.Inf(1)
	if i > 0 {
		from = ts[i-1].last().old - inOrder
	}
	if i+1 < len(ts) {
		to = ts[i+1].first().old + inOrder
	}
	t := &ts[i]
	in := func(old float64) bool { return old >= from && old+t.last().old-t.first().old <= to }
	for _, r := range t.rivals {
		if r.weight >= twinShare*t.weight && (in(r.old) || !in(t.first().old)) {
			return true
		}
	}
	return false
}

// grown lets a line go on at one end for as long as what begins agrees.
func (p *pair) grown(l line, end bool) line {
	for range mostGrowth {
		n := len(l)
		longer := l.longer(growBy, p.old.seconds, p.new.seconds)
		var tip line
		if end {
			tip = longer[max(0, n-growLean):]
			if longer.last().new-l.last().new < growLeast {
				return l
			}
			tip = tip.refined(p.a, p.b)
			if p.agreement(tip, l.last().new, tip.last().new) < growAgree {
				return l
			}
			l = append(l.part(l.first().new, tip.first().new), tip[1:]...)
		} else {
			if l.first().new-longer.first().new < growLeast {
				return l
			}
			tip = longer[:min(len(longer), growLean+1)].refined(p.a, p.b)
			if p.agreement(tip, tip.first().new, l.first().new) < growAgree {
				return l
			}
			l = append(tip[:len(tip)-1:len(tip)-1], l.part(tip.last().new, l.last().new)...)
		}
	}
	return l
}

const (
	growBy     = 4.0 // s at a time
	growLeast  = 0.5
	growLean   = 10 // knots of the line that say how it goes on
	growAgree  = 0.45
	mostGrowth = 6
)

// join settles where each line begins and ends: at the seam with its neighbour, or
// where nothing more begins in both recordings.
func (p *pair) join(ts []traced) []traced {
	core := make([]line, len(ts))
	long := make([]line, len(ts))
	for i, t := range ts {
		core[i] = p.grown(p.grown(t.line, false), true)
		long[i] = core[i].longer(edgeReach, p.old.seconds, p.new.seconds)
	}
	at := 0.0 // what is taken of the new recording by now
	for i := range ts {
		from, to := long[i].edges(p.a, p.b, core[i])
		first, last := long[i].first(), long[i].last()
		if first.old < 1e-3 && core[i].first().old < fileEnd || first.new < 1e-3 && core[i].first().new < fileEnd {
			from = first.new
		}
		if q := core[i].last(); last.old > p.old.seconds-1e-3 && q.old > p.old.seconds-fileEnd || last.new > p.new.seconds-1e-3 && q.new > p.new.seconds-fileEnd {
			to = last.new
		}
		from = max(from, at)
		if i > 0 && core[i].first().new-core[i-1].last().new < neighbours {
			from = at
		}
		if i+1 < len(ts) && core[i+1].first().new-core[i].last().new < neighbours {
			to = seam(p.a, p.b, long[i], long[i+1], (ts[i].last().new+ts[i+1].first().new)/2)
		}
		if to-from < leastLeft {
			ts[i].line = nil
			continue
		}
		ts[i].line = long[i].part(from, to).inside(p.old.seconds, p.new.seconds)
		at = to
	}
	return slices.DeleteFunc(ts, func(t traced) bool { return t.line == nil })
}

// runs are the proved stretches of a line, as straight pieces.
func (t *traced) runs() []run {
	var out []run
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
					out = append(out, run{old: p.old, new: p.new, length: q.new - p.new, rate: (q.old - p.old) / (q.new - p.new), confidence: sum / float64(j-i)})
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

// besidesFixed cuts off what fixed runs hold of the new recording.
func besidesFixed(runs, fixed []run) []run {
	for _, f := range fixed {
		var out []run
		for _, r := range runs {
			if r.newEnd() <= f.new || f.newEnd() <= r.new {
				out = append(out, r)
				continue
			}
			if r.new < f.new {
				p := r
				p.length = f.new - r.new
				out = append(out, p)
			}
			if r.newEnd() > f.newEnd() {
				p := r
				d := f.newEnd() - r.new
				p.old, p.new, p.length = r.old+d*r.rate, f.newEnd(), r.length-d
				out = append(out, p)
			}
		}
		runs = out
	}
	return runs
}

// findKey finds by how many semitones the old recording must be raised, and the
// speed at which most of it is in the new one.
func findKey(ctx context.Context, old, new *sound) (shift int, rate float64, err error) {
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
