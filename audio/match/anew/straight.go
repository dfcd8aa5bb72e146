package anew

import "math"

const (
	knotSigma = 0.004 // s by which a knot is off, as songs played anew at one speed show
	bendCost  = 12.0  // what another piece costs, in squares of that: twice the logarithm of the knots of a song
)

// straightened makes a line of as few straight pieces as its knots allow: music
// keeps its speed more often than not, and what is left of the search is noise. The
// knots stay where they are in the new recording.
func (l line) straightened() line {
	if len(l) < 4 {
		return l
	}
	return l.fitted(l.bends())
}

// bends chooses the knots at which the line bends, its ends among them: the pieces
// between, each fitted by itself, cost least in all.
func (l line) bends() []int {
	n := len(l)
	s := make([]moments, n+1)
	for i, k := range l {
		s[i+1] = s[i].with(k.new-l[0].new, k.old-l[0].old)
	}
	cost, from := make([]float64, n), make([]int, n)
	for j := 1; j < n; j++ {
		cost[j] = math.Inf(1)
		for i := range j {
			if c := cost[i] + bendCost + s[j+1].less(&s[i]).residual()/(knotSigma*knotSigma); c < cost[j] {
				cost[j], from[j] = c, i
			}
		}
	}
	var out []int
	for j := n - 1; j > 0; j = from[j] {
		out = append(out, j)
	}
	out = append(out, 0)
	for i, j := 0, len(out)-1; i < j; i, j = i+1, j-1 {
		out[i], out[j] = out[j], out[i]
	}
	return out
}

// moments are the sums that a fit needs.
type moments struct{ n, x, y, xx, xy, yy float64 }

func (m moments) with(x, y float64) moments {
	return moments{m.n + 1, m.x + x, m.y + y, m.xx + x*x, m.xy + x*y, m.yy + y*y}
}

func (m moments) less(o *moments) moments {
	return moments{m.n - o.n, m.x - o.x, m.y - o.y, m.xx - o.xx, m.xy - o.xy, m.yy - o.yy}
}

// residual is the sum of squares that the best straight line leaves.
func (m moments) residual() float64 {
	xx, xy, yy := m.xx-m.x*m.x/m.n, m.xy-m.x*m.y/m.n, m.yy-m.y*m.y/m.n
	if xx <= 0 {
		return 0
	}
	return max(0, yy-xy*xy/xx)
}

// fitted is the unbroken line with the given bends that is nearest to the knots,
// by least squares: each bend's height weighs the knots of its two pieces.
func (l line) fitted(bends []int) line {
	n := len(bends)
	diag, side, right := make([]float64, n), make([]float64, n), make([]float64, n)
	share := func(piece, i int) float64 {
		a, b := l[bends[piece]].new, l[bends[piece+1]].new
		return (l[i].new - a) / (b - a)
	}
	each := func(do func(piece, i int)) {
		for p := range n - 1 {
			for i := bends[p]; i < bends[p+1]; i++ {
				do(p, i)
			}
		}
		do(n-2, bends[n-1])
	}
	each(func(p, i int) {
		f := share(p, i)
		diag[p] += (1 - f) * (1 - f)
		diag[p+1] += f * f
		side[p] += f * (1 - f)
		right[p] += (1 - f) * l[i].old
		right[p+1] += f * l[i].old
	})
	for p := 1; p < n; p++ {
		w := side[p-1] / diag[p-1]
		diag[p] -= w * side[p-1]
		right[p] -= w * right[p-1]
	}
	at := make([]float64, n)
	for p := n - 1; p >= 0; p-- {
		at[p] = right[p] / diag[p]
		if p+1 < n {
			at[p] -= side[p] / diag[p] * at[p+1]
		}
	}
	out := make(line, len(l))
	each(func(p, i int) {
		f := share(p, i)
		out[i] = knot{l[i].new, at[p] + f*(at[p+1]-at[p])}
	})
	return out
}
