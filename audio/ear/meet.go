package ear

import "math"

const (
	meetReach = 12.0 // s on each side in which the border of two grids is sought
	meetKeep  = 4.0  // s that are left of each part
)

// meet moves the border of each two neighbouring grids to the hit up to which
// the attacks lie on the one and from which they lie on the other: a grid that
// is prolonged step by step may run past it.
func meet(parts []part, ons []onset) {
	for i := 1; i < len(parts); i++ {
		p, q := &parts[i-1], &parts[i]
		if !p.steady || !q.steady {
			continue
		}
		in := onsetsIn(ons, max(p.from+meetKeep, p.to-meetReach), min(q.to-meetKeep, q.from+meetReach))
		rest := 0.0
		for _, o := range in {
			rest += q.fits(o)
		}
		best, at, done := math.Inf(-1), p.to, 0.0
		for _, o := range in {
			rest -= q.fits(o)
			both := max(p.fits(o), q.fits(o)) // the hit itself belongs to both
			if sum := done + both + rest; sum > best && q.near(o) < gridNear {
				best, at = sum, o.at-q.lateness(o)
			}
			done += p.fits(o)
		}
		if at != p.to {
			p.to, q.from = at, at
			p.fit(ons, 0.025)
			q.fit(ons, 0.025)
		}
	}
}

// fits is the weight of an onset on the grid or half way, its opposite off it.
func (p *part) fits(o onset) float64 {
	half := *p
	half.period /= 2
	r := half.near(o) / gridNear
	return o.weight() * max(1-r*r, -1)
}

// near is the distance of an onset from the grid.
func (p *part) near(o onset) float64 { return math.Abs(p.lateness(o)) }

// lateness is how much an onset is late on the grid.
func (p *part) lateness(o onset) float64 {
	x := o.at - p.offset
	return x - p.period*math.Round(x/p.period)
}
