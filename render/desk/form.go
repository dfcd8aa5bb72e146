package desk

import (
	"math"

	"github.com/hajimehoshi/ebiten/v2"

	"emberbeat/render"
)

// fringe is half the width in device pixels of the edge over which a slanted shape fades out: the engine's own smoothing is five times
// slower.
const fringe = 0.5

// poly fills a polygon: its body shrunk by the fringe, and around it a rim that fades from full to nothing.
func (p *painter) poly(sh *render.Shape) {
	if !sh.Box.Overlaps(p.clip) {
		return
	}
	corners := p.scene.Points(sh)
	if len(corners) < 3 {
		return
	}
	p.offset(corners)
	full := p.colour(sh.Ink, float32(sh.Cover))
	none := ebiten.Vertex{SrcX: white, SrcY: white}
	p.form = p.form[:0]
	for _, c := range p.inner {
		p.form = append(p.form, at(full, c))
	}
	for _, c := range p.outer {
		p.form = append(p.form, at(none, c))
	}
	n := int16(len(corners))
	p.faces = p.faces[:0]
	for i := range n {
		j := (i + 1) % n
		p.faces = append(p.faces, i, j, n+j, i, n+j, n+i)
	}
	p.body()
	p.mesh(sh.Box.In(p.clip))
}

// mesh adds the triangles of the form, whole where it lies inside the clip.
func (p *painter) mesh(inside bool) {
	if !inside {
		for i := 0; i < len(p.faces); i += 3 {
			p.clipped(p.form[p.faces[i]], p.form[p.faces[i+1]], p.form[p.faces[i+2]])
		}
		return
	}
	p.need(len(p.form))
	n := uint16(len(p.vertices))
	p.vertices = append(p.vertices, p.form...)
	for _, i := range p.faces {
		p.indices = append(p.indices, n+uint16(i))
	}
}

func at(v ebiten.Vertex, q render.Point) ebiten.Vertex {
	v.DstX, v.DstY = q.X, q.Y
	return v
}

// offset finds the corners of a polygon shrunk and grown by the fringe.
func (p *painter) offset(corners []render.Point) {
	p.inner, p.outer = p.inner[:0], p.outer[:0]
	side := area(corners)
	n := len(corners)
	ux, uy := normal(corners[n-1], corners[0], side)
	for i, c := range corners {
		vx, vy := normal(c, corners[(i+1)%n], side)
		o := mitre(ux, uy, vx, vy)
		p.inner = append(p.inner, render.Point{X: c.X - o.X, Y: c.Y - o.Y})
		p.outer = append(p.outer, render.Point{X: c.X + o.X, Y: c.Y + o.Y})
		ux, uy = vx, vy
	}
}

// area gives twice the signed area of a polygon: positive when it runs clockwise on the screen.
func area(c []render.Point) (sum float32) {
	for i, a := range c {
		b := c[(i+1)%len(c)]
		sum += a.X*b.Y - b.X*a.Y
	}
	return sum
}

// mitre gives how far the corner between two edges goes outwards when both do by the fringe, from their unit normals; a sharp corner goes no
// further than three times that.
func mitre(ux, uy, vx, vy float32) render.Point {
	k := max(1+ux*vx+uy*vy, 0.12)
	x, y := (ux+vx)/k*fringe, (uy+vy)/k*fringe
	if l := x*x + y*y; l > 9*fringe*fringe {
		cut := 3 * fringe / float32(math.Sqrt(float64(l)))
		x, y = x*cut, y*cut
	}
	return render.Point{X: x, Y: y}
}

// normal gives the unit vector across an edge, outwards.
func normal(a, b render.Point, side float32) (x, y float32) {
	x, y = b.Y-a.Y, a.X-b.X
	l := float32(math.Sqrt(float64(x*x + y*y)))
	if l == 0 {
		return 0, 0
	}
	if side < 0 {
		l = -l
	}
	return x / l, y / l
}

// body fills the shrunk polygon by cutting off ears. The shapes have few corners, so the square of them is small.
func (p *painter) body() {
	p.ring = p.ring[:0]
	for i := range p.inner {
		p.ring = append(p.ring, int16(i))
	}
	side := area(p.inner)
	for len(p.ring) > 3 {
		i := p.ear(side)
		n := len(p.ring)
		p.faces = append(p.faces, p.ring[(i+n-1)%n], p.ring[i], p.ring[(i+1)%n])
		p.ring = append(p.ring[:i], p.ring[i+1:]...)
	}
	p.faces = append(p.faces, p.ring...)
}

// ear finds a corner that can be cut off: it points outwards and no other corner lies in its triangle. A polygon without one has no inside
// left; its first corner will do.
func (p *painter) ear(side float32) int {
	n := len(p.ring)
	for i := range p.ring {
		a, b, c := p.inner[p.ring[(i+n-1)%n]], p.inner[p.ring[i]], p.inner[p.ring[(i+1)%n]]
		if turn(a, b, c)*side > 0 && p.free(i, a, b, c, side) {
			return i
		}
	}
	return 0
}

func (p *painter) free(ear int, a, b, c render.Point, side float32) bool {
	n := len(p.ring)
	for k := range n - 3 {
		q := p.inner[p.ring[(ear+2+k)%n]]
		if turn(a, b, q)*side >= 0 && turn(b, c, q)*side >= 0 && turn(c, a, q)*side >= 0 {
			return false
		}
	}
	return true
}

// turn is positive when c lies clockwise of the line from a to b, on the screen.
func turn(a, b, c render.Point) float32 { return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X) }

// line draws a polyline with butt ends, each segment on its own.
func (p *painter) line(sh *render.Shape) {
	if !sh.Box.Overlaps(p.clip) {
		return
	}
	inside := sh.Box.In(p.clip)
	points := p.scene.Points(sh)
	full := p.colour(sh.Ink, float32(sh.Cover)*min(sh.Width, 1))
	none := ebiten.Vertex{SrcX: white, SrcY: white}
	body, edge := max(sh.Width/2-fringe, 0), max(sh.Width/2+fringe, 2*fringe)
	p.faces = append(p.faces[:0], 0, 1, 2, 1, 2, 3, 2, 3, 4, 3, 4, 5, 4, 5, 6, 5, 6, 7)
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		x, y := normal(a, b, 1)
		p.form = p.form[:0]
		for k, d := range [...]float32{-edge, -body, body, edge} {
			v := full
			if k == 0 || k == 3 {
				v = none
			}
			p.form = append(p.form, at(v, render.Point{X: a.X + x*d, Y: a.Y + y*d}), at(v, render.Point{X: b.X + x*d, Y: b.Y + y*d}))
		}
		p.mesh(inside)
	}
}

// clipped adds a triangle, cut to the clip.
func (p *painter) clipped(a, b, c ebiten.Vertex) {
	p.need(8)
	p.cut[0] = append(p.cut[0][:0], a, b, c)
	for side := range 4 {
		p.cutAt(side)
		p.cut[0], p.cut[1] = p.cut[1], p.cut[0]
	}
	if len(p.cut[0]) < 3 {
		return
	}
	n := uint16(len(p.vertices))
	p.vertices = append(p.vertices, p.cut[0]...)
	for i := uint16(2); i < uint16(len(p.cut[0])); i++ {
		p.indices = append(p.indices, n, n+i-1, n+i)
	}
}

// cutAt keeps of a convex polygon what lies on the inner side of one edge of the clip.
func (p *painter) cutAt(side int) {
	in := p.cut[0]
	out := p.cut[1][:0]
	for i, a := range in {
		b := in[(i+1)%len(in)]
		da, db := p.depth(side, a), p.depth(side, b)
		if da >= 0 {
			out = append(out, a)
		}
		if (da >= 0) != (db >= 0) {
			out = append(out, between(a, b, da/(da-db)))
		}
	}
	p.cut[1] = out
}

// depth gives how far a vertex lies inside one edge of the clip.
func (p *painter) depth(side int, v ebiten.Vertex) float32 {
	switch side {
	case 0:
		return v.DstX - float32(p.clip.Min.X)
	case 1:
		return float32(p.clip.Max.X) - v.DstX
	case 2:
		return v.DstY - float32(p.clip.Min.Y)
	}
	return float32(p.clip.Max.Y) - v.DstY
}

// between gives the vertex a part of the way from a to b.
func between(a, b ebiten.Vertex, part float32) ebiten.Vertex {
	mix := func(x, y float32) float32 { return x + (y-x)*part }
	a.DstX, a.DstY = mix(a.DstX, b.DstX), mix(a.DstY, b.DstY)
	a.ColorR, a.ColorG, a.ColorB, a.ColorA = mix(a.ColorR, b.ColorR), mix(a.ColorG, b.ColorG), mix(a.ColorB, b.ColorB), mix(a.ColorA, b.ColorA)
	return a
}
