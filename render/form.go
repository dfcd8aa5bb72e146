package render

import "math"

// form is a shape one high: its width and its parts, none of which overlap. Its left edge is at 0, where a hit stands.
type form struct {
	name  string
	width float32
	parts []part
}

// part is a polygon, with the way each corner goes when the polygon grows by one all round.
type part struct {
	corners []Point
	out     []Point
}

// newForm gives a form of polygons.
func newForm(name string, width float32, polygons ...[]Point) form {
	f := form{name: name, width: width}
	for _, p := range polygons {
		f.parts = append(f.parts, part{p, outward(p)})
	}
	return f
}

// maxMitre bounds how far a sharp corner runs out when a polygon grows by one.
const maxMitre = 2.4

// outward gives for each corner where it goes when all edges move out by one.
func outward(p []Point) []Point {
	out := make([]Point, len(p))
	side := turn(p)
	for i, c := range p {
		a := normal(p[(i+len(p)-1)%len(p)], c, side)
		b := normal(c, p[(i+1)%len(p)], side)
		x, y := a.X+b.X, a.Y+b.Y
		k := min(1/(1+a.X*b.X+a.Y*b.Y), maxMitre/float32(math.Hypot(float64(x), float64(y))))
		out[i] = Point{x * k, y * k}
	}
	return out
}

// turn gives 1 for a polygon that runs clockwise on the screen, else -1.
func turn(p []Point) float32 {
	var area float32
	for i, a := range p {
		b := p[(i+1)%len(p)]
		area += a.X*b.Y - b.X*a.Y
	}
	if area < 0 {
		return -1
	}
	return 1
}

// normal gives the unit vector across the edge from a to b, out of a polygon that turns to side.
func normal(a, b Point, side float32) Point {
	dx, dy := float64(b.X-a.X), float64(b.Y-a.Y)
	l := float32(math.Hypot(dx, dy)) * side
	return Point{(b.Y - a.Y) / l, (a.X - b.X) / l}
}

// arc gives the points of a circle about (x, y) from one angle to another in degrees, clockwise on the screen from the right.
func arc(x, y, r, from, to float32, steps int) []Point {
	points := make([]Point, 0, steps+1)
	for i := range steps + 1 {
		a := float64(from+(to-from)*float32(i)/float32(steps)) * math.Pi / 180
		points = append(points, Point{x + r*float32(math.Cos(a)), y + r*float32(math.Sin(a))})
	}
	return points
}

// pin gives a stem with a head of radius r; half is half the stem's width.
func pin(r, half float32) []Point {
	head := arc(r, r, r, 108, 432, 18)
	return append(head, Point{r + half, 1}, Point{r - half, 1})
}

func square(x, y, side float32) []Point {
	return []Point{{x, y}, {x + side, y}, {x + side, y + side}, {x, y + side}}
}

// formPart adds one part of a form, h device pixels high with its left top at p, grown by more device pixels all round.
func (s *Scene) formPart(pt *part, p Point, h, more float32, ink Ink, cover uint8) {
	var room [24]Point
	points := room[:0]
	for i, c := range pt.corners {
		points = append(points, Point{p.X + c.X*h + pt.out[i].X*more, p.Y + c.Y*h + pt.out[i].Y*more})
	}
	s.Poly(ink, cover, points...)
}
