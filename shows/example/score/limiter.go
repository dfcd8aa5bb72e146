package score

import "math"

const (
	// ceiling leaves room for the two decibels that a lossy codec may add.
	ceiling      = 0.68 // -3.35 dBFS
	lookAhead    = 4 * SampleRate / 1000
	recoverTime  = 0.09 // seconds
	saturateFrom = 0.5
)

// limit keeps both sides below the ceiling: first loud peaks are bent, then
// the gain is turned down ahead of what is still too loud, and comes back slowly.
func limit(s stereo) {
	s.each(func(_ int, l, r float64) (float64, float64) { return saturate(l), saturate(r) })
	gain := smooth(recovering(lowest(wanted(s))))
	s.each(func(i int, l, r float64) (float64, float64) { return l * gain[i], r * gain[i] })
}

// saturate leaves quiet samples alone and bends the others towards 1.5.
func saturate(x float64) float64 {
	a := math.Abs(x)
	if a <= saturateFrom {
		return x
	}
	return math.Copysign(saturateFrom+math.Tanh(a-saturateFrom), x)
}

// wanted is the gain each sample needs by itself. A wave may peak between two
// samples: a cubic through four of them tells how high.
func wanted(s stereo) []float64 {
	g := make([]float64, s.len())
	for i := range g {
		peak := max(math.Abs(s.left[i]), math.Abs(s.right[i]), between(s.left, i), between(s.right, i))
		g[i] = min(1, ceiling/max(peak, 1e-9))
	}
	return g
}

// between estimates the wave halfway from sample i to the next.
func between(x []float64, i int) float64 {
	if i < 1 || i+2 >= len(x) {
		return 0
	}
	return math.Abs(9*(x[i]+x[i+1])-x[i-1]-x[i+2]) / 16
}

// lowest gives the least of the samples within the look-ahead: a queue of
// candidates, each lower than those before the one it follows.
func lowest(g []float64) []float64 {
	out := make([]float64, len(g))
	var queue []int
	for i := len(g) - 1; i >= 0; i-- {
		for len(queue) > 0 && g[queue[len(queue)-1]] >= g[i] {
			queue = queue[:len(queue)-1]
		}
		queue = append(queue, i)
		if queue[0] >= i+lookAhead {
			queue = queue[1:]
		}
		out[i] = g[queue[0]]
	}
	return out
}

func recovering(g []float64) []float64 {
	back := 1 - math.Exp(-1/(recoverTime*SampleRate))
	current := 1.0
	for i := range g {
		current = min(g[i], current+back*(1-current))
		g[i] = current
	}
	return g
}

// smooth averages over the look-ahead, which keeps the gain at or below what
// every sample wants: each value in the average already looked that far.
func smooth(g []float64) []float64 {
	out := make([]float64, len(g))
	sum := float64(lookAhead)
	for i := range g {
		oldest := 1.0
		if i >= lookAhead {
			oldest = g[i-lookAhead]
		}
		sum += g[i] - oldest
		out[i] = sum / lookAhead
	}
	return out
}
