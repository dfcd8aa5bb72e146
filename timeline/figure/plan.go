package figure

import "math"

// Nearest gives the point of a piece of a straight line that is nearest to q.
func Nearest(q, from, to Point) Point {
	dx, dy := to.X-from.X, to.Y-from.Y
	long := dx*dx + dy*dy
	if long == 0 {
		return from
	}
	t := min(1, max(0, ((q.X-from.X)*dx+(q.Y-from.Y)*dy)/long))
	return Point{from.X + t*dx, from.Y + t*dy}
}

// ToPiece gives the distance of a point from a piece of a straight line.
func (p Point) ToPiece(from, to Point) float64 { return p.from(Nearest(p, from, to)) }

// Cross reports whether two pieces of straight lines cross within both.
func Cross(a, b, c, d Point) bool {
	side := func(p, q, r Point) float64 { return (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X) }
	return side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0
}

// Apart gives the distance between two pieces of straight lines, from a to b
// and from c to d; 0 where they cross.
func Apart(a, b, c, d Point) float64 {
	if Cross(a, b, c, d) {
		return 0
	}
	return min(a.ToPiece(c, d), b.ToPiece(c, d), c.ToPiece(a, b), d.ToPiece(a, b))
}

// ToDisc gives the distance of a point from a disc, 0 within it.
func (p Point) ToDisc(at Point, radius float64) float64 { return max(0, p.from(at)-radius) }

// least gives the least value of a convex function between two places, by
// thirds, until rounding leaves nothing to halve.
func least(lo, hi float64, f func(float64) float64) float64 {
	for range 200 {
		a, b := lo+(hi-lo)/3, hi-(hi-lo)/3
		if !(a < b) {
			break
		}
		if f(a) <= f(b) {
			hi = b
		} else {
			lo = a
		}
	}
	return min(f(lo), f(hi), f((lo+hi)/2))
}

func sinOf(degrees float64) float64 { return math.Sin(degrees * math.Pi / 180) }

// Closest gives the points of two pieces of straight lines, from a to b and from
// c to d, that are nearest to each other.
func Closest(a, b, c, d Point) (p, q Point) {
	if Cross(a, b, c, d) {
		x, y := d.X-c.X, d.Y-c.Y
		t := ((c.X-a.X)*y - (c.Y-a.Y)*x) / ((b.X-a.X)*y - (b.Y-a.Y)*x)
		p = Point{a.X + t*(b.X-a.X), a.Y + t*(b.Y-a.Y)}
		return p, p
	}
	p, q = a, Nearest(a, c, d)
	for _, pair := range [][2]Point{{b, Nearest(b, c, d)}, {Nearest(c, a, b), c}, {Nearest(d, a, b), d}} {
		if pair[0].from(pair[1]) < p.from(q) {
			p, q = pair[0], pair[1]
		}
	}
	return p, q
}
