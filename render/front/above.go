package front

import (
	"cmp"
	"image"
	"math"
	"strconv"

	"emberbeat/render"
	"emberbeat/timeline"
	"emberbeat/timeline/figure"
)

// barrier is where an audience stands, on the plan.
type barrier struct {
	from, to figure.Point
	name     string
}

// farBarrier is how far before the stage a line of an audience is still in the picture from above, in m; one farther off would make all else small
// (our judgement).
const farBarrier = 8.0

// holdPlan makes the picture from above large enough for a place with some room around it.
func (st *Stage) holdPlan(y, room float64) {
	st.near, st.far = min(st.near, y-room), max(st.far, y+room)
}

// plan gives what of the plan a look covers, in m.
func (l *look) plan() (x0, x1, y0, y1 float64) {
	tip := l.at.Along(l.dir, l.length)
	if l.line {
		tip = l.to
	}
	wide := l.wide(1)
	return min(l.at.X, tip.X) - wide, max(l.at.X, tip.X) + wide, min(l.at.Y, tip.Y) - wide, max(l.at.Y, tip.Y) + wide
}

// wide gives half the width of a look at its end, at a part of its height, in m.
func (l *look) wide(part float64) float64 {
	switch {
	case l.line:
		return 0.15
	case l.burst > 0:
		return l.burst * part
	}
	return l.root + l.grow*l.length*part
}

// flat finds the units that are drawn as lines from above: there they meet units that they do not meet from the front, and what keeps a place from
// flashing was found for the picture from the front.
func (st *Stage) flat() {
	front, plan := make([]box, len(st.units)), make([]box, len(st.units))
	for i := range st.hits {
		h := &st.hits[i]
		if !st.units[h.unit].on || h.look == nil {
			continue
		}
		front[h.unit].hold(h.look)
		x0, x1, y0, y1 := h.look.plan()
		plan[h.unit].take(box{x0 - beside, x1 + beside, y0, y1, true})
		st.holdPlan(y0, 0)
		st.holdPlan(y1, 0)
	}
	for i := range plan {
		for k := range plan[:i] {
			if plan[i].meets(&plan[k]) && !front[i].meets(&front[k]) {
				st.units[i].flat, st.units[k].flat = true, true
			}
		}
	}
}

// barriers takes from the plan's venue where the audience stands, as far as that is near.
func (st *Stage) barriers(p *timeline.Plan) {
	if p.Venue == nil {
		return
	}
	for _, l := range p.Venue.Audience {
		from, to := figure.Point(l.From), figure.Point(l.To)
		if min(from.Y, to.Y) < st.near-farBarrier || max(from.Y, to.Y) > st.far+farBarrier {
			st.away = true
			continue
		}
		st.edges = append(st.edges, barrier{from, to, cmp.Or(l.Name, "audience")})
	}
	for _, e := range st.edges {
		st.holdPlan(e.from.Y, 0.5)
		st.holdPlan(e.to.Y, 0.5)
	}
}

// fromAbove draws the moment from above: up is upstage, as on the stage plan.
func (d *Drawer) fromAbove(area image.Rectangle) {
	d.fitAbove(area)
	d.look()
	s := d.s
	s.PushClip(area)
	before := d.st.before
	if !d.st.away {
		before = ""
	}
	d.foot(before)
	d.floor()
	d.closedAbove()
	d.reachesAbove()
	d.bodiesAbove()
	d.peopleAbove()
	d.feetAbove()
	d.wordsAbove()
	s.PopClip()
}

// fitAbove finds the scale.
func (d *Drawer) fitAbove(area image.Rectangle) {
	s, st := d.s, d.st
	d.picture = area
	low := s.Face(render.TypeSmall).Height() + s.Px(6) // for the caption
	d.ppm = min(float64(area.Dx()-s.Px(16))/(st.right-st.left), float64(area.Dy()-low-s.Px(10))/(st.far-st.near))
	d.ppm = max(d.ppm, 1)
	d.x0 = float64(area.Min.X+area.Max.X)/2 - (st.left+st.right)/2*d.ppm
	d.base = float64(area.Min.Y+area.Max.Y-low)/2 + (st.near+st.far)/2*d.ppm
	d.keep(area)
}

// over gives where a place on the plan is drawn, which is as at gives it with what lies upstage in the place of what lies high.
func (d *Drawer) over(p figure.Point) render.Point { return d.at(p.X, p.Y) }

// spot gives where a unit is drawn from above: those at one position stand side by side.
func (d *Drawer) spot(u *unit) render.Point {
	p := d.at(u.x, u.y)
	p.X += d.s.Scale.Pxf(5) * float32(u.shift)
	return p
}

// floor draws a grid in metres, the front edge of the stage, and the lines of the audience.
func (d *Drawer) floor() {
	s, a := d.s, d.picture
	step := d.gridStep()
	thin, grid := s.Px(1), float64(step)*d.st.told.Back("m", 1)
	for x := math.Ceil(d.st.left/grid) * grid; x <= d.st.right; x += grid {
		at := int(d.at(x, 0).X)
		s.Rect(image.Rect(at, a.Min.Y, at+thin, a.Max.Y), render.InkBeat)
	}
	for y := math.Ceil(d.st.near/grid) * grid; y <= d.st.far; y += grid {
		at := int(d.at(0, y).Y)
		ink := render.InkBeat
		if y == 0 {
			ink = render.InkEdge
		}
		s.Rect(image.Rect(a.Min.X, at, a.Max.X, at+thin), ink)
	}
	d.text = append(strconv.AppendInt(append(d.text[:0], "grid "...), int64(step), 10), ' ')
	d.text = append(d.text, d.st.told.Unit("m")...)
	d.put(image.Pt(a.Min.X+s.Px(4), a.Min.Y+s.Px(3)), render.TypeSmall, render.InkFaint, d.text)
	d.text = append(d.text[:0], "front edge"...)
	d.put(image.Pt(a.Min.X+s.Px(4), int(d.base)+s.Px(2)), render.TypeSmall, render.InkFaint, d.text)
	for i := range d.st.edges {
		e := &d.st.edges[i]
		from, to := d.over(e.from), d.over(e.to)
		s.Line(s.Scale.Pxf(2), render.InkSecondary, 255, from, to)
		d.text = append(d.text[:0], e.name...)
		d.put(image.Pt(int((from.X+to.X)/2)-s.Face(render.TypeSmall).MeasureBytes(d.text)/2, int(max(from.Y, to.Y))+s.Px(2)), render.TypeSmall, render.InkSecondary, d.text)
	}
}

// closedAbove draws the clear zones in force: what stays clear around each unit, hatched.
func (d *Drawer) closedAbove() {
	if d.v.Hide.Zones {
		return
	}
	for i := range d.units {
		if !d.units[i].zone {
			continue
		}
		d.badMarks(i)
		is := &d.st.units[i]
		c, r := d.at(is.x, is.y), float32(is.clear*d.ppm)
		for off := -r; off < r; off += d.s.Scale.Pxf(9) {
			half := float32(math.Sqrt(float64(r*r - off*off)))
			x, y := c.X+off*math.Sqrt2/2, c.Y+off*math.Sqrt2/2
			x1, y1 := half*math.Sqrt2/2, half*math.Sqrt2/2
			d.s.Line(d.s.Scale.Pxf(1), render.InkBar, 255, render.Point{X: x - x1, Y: y + y1}, render.Point{X: x + x1, Y: y - y1})
		}
		d.arc(c, r, 0, 1, d.s.Scale.Pxf(1), render.InkEdge)
	}
}

// shape lays the outline of a look at a part of its height, as the plan shows it, into d.points: a ring for what stands upright, and what widens along
// its way for what leans.
func (d *Drawer) shape(u *unit, l *look, part float64) {
	tip := l.at.Along(l.dir, l.length*part)
	if l.line {
		tip = figure.Vec{X: l.at.X + (l.to.X-l.at.X)*part, Y: l.at.Y + (l.to.Y-l.at.Y)*part}
	}
	from := d.at(l.at.X, l.at.Y)
	to := d.at(tip.X, tip.Y)
	side := d.s.Scale.Pxf(5) * float32(u.shift)
	from.X, to.X = from.X+side, to.X+side
	r0, r1 := float32(l.root*d.ppm), float32(l.wide(part)*d.ppm)
	if l.line {
		r0 = r1
	}
	dx, dy := float64(to.X-from.X), float64(to.Y-from.Y)
	long := math.Hypot(dx, dy)
	if back := float64(r1); !l.line && l.burst == 0 && long > 2*back { // it is round at its end, and goes no farther than that
		to.X, to.Y, long = to.X-float32(dx/long*back), to.Y-float32(dy/long*back), long-back
	}
	d.points = d.points[:0]
	if l.burst > 0 || long <= math.Abs(float64(r1-r0))+1 {
		d.round(to, max(r0, r1), 0, 2*math.Pi)
		return
	}
	turn := math.Atan2(dy, dx)
	d.round(to, r1, turn-math.Pi/2, turn+math.Pi/2)
	d.round(from, r0, turn+math.Pi/2, turn+3*math.Pi/2)
}

// round adds a part of a circle.
func (d *Drawer) round(c render.Point, r float32, from, to float64) {
	n := min(max(int(float64(r)*(to-from)/6), 6), 40)
	for i := range n {
		sin, cos := math.Sincos(from + (to-from)*float64(i)/float64(n-1))
		if i == n-1 && to-from > 6 { // the ring is closed
			return
		}
		d.points = append(d.points, render.Point{X: c.X + r*float32(cos), Y: c.Y + r*float32(sin)})
	}
}

// outline draws the edge of what shape has laid; a broken one where dotted.
func (d *Drawer) outline(ink render.Ink, cover uint8, dotted bool) {
	n := len(d.points)
	if n < 2 {
		return
	}
	if !dotted {
		d.points = append(d.points, d.points[0])
		d.s.Line(d.s.Scale.Pxf(1.5), ink, cover, d.points...)
		return
	}
	for i := 0; i < n; i += 2 {
		d.s.Line(d.s.Scale.Pxf(1.5), ink, cover, d.points[i], d.points[(i+1)%n])
	}
}

// reachesAbove draws what comes in the next bars as the dotted line of its reach.
func (d *Drawer) reachesAbove() {
	if d.v.Hide.Reach {
		return
	}
	for i := range d.units {
		if u := &d.units[i]; u.next != nil && u.body == nil {
			d.shape(&d.st.units[i], u.next.look, 1)
			d.outline(u.next.look.ink, 170, true)
		}
	}
}

// bodiesAbove draws what stands at the moment; what has no room to come and go, as the line of its reach.
func (d *Drawer) bodiesAbove() {
	for i := range d.units {
		u, is := &d.units[i], &d.st.units[i]
		if u.body == nil {
			continue
		}
		l := u.body.look
		if is.flat || d.lines[u.spell] || d.st.spells[u.spell].striped {
			d.shape(is, l, 1)
			d.outline(l.ink, 255, false)
			continue
		}
		d.shape(is, l, min(max(u.height, 0.1), 1))
		d.s.Poly(l.ink, d.cover(0.8), d.points...)
		d.outline(l.ink, 255, false)
	}
}

// standing is half the room that somebody stands in, in m (our judgement).
const standing = 0.3

// peopleAbove draws the performers' marks that count at the moment.
func (d *Drawer) peopleAbove() {
	s := d.s
	for i := range d.st.marks {
		m := &d.st.marks[i]
		if !d.counts(m) {
			continue
		}
		c, r := d.at(m.At.X, m.At.Y), max(float32(standing*d.ppm), s.Scale.Pxf(4))
		ink, w := render.InkSecondary, s.Scale.Pxf(1.5)
		if d.bad[i] {
			ink, w = render.InkText, s.Scale.Pxf(2.5)
		}
		d.arc(c, r, 0, 1, w, ink)
		d.taken = append(d.taken, image.Rect(int(c.X-r), int(c.Y-r), int(c.X+r)+1, int(c.Y+r)+1))
		at := image.Pt(int(c.X)-s.Px(render.BadgeSize/2), int(c.Y-r)-s.Px(render.BadgeSize+2))
		if box := (image.Rectangle{Min: at, Max: at.Add(image.Pt(s.Px(render.BadgeSize), s.Px(render.BadgeSize)))}); d.bad[i] && box.In(d.picture) && d.free(box) {
			s.Badge(at, render.SevError)
			d.taken = append(d.taken, box.Inset(-s.Px(1)))
		}
	}
}

// feetAbove draws each unit at its place, and the ring of a lead around it.
func (d *Drawer) feetAbove() {
	s := d.s
	for i := range d.st.units {
		u := &d.st.units[i]
		if !u.on {
			continue
		}
		p := d.spot(u)
		ink := render.InkEdge
		if d.units[i].body != nil {
			ink = render.InkSecondary
		}
		r := s.Px(3)
		s.Rect(image.Rect(int(p.X)-r, int(p.Y)-r, int(p.X)+r, int(p.Y)+r), ink)
		if h := d.units[i].lead; h != nil {
			d.lead(render.Point{X: p.X, Y: p.Y - s.Scale.Pxf(leadBelow)}, h)
		}
	}
}

// wordsAbove sets all words: who stands where, what a zone does, what too near.
func (d *Drawer) wordsAbove() {
	s := d.s
	line := s.Face(render.TypeSmall).Height()
	for i := range d.units {
		u, is := &d.units[i], &d.st.units[i]
		if d.v.Hide.Zones || !u.zone && u.closing == 0 && !u.over {
			continue
		}
		ink := d.zoneText(u.zone, u.until, u.closing)
		c := d.at(is.x, is.y)
		w := s.Face(render.TypeSmall).MeasureBytes(d.text)
		d.put(image.Pt(int(c.X)-w/2, int(c.Y)+s.Px(8)), render.TypeSmall, ink, d.text)
	}
	for i := range d.st.marks {
		m := &d.st.marks[i]
		if !d.counts(m) {
			continue
		}
		ink := render.InkSecondary
		if d.bad[i] {
			ink = render.InkText
		}
		d.text = append(d.text[:0], m.Name...)
		c, r := d.at(m.At.X, m.At.Y), int(max(standing*d.ppm, float64(s.Px(4))))
		w := s.Face(render.TypeSmall).MeasureBytes(d.text)
		if !d.put(image.Pt(int(c.X)-w/2, int(c.Y)+r+s.Px(2)), render.TypeSmall, ink, d.text) {
			d.put(image.Pt(int(c.X)-w/2, int(c.Y)-r-line-s.Px(2)), render.TypeSmall, ink, d.text)
		}
	}
}
