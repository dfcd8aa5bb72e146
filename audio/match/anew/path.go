package anew

import (
	"context"
	"math"
	"slices"
)

// rates are the speeds that are tried: old seconds in one new second.
type rates []float64

// ratesAround spaces rates evenly in logarithm around one.
func ratesAround(mid, reach, step float64) rates {
	var r rates
	n := int(math.Round(reach / step))
	for k := -n; k <= n; k++ {
		r = append(r, mid*math.Exp(float64(k)*step))
	}
	return r
}

// strand is a stretch of the best path: from new frame to new frame, with where
// each frame is in the old recording.
type strand struct {
	from int     // new frame
	old  []int   // old frame of each new frame
	rate []uint8 // index of its rate
	gain float64 // sum of likeness
}

// costs of the path, in likeness.
type pathCosts struct {
	turn float32 // to the next rate
	jump float32 // to anywhere in the old recording
	into float32 // from nothing to somewhere
}

const (
	stayed = iota
	slower
	faster
	jumped
	entered
)

// bestPath finds, for each new frame, the old frame that it belongs to or none,
// so that the likeness gained less what turns and jumps cost is most.
//
// A state is a rate k and an old frame o. With rate r the old frame advances by
// floor((n+1)r) - floor(nr), so that a whole line costs nothing.
func bestPath(ctx context.Context, l *likeness, rs rates, c pathCosts) ([]strand, error) {
	N, M, K := l.rows, l.cols, len(rs)
	back := make([]uint8, N*K*M)
	cur, next := make([]float32, K*M), make([]float32, K*M)
	type top struct{ k, o int }
	best := make([]top, N)
	none := make([]float32, N+1) // value of being nowhere before frame n
	fromBest := make([]bool, N+1)
	const low = -1e30
	for i := range cur {
		cur[i] = low
	}
	bestV := float32(low)
	for n := range N {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		row := l.row(n)
		// from the frame before to nowhere
		if n > 0 {
			none[n] = none[n-1]
			if bestV > none[n-1] {
				none[n], fromBest[n] = bestV, true
			}
		}
		enter := none[n] - c.into
		how := uint8(entered)
		if n > 0 && bestV-c.jump > enter {
			enter, how = bestV-c.jump, jumped
		}
		nowV := float32(low)
		var now top
		for k, r := range rs {
			step := int(math.Floor(float64(n)*r)) - int(math.Floor(float64(n-1)*r))
			if n == 0 {
				step = 0
			}
			out, bk := next[k*M:(k+1)*M], back[(n*K+k)*M:(n*K+k+1)*M]
			same := cur[k*M : (k+1)*M]
			var lo, hi []float32
			if k > 0 {
				lo = cur[(k-1)*M : k*M]
			}
			if k+1 < K {
				hi = cur[(k+1)*M : (k+2)*M]
			}
			for o := range out {
				v, h := enter, how
				if p := o - step; p >= 0 {
					if w := same[p]; w > v {
						v, h = w, stayed
					}
					if lo != nil {
						if w := lo[p] - c.turn; w > v {
							v, h = w, slower
						}
					}
					if hi != nil {
						if w := hi[p] - c.turn; w > v {
							v, h = w, faster
						}
					}
				}
				v += row[o]
				out[o], bk[o] = v, h
				if v > nowV {
					nowV, now = v, top{k, o}
				}
			}
		}
		bestV, best[n] = nowV, now
		cur, next = next, cur
	}
	// back from the end
	var out []strand
	n := N - 1
	at := best[N-1]
	in := bestV > none[N-1]
	for n >= 0 {
		if !in {
			if n > 0 && fromBest[n] {
				at, in = best[n-1], true
			}
			n--
			continue
		}
		s := strand{}
		for {
			s.old = append(s.old, at.o)
			s.rate = append(s.rate, uint8(at.k))
			s.gain += float64(l.row(n)[at.o])
			s.from = n
			h := back[(n*K+at.k)*M+at.o]
			step := 0
			if n > 0 {
				step = int(math.Floor(float64(n)*rs[at.k])) - int(math.Floor(float64(n-1)*rs[at.k]))
			}
			n--
			if h == stayed || h == slower || h == faster {
				at.o -= step
				if h == slower {
					at.k--
				} else if h == faster {
					at.k++
				}
				continue
			}
			if h == jumped {
				at = best[n]
			} else {
				in = n >= 0 && fromBest[n+1]
				if in {
					at = best[n]
				}
			}
			break
		}
		slices.Reverse(s.old)
		slices.Reverse(s.rate)
		out = append(out, s)
	}
	slices.Reverse(out)
	return out, nil
}
