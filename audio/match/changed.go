package match

import (
	"cmp"
	"math"
	"slices"
)

// The whole recording played faster or slower, stretched, or in another key:
// landmarks are looked up at each change that is thought of, and the one at
// which most of them agree on a place is taken.

const (
	mostRate    = 0.065 // beyond 1
	rateStep    = 0.005
	mostBands   = 8    // a third
	searchSpan  = 344  // frames that vote together: 8 s
	searchFirst = 4000 // marks that are asked first
	finalists   = 8
)

// changeOf finds the change at which marks of a new recording agree best on
// places in the old one, and how much they agree: see agreement.
func changeOf(x *index, marks []mark) (change, float64) {
	type tried struct {
		change
		agree float64
	}
	var all []tried
	steps := int(mostRate / rateStep)
	for k := -mostBands; k <= mostBands; k++ {
		for s := -steps; s <= steps; s++ {
			c := change{1 + float64(s)*rateStep, k}
			all = append(all, tried{c, agreement(x.hits(marks, c, max(1, len(marks)/searchFirst)), c.rate)})
		}
	}
	slices.SortStableFunc(all, func(a, b tried) int { return cmp.Compare(b.agree, a.agree) })
	all = all[:finalists]
	for i, c := range all {
		all[i].agree = agreement(x.hits(marks, c.change, 1), c.rate)
	}
	best := slices.MaxFunc(all, func(a, b tried) int { return cmp.Compare(a.agree, b.agree) })
	return best.change, best.agree
}

// agreement counts, window by window, the hits at the place that most of them
// name, less what chance would bring there.
func agreement(hits []hit, rate float64) float64 {
	const room = 1 << 10
	var counts [room]int32
	sum := 0.0
	for i := 0; i < len(hits); {
		from := hits[i].new
		clear(counts[:])
		n, top := 0, int32(0)
		for ; i < len(hits) && hits[i].new < from+searchSpan; i++ {
			place := int(math.Round((float64(hits[i].old)-rate*float64(hits[i].new))/2)) & (room - 1)
			counts[place]++
			top = max(top, counts[place]+counts[(place+1)&(room-1)], counts[place]+counts[(place-1)&(room-1)])
			n++
		}
		// of n over that many places the fullest has hardly more than this
		mean := 2 * float64(n) / room
		sum += max(0, float64(top)-mean-3*math.Sqrt(mean)-2)
	}
	return sum
}

// fitted lays a line through the hits that follow a piece, at about its rate;
// in seconds. false where there are too few.
func fitted(hits []hit, c piece, rate float64) (line, bool) {
	type point struct{ x, y float64 }
	var ps []point
	from, _ := slices.BinarySearchFunc(hits, c.from, func(h hit, f int) int { return cmp.Compare(int(h.new), f) })
	reach := 3 + 0.5*rateStep*float64(c.to-c.from)
	for _, h := range hits[from:] {
		if int(h.new) >= c.to {
			break
		}
		if d := float64(h.old) - rate*float64(h.new) - c.at; math.Abs(d) <= reach {
			ps = append(ps, point{float64(h.new), float64(h.old)})
		}
	}
	if len(ps) < 12 {
		return line{}, false
	}
	// the line along which most points lie within a frame, from a fan of slopes; then least squares among those
	l := line{c.at, rate}
	for round, width := range []float64{2.5, 1.5, 1.0} {
		if round == 0 {
			most := 0
			mid := float64(c.from+c.to) / 2
			var offs []float64
			for _, p := range ps {
				offs = append(offs, p.y-rate*p.x)
			}
			span := float64(c.to - c.from)
			step := 1 / max(span, 1)
			for k := -60; k <= 60; k++ {
				lean := float64(k) * step
				if math.Abs(lean) > rateStep {
					continue
				}
				counts := map[int]int{}
				for i, p := range ps {
					counts[int(math.Round(offs[i]-lean*(p.x-mid)))]++
				}
				for place, n := range counts {
					if n += counts[place+1]; n > most {
						most, l = n, line{float64(place) + 0.5 - lean*mid, rate + lean}
					}
				}
			}
		}
		var n, sx, sy, sxx, sxy float64
		for _, p := range ps {
			if math.Abs(p.y-l.old(p.x)) <= width {
				n, sx, sy, sxx, sxy = n+1, sx+p.x, sy+p.y, sxx+p.x*p.x, sxy+p.x*p.y
			}
		}
		if d := n*sxx - sx*sx; n >= 8 && d > 0 {
			l.rate = (n*sxy - sx*sy) / d
			l.at = (sy - l.rate*sx) / n
		}
	}
	return line{l.at * frameSeconds, l.rate}, true
}
