package ear

import (
	"math"
	"slices"
)

// line is a stretch of pulses at one tempo: pulse i (a <= i < b) at offset + i·period.
type line struct {
	a, b           int
	offset, period float64
	resid          float64 // median distance of the pulses from the line, s
}

const (
	segmentCost = 1.2   // s·10 ms units of distance that a new line must save
	clipResid   = 0.040 // s; a pulse further off than this costs no more
	leastLine   = 8     // pulses in a line
	longestLine = 256   // pulses; grids are prolonged beyond it afterwards
)

// segmentLines splits a row of pulse times into the fewest straight lines that
// fit: dynamic programming over break points with a clipped distance.
func segmentLines(t []float64) []line {
	n := len(t)
	if n < leastLine {
		return nil
	}
	const block = 4
	m := n / block
	cost := make([]float64, m+1)
	from := make([]int, m+1)
	for j := 1; j <= m; j++ {
		cost[j] = math.Inf(1)
		for i := max(0, j-longestLine/block); i < j; i++ {
			a, b := i*block, j*block
			if j == m {
				b = n
			}
			if b-a < leastLine && !(i == 0 && j == m) {
				continue
			}
			if math.IsInf(cost[i], 1) || cost[i] > cost[j] {
				continue
			}
			l := fitLine(t, a, b)
			c := cost[i] + segmentCost
			for k := a; k < b; k++ {
				c += min(math.Abs(t[k]-l.offset-l.period*float64(k)), clipResid) / 0.010 * 0.1
			}
			if c < cost[j] {
				cost[j], from[j] = c, i
			}
		}
	}
	var out []line
	for j := m; j > 0; j = from[j] {
		b := j * block
		if j == m {
			b = n
		}
		out = append(out, fitLine(t, from[j]*block, b))
	}
	slices.Reverse(out)
	return out
}

// fitLine is a robust straight line through t[a:b]: the median slope over half
// the stretch, then two rounds of least squares on what lies near.
func fitLine(t []float64, a, b int) line {
	l := line{a: a, b: b}
	h := max(1, (b-a)/2)
	slopes := make([]float64, 0, b-a)
	for i := a; i+h < b; i++ {
		slopes = append(slopes, (t[i+h]-t[i])/float64(h))
	}
	l.period = median(slopes)
	offs := make([]float64, 0, b-a)
	for i := a; i < b; i++ {
		offs = append(offs, t[i]-l.period*float64(i))
	}
	l.offset = median(offs)
	for range 2 {
		l.refit(t)
	}
	res := offs[:0]
	for i := a; i < b; i++ {
		res = append(res, math.Abs(t[i]-l.offset-l.period*float64(i)))
	}
	l.resid = median(res)
	return l
}

func (l *line) refit(t []float64) {
	var n, sx, sy, sxx, sxy float64
	for i := l.a; i < l.b; i++ {
		x := float64(i - l.a)
		if math.Abs(t[i]-l.offset-l.period*float64(i)) > clipResid {
			continue
		}
		n, sx, sy, sxx, sxy = n+1, sx+x, sy+t[i], sxx+x*x, sxy+x*t[i]
	}
	if den := n*sxx - sx*sx; n >= 3 && den > 0 {
		slope := (n*sxy - sx*sy) / den
		l.offset = (sy-slope*sx)/n - slope*float64(l.a)
		l.period = slope
	}
}

// median reorders v.
func median(v []float64) float64 {
	if len(v) == 0 {
		return 0
	}
	slices.Sort(v)
	n := len(v)
	return (v[(n-1)/2] + v[n/2]) / 2
}
