package match

import (
	"cmp"
	"math"
	"slices"
)

const (
	bandsPerHigher = bandsOctave // in a factor of two
	leastAlike     = 0.25        // median likeness of the frames of a stretch
	aboveChance    = 0.15        // and so much more than at other places, nine of ten
	fineStep       = 1.5         // s from one fine probe to the next
	mostFine       = 60
	fineLike       = 0.3  // a fine probe that counts
	oneRate        = 0.02 // s that a stretch may move at an end to share the rate of the others
)

// higher is the factor that so many bands are.
func higher(bands int) float64 { return math.Exp2(float64(bands) / bandsPerHigher) }

// follows proves a piece of a changed recording: its frames are like those of
// the old one along a line, and not like those elsewhere. The line is drawn by
// landmarks, then by where sounds begin, and by the waveform where speed and key changed
// together, which leaves it what it was.
func (c *comparison) follows(hits []hit, p piece, ch change) (stretch, bool) {
	l, ok := fitted(hits, p, ch.rate)
	if !ok {
		return stretch{}, false
	}
	s := stretch{line: l, bands: ch.bands, from: float64(p.from) * frameSeconds, to: float64(p.to) * frameSeconds}
	s.from, s.to = max(0, s.from), min(c.new.Duration, s.to)
	if c.oldRows.v == nil {
		c.oldRows, c.newRows, c.fine = newRows(c.old.bands), newRows(c.new.bands), newFineRows()
	}
	typical, chance := c.alike(s)
	if typical < leastAlike || typical < chance+aboveChance {
		return stretch{}, false
	}
	s.like = typical
	// a window votes for what half of it holds
	const half = windowFrames / 2 * frameSeconds
	inside := min(1.5*half, 0.4*(s.to-s.from))
	s.from, s.to = s.from+inside, s.to-inside
	for range 2 {
		var good []probe
		n := int(min(mostFine, max(2, (s.to-s.from)/fineStep)))
		for i := range n {
			t := s.from + (s.to-s.from)*(float64(i)+0.5)/float64(n)
			if r, ok := c.fine.fine(c.oldWave, c.newWave, t, s.line, higher(s.bands)); ok && r.like >= fineLike {
				good = append(good, r)
			}
		}
		s.line = straightened(s.line, good)
	}
	if math.Abs(float64(ch.bands)+bandsPerHigher*math.Log2(s.rate)) > 1 {
		return s, true
	}
	return c.sped(s), true
}

// alike gives how alike the frames of a stretch are along its line, and how
// alike nine of ten are elsewhere.
func (c *comparison) alike(s stretch) (typical, chance float64) {
	var likes, others []float64
	from, to := int(s.from/frameSeconds), int(s.to/frameSeconds)
	step := max(1, (to-from)/400)
	for f := from; f < to; f += step {
		o := int(math.Round(s.old(float64(f)*frameSeconds) / frameSeconds))
		likes = append(likes, c.oldRows.like(o, c.newRows, f, s.bands))
		for k := 60; k < 700; k += 97 {
			for _, e := range [2]int{o + k, o - k} {
				if e >= 0 && e < c.oldRows.frames {
					others = append(others, c.oldRows.like(e, c.newRows, f, s.bands))
				}
			}
		}
	}
	return quantileOf(likes, 0.5), quantileOf(others, 0.9)
}

// straightened lays the line through probes along it: first as most of them
// lie, then by least squares among those near it.
func straightened(l line, good []probe) line {
	if len(good) == 0 {
		return l
	}
	mid := good[len(good)/2].new
	lean := slope(good)
	rest := make([]float64, len(good))
	off := 0.0
	lay := func() {
		for i, r := range good {
			rest[i] = r.off - lean*(r.new-mid)
		}
		off = quantileOf(rest, 0.5)
	}
	lay()
	for range 2 {
		for i, r := range good {
			rest[i] = math.Abs(r.off - off - lean*(r.new-mid))
		}
		within := 3*quantileOf(rest, 0.5) + 1e-5
		var n, sx, sy, sxx, sxy float64
		for _, r := range good {
			if x := r.new - mid; math.Abs(r.off-off-lean*x) <= within {
				n, sx, sy, sxx, sxy = n+1, sx+x, sy+r.off, sxx+x*x, sxy+x*r.off
			}
		}
		if d := n*sxx - sx*sx; n >= 6 && d > n*n {
			lean = (n*sxy - sx*sy) / d
		}
		lay()
	}
	if l.rate == 1 && math.Abs(lean)*(good[len(good)-1].new-good[0].new) < leastLean {
		lean = 0
		lay()
	}
	return line{l.at + off - lean*mid, l.rate + lean}
}

// sped tries a stretch by the waveform.
func (c *comparison) sped(s stretch) stretch {
	for range 3 {
		var good []probe
		n := int(min(mostProbes, max(3, (s.to-s.from)/probeStep)))
		for i := range n {
			t := s.from + (s.to-s.from)*(float64(i)+0.5)/float64(n)
			if r, ok := c.prober.at(t, s.line); ok && math.Abs(r.like) >= leastLike {
				good = append(good, r)
			}
		}
		if 2*len(good) < n {
			return s
		}
		better := s
		better.line = straightened(s.line, good)
		offs := make([]float64, len(good))
		sum := 0.0
		for i, r := range good {
			offs[i] = math.Abs(s.old(r.new) + r.off - better.old(r.new))
			sum += math.Abs(r.like)
		}
		if better.off = quantileOf(offs, 0.7); better.off > sameLine {
			return s
		}
		better.like, better.wave = sum/float64(len(good)), true
		s = better
	}
	return s
}

// together gives stretches of one change one rate, where that moves none of
// them by more than is heard: a short one does not show its own as well.
func (c *comparison) together(found []stretch) {
	if len(found) < 2 {
		return
	}
	by := slices.Clone(found)
	slices.SortFunc(by, func(a, b stretch) int { return cmp.Compare(a.rate, b.rate) })
	total := 0.0
	for _, s := range by {
		total += s.to - s.from
	}
	rate, sum := 0.0, 0.0
	for _, s := range by {
		if sum += s.to - s.from; sum >= total/2 {
			rate = s.rate
			break
		}
	}
	for i := range found {
		s := &found[i]
		mid := (s.from + s.to) / 2
		if !s.wave && math.Abs(rate-s.rate)*(s.to-s.from)/2 < oneRate {
			s.at, s.rate = s.old(mid)-rate*mid, rate
		}
	}
}

// scaleOf is how alike frames must be on the average to speak for a stretch that
// the spectrum shows, and by how much more they are where it is true: one
// scale for all of them, so that where two of them meet the more alike one has it.
func (c *comparison) scaleOf(found []stretch) (mid, more float64) {
	n := 0.0
	for _, s := range found {
		if !s.wave {
			typical, chance := c.alike(s)
			mid, more, n = mid+(max(chance, 0)+typical)/2, more+(typical-max(chance, 0))/2, n+1
		}
	}
	return mid / max(n, 1), max(more/max(n, 1), 0.05)
}

// weighRows is what weigh is for a stretch that the spectrum shows, on the scale of scaleOf.
func (c *comparison) weighRows(s stretch, from, to int, mid, more float64) *evidence {
	typical, _ := c.alike(s)
	e := &evidence{first: from, sum: make([]float64, max(0, to-from)+1), like: typical}
	for k := range max(0, to-from) {
		t := (float64(from+k) + 0.5) * blockSeconds
		f, o := int(math.Round(t/frameSeconds)), int(math.Round(s.old(t)/frameSeconds))
		v := 0.0
		if like := c.oldRows.like(o, c.newRows, f, s.bands); like != 0 {
			v = (like - mid) / more
		}
		e.sum[k+1] = e.sum[k] + v
	}
	return e
}
