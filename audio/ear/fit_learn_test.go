//go:build fit

package ear

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/optimize"
)

// choice is one song as a learner sees it: what could be chosen, each with its
// features, and how good it would be.
type choice struct {
	song *taught
	x    [][]float64
	y    []float64 // 0 wrong .. 1 right
	bpm  []float64
}

// right says whether a choice counts as right: as good as any that is on offer.
func (c *choice) right(i int) bool { return c.y[i] >= max(0.6, 0.9*c.best()) }

func (c *choice) best() float64 {
	top := 0.0
	for _, y := range c.y {
		top = max(top, y)
	}
	return top
}

// scale is the mean and the spread of each feature over all choices.
type scale struct{ mean, dev []float64 }

func scaleOf(cs []*choice) scale {
	dims := len(cs[0].x[0])
	s := scale{make([]float64, dims), make([]float64, dims)}
	n := 0.0
	for _, c := range cs {
		for _, x := range c.x {
			n++
			for j, v := range x {
				s.mean[j] += v
				s.dev[j] += v * v
			}
		}
	}
	for j := range dims {
		s.mean[j] /= n
		s.dev[j] = math.Sqrt(max(0, s.dev[j]/n-s.mean[j]*s.mean[j])) + 1e-6
	}
	return s
}

// learn fits weights by which the right choices of each song get the largest
// share (softmax), with a penalty on the square of the standardised weights.
func learn(t *testing.T, cs []*choice, s scale, weight func(*taught) float64, penalty float64) []float64 {
	dims := len(s.mean)
	var used []*choice
	for _, c := range cs {
		if c.best() >= 0.6 {
			used = append(used, c)
		}
	}
	loss := func(w, grad []float64) float64 {
		sum := 0.0
		for j, v := range w {
			sum += penalty * v * v
			if grad != nil {
				grad[j] = 2 * penalty * v
			}
		}
		raw := make([]float64, dims)
		for j := range raw {
			raw[j] = w[j] / s.dev[j]
		}
		back := make([]float64, dims)
		for _, c := range used {
			sum += weight(c.song) * c.surprise(raw, back, grad != nil, weight(c.song))
		}
		for j := range grad {
			grad[j] += back[j] / s.dev[j]
		}
		return sum
	}
	p := optimize.Problem{
		Func: func(w []float64) float64 { return loss(w, nil) },
		Grad: func(grad, w []float64) { loss(w, grad) },
	}
	r, err := optimize.Minimize(p, make([]float64, dims), &optimize.Settings{GradientThreshold: 1e-2, MajorIterations: 200}, &optimize.LBFGS{})
	if r == nil {
		require.NoError(t, err)
	}
	out := make([]float64, dims)
	for j := range out {
		out[j] = r.X[j] / s.dev[j]
	}
	return out
}

// surprise is minus the logarithm of the share of the right choices; its
// gradient in the weights, times scale, is added to back.
func (c *choice) surprise(w, back []float64, wanted bool, scale float64) float64 {
	score := make([]float64, len(c.x))
	top := math.Inf(-1)
	for i, x := range c.x {
		score[i] = dot(w, x)
		top = max(top, score[i])
	}
	all, good := 0.0, 1e-300
	for i := range score {
		score[i] = math.Exp(score[i] - top)
		all += score[i]
		if c.right(i) {
			good += score[i]
		}
	}
	if wanted {
		for i, x := range c.x {
			g := score[i] / all
			if c.right(i) {
				g -= score[i] / good
			}
			if g *= scale; math.Abs(g) > 1e-12 {
				for j, v := range x {
					back[j] += g * v
				}
			}
		}
	}
	return -math.Log(good / all)
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i, v := range a {
		sum += v * b[i]
	}
	return sum
}

// chosen is what the weights choose.
func (c *choice) chosen(w []float64) int {
	best, top := 0, math.Inf(-1)
	for i, x := range c.x {
		if s := dot(w, x); s > top {
			best, top = i, s
		}
	}
	return best
}
