package audio

import "math"

// grains play a song slower or faster at its own pitch: pieces of it at full
// speed are laid over each other, each begun where it goes on best from what
// sounds (overlap-add, as published by Verhelst and Roelands in 1993 for speech).
// The middle of each piece is at the place that is told, within grainSlack.
type grains struct {
	plain *kernel
	hop   int       // device frames from one piece to the next
	rise  []float64 // of two pieces that overlap the one comes in as the other goes out: rise and 1-rise are one
	slack int       // device frames by which a piece may begin beside its place

	going, coming cursor // of the pieces, in the song at full speed
	at            int    // frames since the coming one began

	want, there []float32 // what would go on, and what there is about its place
}

// Lengths that keep an attack within 5 ms of the place that is told: the pieces
// in which it is loud have their middle within grainHop/2 of it.
const (
	grainHop   = 0.010 // s
	grainSlack = 0.002 // s
)

// newGrains makes grains for a device of a rate.
func newGrains(rate int) grains {
	g := grains{hop: int(grainHop * float64(rate)), slack: int(grainSlack * float64(rate))}
	g.rise = make([]float64, g.hop)
	for i := range g.rise {
		s := math.Sin(math.Pi / 2 * (float64(i) + 0.5) / float64(g.hop))
		g.rise[i] = s * s
	}
	g.want = make([]float32, g.hop)
	g.there = make([]float32, g.hop+2*g.slack)
	return g
}

// begin begins anew at a place: its piece is in its middle there. told is how
// the place goes on.
func (g *grains) begin(song *track, plain *kernel, c cursor, told ratio) {
	g.plain, g.at = plain, 0
	g.going = c.convert(told, plain.ratio)
	g.choose(song, c, told)
}

// next gives left and right at a place of the song as it is told, and goes on by
// a frame.
func (g *grains) next(song *track, c cursor, told ratio) (left, right float64) {
	if g.at == g.hop {
		g.going, g.at = g.coming, 0
		g.choose(song, c, told)
	}
	l0, r0 := g.plain.at(song, g.going)
	l1, r1 := g.plain.at(song, g.coming)
	w := g.rise[g.at]
	g.at++
	g.going = g.going.advance(1, g.plain.ratio)
	g.coming = g.coming.advance(1, g.plain.ratio)
	return l0 + w*(l1-l0), r0 + w*(r1-r0)
}

// louder gives the place in the song of the piece that is louder now.
func (g *grains) louder() cursor {
	if g.at > g.hop/2 {
		return g.coming
	}
	return g.going
}

// choose finds the piece that comes in next: the one about its place that is
// most like what would go on.
func (g *grains) choose(song *track, c cursor, told ratio) {
	middle := c.advance(int64(g.hop), told).convert(told, g.plain.ratio)
	first := middle.advance(-int64(g.hop+g.slack), g.plain.ratio)
	g.hear(song, g.going, g.want)
	g.hear(song, first, g.there)
	best, most := g.slack, math.Inf(-1)
	for by := 0; by <= 2*g.slack; by += grainCoarse {
		if s := g.like(by, grainCoarse); s > most {
			best, most = by, s
		}
	}
	most = math.Inf(-1)
	for by, last := max(0, best-grainCoarse+1), min(2*g.slack, best+grainCoarse-1); by <= last; by++ {
		if s := g.like(by, 1); s > most {
			best, most = by, s
		}
	}
	g.coming = first.advance(int64(best), g.plain.ratio)
}

// grainCoarse is the step in device frames in which a place is looked for first.
const grainCoarse = 4

// like says how like a piece is to what would go on, 1 for the same, a little
// less the farther it is from its place.
func (g *grains) like(by, step int) float64 {
	var product, a, b float64
	for i := 0; i < g.hop; i += step {
		x, y := float64(g.want[i]), float64(g.there[by+i])
		product += x * y
		a += x * x
		b += y * y
	}
	off := float64(by-g.slack) / float64(max(g.slack, 1))
	return product/math.Sqrt(a*b+1e-12) - 0.02*off*off
}

// hear reads the song at full speed, both sides added.
func (g *grains) hear(song *track, c cursor, to []float32) {
	for i := range to {
		l, r := g.plain.at(song, c)
		to[i] = float32(l + r)
		c = c.advance(1, g.plain.ratio)
	}
}
