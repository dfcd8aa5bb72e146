package timeline

import "math"

// Path is what an effect passes over, on the stage plan: a line rocket along
// its line, a tilted shot as far as it comes down.
type Path struct {
	From, To Point
	Half     float64 // m that must stay free on both sides of it and at its ends
	Line     bool    // of a line; otherwise of a tilted shot
	Top      float64 // m above the stage floor, of the higher end of a line
}

// Path gives the path of an article at a unit; false where it stays over its
// unit, or stands nowhere. Half is the larger of half the article's corridor and
// its fallout radius. Throw is the part of a throw without drag that a tilted
// shot is taken to go: see ThrowOf.
func (u *Unit) Path(a *Article, throw float64) (Path, bool) {
	if u.Position == nil {
		return Path{}, false
	}
	from := Point{u.Position.X, u.Position.Y}
	if u.End != nil {
		return Path{from, Point{u.End.X, u.End.Y}, max(a.Corridor/2, a.Fallout), true, max(u.Position.Z, u.End.Z)}, true
	}
	if !a.Family.Thrown() || u.Placed.Pan == 0 && u.Placed.Tilt == 0 || a.Height == 0 {
		return Path{}, false
	}
	x, y, lean := u.Placed.lean()
	far := throw * ThrowOf(a.Height, max(0, u.Position.Z), lean)
	return Path{From: from, To: Point{from.X + far*x, from.Y + far*y}, Half: a.Fallout}, true
}

// Leaves reports whether anything at the unit could have a path: its line ends
// elsewhere, or it is tilted.
func (u *Unit) Leaves() bool { return u.End != nil || u.Placed.Pan != 0 || u.Placed.Tilt != 0 }

// lean gives the direction, on the stage plan, into which a placed effect is
// turned from straight up, and by how much, in radians.
func (p *Placed) lean() (x, y, angle float64) {
	sx, cx := math.Sincos(p.Pan * math.Pi / 180)
	sy, cy := math.Sincos(p.Tilt * math.Pi / 180)
	x, y, z := sx, cx*sy, cx*cy // turned by the pan first, then by the tilt
	flat := math.Hypot(x, y)
	if flat == 0 {
		return 0, 0, 0
	}
	return x / flat, y / flat, math.Atan2(flat, z)
}

// ThrowOf is how far from its unit a shot comes down that would rise to a height
// straight up, tilted by an angle from there, from so high above the floor.
// Derived: a throw without drag at v² = 2gh goes 2h·sin a·(cos a + √(cos² a +
// z/h)). Past 45° at least what 45° would give is taken, for aim and surface are
// never exact there. Lengths in metres, the angle in radians.
func ThrowOf(height, z, angle float64) float64 {
	far := func(a float64) float64 {
		sin, cos := math.Sincos(a)
		return 2 * height * sin * (cos + math.Sqrt(cos*cos+z/height))
	}
	if angle > math.Pi/4 {
		return max(far(angle), far(math.Pi/4))
	}
	return far(angle)
}

// Away is the distance of a point from the path's line, in metres.
func (p *Path) Away(q Point) float64 { return fromPiece(q, p.From, p.To) }

// AwayFromLine is the least distance between the path's line and another one.
func (p *Path) AwayFromLine(from, to Point) float64 {
	if crosses(p.From, p.To, from, to) {
		return 0
	}
	return min(fromPiece(p.From, from, to), fromPiece(p.To, from, to), fromPiece(from, p.From, p.To), fromPiece(to, p.From, p.To))
}

// fromPiece is the distance of a point from a piece of a straight line.
func fromPiece(q, from, to Point) float64 {
	dx, dy := to.X-from.X, to.Y-from.Y
	long := dx*dx + dy*dy
	t := 0.0
	if long > 0 {
		t = min(1, max(0, ((q.X-from.X)*dx+(q.Y-from.Y)*dy)/long))
	}
	return math.Hypot(q.X-from.X-t*dx, q.Y-from.Y-t*dy)
}

// crosses reports whether two pieces of straight lines cross within both.
func crosses(a, b, c, d Point) bool {
	side := func(p, q, r Point) float64 { return (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X) }
	return side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0
}
