package front

import (
	"image"
	"math"

	"emberbeat/render"
	"emberbeat/timeline"
)

// axis is a figure's own frame on the picture: along it and across it, in device
// pixels.
type axis struct {
	from   render.Point
	ax, ay float32
	long   float32 // at full height
	ppm    float32
	l      *look
}

// axisOf lays the frame of a look at its unit.
func (d *Drawer) axisOf(u *unit, l *look) axis {
	x := axis{from: d.footOf(u), ay: -1, ppm: float32(d.ppm), l: l}
	if l.line {
		to := d.at(l.to.X, l.to.Z)
		dx, dy := float64(to.X-x.from.X), float64(to.Y-x.from.Y)
		if n := math.Hypot(dx, dy); n > 0 {
			x.ax, x.ay, x.long = float32(dx/n), float32(dy/n), float32(n)
		}
		return x
	}
	if l.seen > 1e-6 {
		x.ax, x.ay = float32(l.dir.X/l.seen), float32(-l.dir.Z/l.seen)
	}
	x.long = float32(l.length*l.seen) * x.ppm
	return x
}

// at gives a place along and across, in device pixels.
func (x *axis) at(along, across float32) render.Point {
	return render.Point{X: x.from.X + x.ax*along - x.ay*across, Y: x.from.Y + x.ay*along + x.ax*across}
}

// half gives half the width at a part of the height, in device pixels.
func (x *axis) half(part float32) float32 {
	return float32(x.l.root+x.l.grow*x.l.length*float64(part)) * x.ppm
}

// reaches draws what comes in the next bars as the dotted line of its full height.
func (d *Drawer) reaches() {
	if d.v.Hide.Reach {
		return
	}
	for i := range d.units {
		if u := &d.units[i]; u.next != nil && u.body == nil {
			x := d.axisOf(&d.st.units[i], u.next.look)
			d.edge(&x, 1, true, 170)
		}
	}
}

// bodies draws what stands at the moment.
func (d *Drawer) bodies() {
	for i := range d.units {
		u := &d.units[i]
		if u.body == nil {
			continue
		}
		x := d.axisOf(&d.st.units[i], u.body.look)
		switch {
		case d.lines[u.spell] && !d.v.Bare:
			d.edge(&x, 1, false, 255)
		case d.st.spells[u.spell].striped && !d.v.Bare:
			d.stripes(&x)
		default:
			d.body(&x, float32(u.height), u.body)
			if !d.v.Still && !d.v.Hide.Reach {
				d.edge(&x, 1, true, 110)
			}
		}
	}
}

// cover gives a part of the theme's fill of bodies.
func (d *Drawer) cover(part float32) uint8 { return uint8(float32(d.th.GlyphFill) * part) }

// body draws one figure at a part of its height.
func (d *Drawer) body(x *axis, height float32, h *hit) {
	fallen := float32(0)
	if !d.v.Still {
		fallen = float32(h.course.Fallen(d.v.At))
	}
	switch l := x.l; {
	case l.line:
		d.shot(x, height)
	case l.burst > 0:
		d.burst(x, height)
	case l.outline == timeline.ColumnOutline:
		d.flame(x, height)
	case l.outline == timeline.JetOutline:
		d.jet(x, height)
	case l.outline == timeline.FanOutline:
		d.sparks(x, height)
	case l.outline == timeline.FallingOutline && l.class == timeline.Paper:
		d.paper(x, min(height, 1), fallen, h)
	case l.outline == timeline.FallingOutline:
		d.curtain(x, height)
	case l.outline == timeline.CloudOutline:
		d.cloud(x, height, fallen)
	case l.outline == timeline.StemOutline:
		d.shot(x, height)
	default:
		d.edge(x, height, false, 255)
	}
	if h.course.Assumed && x.l.outline != timeline.CloudOutline && x.l.class != timeline.Paper {
		d.edge(x, height, true, 255)
	}
	if d.th.GlyphFill < 255 {
		d.edge(x, height, false, d.th.GlyphEdge)
	}
}

// leaf is the half width of a flame along its height, as a part of its widest.
var leaf = [...]float32{0.25, 0.55, 0.88, 1, 0.95, 0.78, 0.55, 0.28, 0}

// flame draws two nested leaves.
func (d *Drawer) flame(x *axis, height float32) {
	d.leaf(x, x.long*height, x.half(0.7), x.l.ink, d.cover(1))
	d.leaf(x, x.long*height*0.55, x.half(0.7)*0.45, render.InkText, d.cover(0.45))
}

func (d *Drawer) leaf(x *axis, long, half float32, ink render.Ink, cover uint8) {
	n := float32(len(leaf) - 1)
	d.points = d.points[:0]
	for i, w := range leaf {
		d.points = append(d.points, x.at(long*float32(i)/n, half*w))
	}
	for i := len(leaf) - 2; i >= 0; i-- {
		d.points = append(d.points, x.at(long*float32(i)/n, -half*leaf[i]))
	}
	d.s.Poly(ink, cover, d.points...)
}

// jetParts is in how many parts a jet gets paler.
const jetParts = 6

// jet draws a widening cone, paler upward.
func (d *Drawer) jet(x *axis, height float32) {
	for i := range jetParts {
		a, b := float32(i)/jetParts, float32(i+1)/jetParts
		d.slice(x, a*height, b*height, x.l.ink, d.cover(1-0.7*a))
	}
}

// slice draws what of a cone lies between two parts of its height.
func (d *Drawer) slice(x *axis, a, b float32, ink render.Ink, cover uint8) {
	p, q := x.half(a), x.half(b)
	d.s.Poly(ink, cover, x.at(a*x.long, p), x.at(b*x.long, q), x.at(b*x.long, -q), x.at(a*x.long, -p))
}

// sparks draws dots on rays.
func (d *Drawer) sparks(x *axis, height float32) {
	const rays, dots = 3, 9
	size := max(d.s.Px(2), 1)
	for k := 1; k <= dots; k++ {
		part := height * float32(k) / dots
		for j := -rays; j <= rays; j++ {
			p := x.at(part*x.long*(1-0.05*float32(j*j)/rays), x.half(part)*float32(j)/rays)
			d.s.Tint(image.Rect(int(p.X), int(p.Y), int(p.X)+size, int(p.Y)+size), x.l.ink, d.cover(1-0.6*part))
		}
	}
}

// shot draws a stem with a head.
func (d *Drawer) shot(x *axis, height float32) {
	tip := x.at(x.long*height, 0)
	d.s.Line(d.s.Scale.Pxf(3), x.l.ink, d.cover(0.8), x.from, tip)
	d.ring(tip, d.s.Scale.Pxf(5))
	d.s.Poly(x.l.ink, d.cover(1), d.points...)
}

// burst draws rays around where it goes off; what is thrown rises there.
func (d *Drawer) burst(x *axis, height float32) {
	const rays = 12
	at := x.from
	if x.l.burst < x.l.length {
		at = x.at(x.long*height, 0)
		d.s.Line(d.s.Scale.Pxf(1.5), x.l.ink, d.cover(0.5), x.from, at)
	}
	r := float32(x.l.burst) * x.ppm * height
	d.s.PushClip(d.aboveFloor())
	defer d.s.PopClip()
	for i := range rays {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / rays)
		d.s.Line(d.s.Scale.Pxf(2.5), x.l.ink, d.cover(0.9), render.Point{X: at.X + r*0.15*float32(cos), Y: at.Y + r*0.15*float32(sin)}, render.Point{X: at.X + r*float32(cos), Y: at.Y + r*float32(sin)})
	}
}

// aboveFloor is the part of the picture in which things go off.
func (d *Drawer) aboveFloor() image.Rectangle {
	r := d.picture
	r.Max.Y = int(d.base)
	return r
}

// paper draws squares that are thrown up along the axis and sink to the floor.
func (d *Drawer) paper(x *axis, height, fallen float32, h *hit) {
	const squares = 30
	if fallen > 0 {
		height = 1
	}
	size := max(d.s.Px(4), 2)
	for i := range squares {
		a, b := scatter(i, 1), scatter(i, 2)
		part := height * (0.35 + 0.65*a)
		p := x.at(part*x.long, x.half(part)*(2*b-1))
		p.Y += (float32(d.base) - p.Y - float32(size)) * min(1, fallen*(0.8+0.4*b))
		p.X += 0.8 * x.ppm * fallen * (a - 0.4)
		d.s.Tint(image.Rect(int(p.X), int(p.Y), int(p.X)+size, int(p.Y)+size), x.l.ink, d.cover(1))
	}
}

// scatter gives a number from 0 to 1 that is always the same for two numbers.
func scatter(i, k int) float32 {
	n := uint32(i*2654435761) ^ uint32(k*40503)
	n ^= n >> 15
	n *= 2246822519
	n ^= n >> 13
	return float32(n%1000) / 1000
}

// curtain draws dots that fall to the floor.
func (d *Drawer) curtain(x *axis, height float32) {
	d.s.PushClip(d.aboveFloor())
	defer d.s.PopClip()
	size := max(d.s.Px(2), 1)
	step := d.s.Px(8)
	half := int(x.half(0))
	for across := -half; across <= half; across += step {
		for down := 0; float32(down) < height*x.long; down += step {
			p := x.at(float32(down)+float32(step)*scatter(across+9999, down), float32(across))
			d.s.Tint(image.Rect(int(p.X), int(p.Y), int(p.X)+size, int(p.Y)+size), x.l.ink, d.cover(0.9))
		}
	}
}

// cloud draws low ellipses that spread and thin out.
func (d *Drawer) cloud(x *axis, height, fallen float32) {
	const parts = 5
	for i := range parts {
		across := (float32(i) - (parts-1)/2.0) * 0.7 * (1 + fallen) * x.ppm
		wide, high := (0.9+0.5*fallen)*x.ppm, 0.35*x.ppm
		p := render.Point{X: x.from.X + across, Y: x.from.Y - high*(0.8+0.3*scatter(i, 3))}
		d.points = d.points[:0]
		for k := range 16 {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / 16)
			d.points = append(d.points, render.Point{X: p.X + wide*float32(cos), Y: p.Y + high*float32(sin)})
		}
		d.s.Poly(x.l.ink, d.cover(0.32*height), d.points...)
	}
}

// stripes draws what would flash as a figure that stands still, in stripes.
func (d *Drawer) stripes(x *axis) {
	long := x.long
	if x.l.burst > 0 || x.l.line || x.l.outline == timeline.CloudOutline {
		d.edge(x, 1, false, 255)
		return
	}
	step := d.s.Scale.Pxf(5)
	for at := step; at+step <= long; at += 2 * step {
		d.slice(x, at/long, (at+step)/long, x.l.ink, d.cover(0.75))
	}
	d.edge(x, 1, false, 255)
}

// edge draws the line around a figure at a part of its height, dotted where what it
// stands for is not there yet or is assumed.
func (d *Drawer) edge(x *axis, height float32, dotted bool, cover uint8) {
	l, long := x.l, x.long*height
	switch {
	case l.line:
		d.stroke(x.from, x.at(long, 0), l.ink, cover, dotted)
		return
	case l.burst > 0:
		d.s.PushClip(d.aboveFloor())
		defer d.s.PopClip()
		at, r := x.from, float32(l.burst)*x.ppm*height
		if l.burst < l.length {
			at = x.at(long, 0)
			d.stroke(x.from, at, l.ink, cover, dotted)
		}
		d.around(at, r, r, l.ink, cover, dotted)
		return
	case l.outline == timeline.CloudOutline:
		d.around(render.Point{X: x.from.X, Y: x.from.Y - 0.3*x.ppm}, 2*x.ppm, 0.3*x.ppm, l.ink, cover, dotted)
		return
	}
	a, b := x.half(0), x.half(height)
	d.stroke(x.at(0, -a), x.at(long, -b), l.ink, cover, dotted)
	d.stroke(x.at(long, -b), x.at(long, b), l.ink, cover, dotted)
	d.stroke(x.at(long, b), x.at(0, a), l.ink, cover, dotted)
	if l.seen < 0.5 { // it leans out of the picture: as wide as its end is
		d.around(x.at(long, 0), b, b, l.ink, cover, dotted)
	}
}

// stroke draws a line, dotted or not.
func (d *Drawer) stroke(p, q render.Point, ink render.Ink, cover uint8, dotted bool) {
	w := d.s.Scale.Pxf(1.2)
	if !dotted {
		d.s.Line(w, ink, cover, p, q)
		return
	}
	long := math.Hypot(float64(q.X-p.X), float64(q.Y-p.Y))
	on, all := d.s.Scale.Pxf(2.5), d.s.Scale.Pxf(6)
	n := min(int(long/float64(all))+1, 200)
	if long <= 0 {
		return
	}
	dx, dy := (q.X-p.X)/float32(long), (q.Y-p.Y)/float32(long)
	for i := range n {
		a := float32(i) * all
		b := min(a+on, float32(long))
		d.s.Line(w, ink, cover, render.Point{X: p.X + dx*a, Y: p.Y + dy*a}, render.Point{X: p.X + dx*b, Y: p.Y + dy*b})
	}
}

// around draws an ellipse, dotted or not.
func (d *Drawer) around(c render.Point, wide, high float32, ink render.Ink, cover uint8, dotted bool) {
	const parts = 40
	w := d.s.Scale.Pxf(1.2)
	last := render.Point{X: c.X + wide, Y: c.Y}
	for i := 1; i <= parts; i++ {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / parts)
		p := render.Point{X: c.X + wide*float32(cos), Y: c.Y + high*float32(sin)}
		if !dotted || i%2 == 0 {
			d.s.Line(w, ink, cover, last, p)
		}
		last = p
	}
}

// ring puts the points of a small circle into the drawer's memory.
func (d *Drawer) ring(c render.Point, r float32) {
	d.points = d.points[:0]
	for i := range 14 {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 14)
		d.points = append(d.points, render.Point{X: c.X + r*float32(cos), Y: c.Y + r*float32(sin)})
	}
}
