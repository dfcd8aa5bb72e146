package front

import (
	"image"
	"math"

	"emberbeat/render"
	"emberbeat/timeline"
)

// band is a stretch of the floor that a clear zone takes.
type band struct {
	from, to float32
	zone     bool
	until    timeline.Time
	closing  timeline.Time
	over     bool
}

// zoneHeight is how high a clear zone is drawn, in m: somebody stands in it.
const zoneHeight = 2.4

// closed draws the clear zones in force, and gathers what is said below them.
func (d *Drawer) closed() {
	d.zones = d.zones[:0]
	if d.v.Hide.Zones {
		return
	}
	for i := range d.units {
		u, is := &d.units[i], &d.st.units[i]
		if !u.zone && u.closing == 0 && !u.over {
			continue
		}
		z := band{from: d.at(is.x-is.clear, 0).X, to: d.at(is.x+is.clear, 0).X, zone: u.zone, until: u.until, closing: u.closing, over: u.over}
		d.zones = append(d.zones, z)
		for k := len(d.zones) - 1; k > 0 && d.zones[k].from < d.zones[k-1].from; k-- {
			d.zones[k], d.zones[k-1] = d.zones[k-1], d.zones[k]
		}
		if u.zone {
			d.badMarks(i)
		}
	}
	d.joinZones()
	for i := range d.zones {
		if d.zones[i].zone {
			d.hatch(&d.zones[i])
		}
	}
}

// joinZones makes one of zones that overlap and are in the same state.
func (d *Drawer) joinZones() {
	list := d.zones[:0]
	for _, z := range d.zones {
		joined := false
		for k := range list {
			o := &list[k]
			if o.zone != z.zone || z.from > o.to || z.to < o.from {
				continue
			}
			o.from, o.to = min(o.from, z.from), max(o.to, z.to)
			o.until, o.over = max(o.until, z.until), o.over || z.over
			if z.closing > 0 && (o.closing == 0 || z.closing < o.closing) {
				o.closing = z.closing
			}
			joined = true
			break
		}
		if !joined {
			list = append(list, z)
		}
	}
	d.zones = list
}

// badMarks notes the marks that count now and that a unit whose zone is in force is
// too near to, as the rules find it.
func (d *Drawer) badMarks(unit int) {
	for k := range d.st.marks {
		if m := &d.st.marks[k]; d.counts(m) && d.conflictOf(unit, m.place) != nil {
			d.bad[k] = true
		}
	}
}

// counts reports whether a mark counts at the moment.
func (d *Drawer) counts(m *mark) bool { return m.During(d.st.Song.Song.ID, d.v.At, d.v.At) }

// hatch draws a zone in force.
func (d *Drawer) hatch(z *band) {
	s := d.s
	top := d.at(0, zoneHeight).Y
	r := image.Rect(int(z.from), int(top), int(z.to), int(d.base))
	s.PushClip(r)
	high := r.Dy()
	for x := r.Min.X - high; x < r.Max.X; x += s.Px(9) {
		s.Line(s.Scale.Pxf(1), render.InkBar, 255, pt(x, r.Max.Y), pt(x+high, r.Min.Y))
	}
	s.PopClip()
	s.Rect(image.Rect(r.Min.X, r.Min.Y, r.Min.X+s.Px(1), r.Max.Y), render.InkEdge)
	s.Rect(image.Rect(r.Max.X-s.Px(1), r.Min.Y, r.Max.X, r.Max.Y), render.InkEdge)
}

// people draws the performers' marks that count at the moment.
func (d *Drawer) people() {
	for i := range d.st.marks {
		if m := &d.st.marks[i]; d.counts(m) {
			d.person(d.at(m.At.X, 0), d.bad[i])
		}
	}
}

// person draws a figure of 1.7 m, as tall as somebody is taken to be (our
// judgement).
func (d *Drawer) person(foot render.Point, bad bool) {
	s, m := d.s, float32(d.ppm)
	ink, w := render.InkSecondary, s.Scale.Pxf(1.5)
	if bad {
		ink, w = render.InkText, s.Scale.Pxf(2.5)
	}
	low, hip, neck := foot.Y, 0.22*m, 0.16*m
	top := foot.Y - 1.35*m
	d.points = append(d.points[:0], render.Point{X: foot.X - hip, Y: low}, render.Point{X: foot.X - neck, Y: top}, render.Point{X: foot.X + neck, Y: top}, render.Point{X: foot.X + hip, Y: low}, render.Point{X: foot.X - hip, Y: low})
	s.Line(w, ink, 255, d.points...)
	d.ring(render.Point{X: foot.X, Y: top - 0.19*m}, 0.16*m)
	d.points = append(d.points, d.points[0])
	s.Line(w, ink, 255, d.points...)
	at := image.Pt(int(foot.X)-s.Px(render.BadgeSize/2), int(top-0.4*m)-s.Px(render.BadgeSize))
	if box := (image.Rectangle{Min: at, Max: at.Add(image.Pt(s.Px(render.BadgeSize), s.Px(render.BadgeSize)))}); bad && box.In(d.picture) && d.free(box) {
		s.Badge(at, render.SevError)
		d.taken = append(d.taken, box.Inset(-s.Px(1)))
	}
}

// feet draws each unit at its place, the ring of a lead, and what leans out of the
// picture.
func (d *Drawer) feet() {
	s := d.s
	for i := range d.st.units {
		u := &d.st.units[i]
		if !u.on {
			continue
		}
		p := d.footOf(u)
		ink := render.InkEdge
		if d.units[i].body != nil {
			ink = render.InkSecondary
		}
		s.Rect(image.Rect(int(p.X)-s.Px(3), int(p.Y), int(p.X)+s.Px(3), int(p.Y)+s.Px(5)), ink)
		if h := d.units[i].lead; h != nil {
			d.lead(p, h)
		}
	}
}

// leadBelow is how far below a foot the ring of a lead stands, in logical pixels.
const leadBelow = 13

// lead draws the ring that fills from command to hit; the part in which the hit may
// come by the spread of the lead is hatched.
func (d *Drawer) lead(foot render.Point, h *hit) {
	over, spread, ok := h.course.Lead(d.v.At)
	if !ok {
		return
	}
	s := d.s
	c := render.Point{X: foot.X, Y: foot.Y + s.Scale.Pxf(leadBelow)}
	r := s.Scale.Pxf(7)
	d.arc(c, r, 0, 1, s.Scale.Pxf(1), render.InkBar)
	const ticks = 5
	for i := range ticks {
		part := spread + (1-spread)*(float64(i)+0.5)/ticks
		sin, cos := math.Sincos(2 * math.Pi * (part - 0.25))
		s.Line(s.Scale.Pxf(1), render.InkEdge, 255, render.Point{X: c.X + (r-s.Scale.Pxf(3))*float32(cos), Y: c.Y + (r-s.Scale.Pxf(3))*float32(sin)},
			render.Point{X: c.X + (r+s.Scale.Pxf(2))*float32(cos), Y: c.Y + (r+s.Scale.Pxf(2))*float32(sin)})
	}
	d.arc(c, r, 0, over, s.Scale.Pxf(2.5), render.InkText)
}

// arc draws a part of a circle from the top on.
func (d *Drawer) arc(c render.Point, r float32, from, to float64, width float32, ink render.Ink) {
	n := max(int((to-from)*24), 1)
	d.points = d.points[:0]
	for i := range n + 1 {
		sin, cos := math.Sincos(2 * math.Pi * (from + (to-from)*float64(i)/float64(n) - 0.25))
		d.points = append(d.points, render.Point{X: c.X + r*float32(cos), Y: c.Y + r*float32(sin)})
	}
	d.s.Line(width, ink, 255, d.points...)
}

// labels sets all words of the picture: what a zone does, who stands where, how high
// what comes and stands is, and what is too near.
func (d *Drawer) labels() {
	s, a := d.s, d.picture
	line := s.Face(render.TypeSmall).Height()
	y := int(d.base) + s.Px(22)
	if !d.v.Large {
		y = int(d.base) + s.Px(8)
	}
	for i := range d.zones {
		d.zoneWords(&d.zones[i], y)
	}
	d.tooNear()
	if a.Dx() >= s.Px(namesLeast) {
		for i := range d.st.marks {
			if m := &d.st.marks[i]; d.counts(m) {
				ink := render.InkSecondary
				if d.bad[i] {
					ink = render.InkText
				}
				d.text = append(d.text[:0], m.Name...)
				d.put(image.Pt(int(d.at(m.At.X, 0).X)-s.Face(render.TypeSmall).MeasureBytes(d.text)/2, y), render.TypeSmall, ink, d.text)
			}
		}
	}
	if d.v.Hide.Heights {
		return
	}
	for i := range d.units {
		u := &d.units[i]
		h := u.body
		if h == nil {
			h = u.next
		}
		if h == nil || h.look.label == "" {
			continue
		}
		x := d.axisOf(&d.st.units[i], h.look)
		tip := x.at(x.long, 0)
		d.text = append(d.text[:0], h.look.label...)
		if tip.Y < float32(a.Min.Y) {
			d.text = append(d.text, ", above the picture"...)
		}
		w := s.Face(render.TypeSmall).MeasureBytes(d.text)
		ink := render.InkSecondary
		if u.body != nil {
			ink = render.InkText
		}
		d.put(image.Pt(int(tip.X)-w/2, max(min(int(tip.Y), int(x.from.Y))-line-s.Px(3), a.Min.Y+s.Px(2))), render.TypeSmall, ink, d.text)
		if h.look.depth != "" {
			d.text = append(d.text[:0], h.look.depth...)
			w = s.Face(render.TypeSmall).MeasureBytes(d.text)
			d.put(image.Pt(int(x.from.X)-w/2, int(x.from.Y)+s.Px(6)), render.TypeSmall, render.InkText, d.text)
		}
	}
}

// zoneWords says below a zone whether it is in force, for how long, and when it
// will be. Times that end are rounded up, times that begin down.
func (d *Drawer) zoneWords(z *band, y int) {
	s := d.s
	ink := d.zoneText(z.zone, z.until, z.closing)
	w := s.Face(render.TypeSmall).MeasureBytes(d.text)
	if d.put(image.Pt(int(z.from+z.to)/2-w/2, y), render.TypeSmall, ink, d.text) {
		low := int(d.base) + s.Px(7)
		s.Rect(image.Rect(int(z.from), low, int(z.to), low+s.Px(1)), ink)
		s.Rect(image.Rect(int(z.from), low-s.Px(3), int(z.from)+s.Px(1), low), ink)
		s.Rect(image.Rect(int(z.to)-s.Px(1), low-s.Px(3), int(z.to), low), ink)
	}
}

// zoneText writes what a zone does into d.text, and gives the ink for it.
func (d *Drawer) zoneText(zone bool, until, closing timeline.Time) render.Ink {
	at := d.v.At
	switch {
	case zone:
		d.text = append((until - at + timeline.Second/10 - 1).AppendTenths(append(d.text[:0], "zone closed "...)), " s more"...)
		return render.InkText
	case closing > 0:
		d.text = append((closing - at).AppendTenths(append(d.text[:0], "zone closes in "...)), " s"...)
	default:
		d.text = append(d.text[:0], "over"...)
	}
	return render.InkSecondary
}

// boxesMost is how many findings are spelt out in one picture.
const boxesMost = 2

// tooNear spells out which mark a zone in force reaches, with a line to it.
func (d *Drawer) tooNear() {
	s, a := d.s, d.picture
	if a.Dx() < s.Px(namesLeast) {
		return
	}
	n := 0
	for k := range d.st.marks {
		if !d.bad[k] || n == boxesMost {
			continue
		}
		for i := range d.units {
			c := d.conflictOf(i, d.st.marks[k].place)
			if c == nil {
				continue
			}
			if d.box(d.at(d.st.marks[k].At.X, 2.3), c) {
				n++
			}
			break
		}
	}
}

// conflictOf gives what a unit whose zone is in force is too near to.
func (d *Drawer) conflictOf(unit, mark int) *conflict {
	u := &d.units[unit]
	if !u.zone {
		return nil
	}
	for _, h := range [...]*hit{u.body, u.next, u.lead} {
		if h != nil && h.look.conflict != nil && h.look.conflict.mark == mark {
			return h.look.conflict
		}
	}
	return nil
}

// box sets a finding above a place, with a line down to it.
func (d *Drawer) box(to render.Point, c *conflict) bool {
	s, a := d.s, d.picture
	f := s.Face(render.TypeSmall)
	w := max(f.Measure(c.first), f.Measure(c.then)) + s.Px(40)
	h := 2*f.Height() + s.Px(8)
	x := min(max(int(to.X)-w/2, a.Min.X+s.Px(4)), a.Max.X-w-s.Px(4))
	for y := int(to.Y) - h - s.Px(24); y > a.Min.Y+s.Px(4); y -= s.Px(12) {
		r := image.Rect(x, y, x+w, y+h)
		if !d.free(r) {
			continue
		}
		d.taken = append(d.taken, r)
		s.Line(s.Scale.Pxf(1), render.InkText, 255, pt(int(to.X), r.Max.Y), to)
		s.Rect(r, render.InkLane)
		s.Frame(r, s.Px(1), render.InkText)
		s.Badge(image.Pt(r.Min.X+s.Px(7), r.Min.Y+(h-s.Px(render.BadgeSize))/2), render.SevError)
		s.Text(image.Pt(r.Min.X+s.Px(30), r.Min.Y+s.Px(4)), render.TypeSmall, render.InkText, c.first)
		s.Text(image.Pt(r.Min.X+s.Px(30), r.Min.Y+s.Px(4)+f.Height()), render.TypeSmall, render.InkText, c.then)
		return true
	}
	return false
}
