package anew

import (
	"cmp"
	"math"
	"slices"
)

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
