package render

import (
	"cmp"
	"image"
	"math"
	"strconv"

	"emberbeat/timeline"
)

// lines draws the venue's audience lines with their names, and handles at their ends where they can be moved.
func (d *stageDrawer) lines() {
	v, s := d.v.Plan.Venue, d.s
	if v == nil {
		return
	}
	for i, l := range v.Audience {
		id := strconv.Itoa(i)
		a, b := d.v.Point(l.From), d.v.Point(l.To)
		width := float32(3)
		if d.chosen(HitLine, id) {
			s.Line(s.Scale.Pxf(7), InkFocus, 255, a, b)
		}
		s.Line(s.Scale.Pxf(width), InkText, 255, a, b)
		d.lineHits(id, a, b)
		if d.v.Editable {
			d.handle(HitLineFrom, id, a)
			d.handle(HitLineTo, id, b)
		}
		text := "audience"
		if l.Name != "" {
			text += ": " + l.Name
		}
		d.caption(caption{Point{(a.X + b.X) / 2, (a.Y + b.Y) / 2}, s.Px(4), TypeMark, InkText, text, rankPeople})
	}
}

// cloths draws cloths, borders, screens and set as thin lines with their names.
func (d *stageDrawer) cloths() {
	v, s := d.v.Plan.Venue, d.s
	if v == nil {
		return
	}
	for _, l := range v.Cloths {
		a, b := d.v.Point(l.From), d.v.Point(l.To)
		s.Line(s.Scale.Pxf(2), InkSecondary, 255, a, b)
		d.caption(caption{Point{(a.X + b.X) / 2, (a.Y + b.Y) / 2}, s.Px(4), TypeMark, InkSecondary, cmp.Or(l.Name, "cloth"), rankPeople})
	}
}

// lineHits lets a line be found along its length.
func (d *stageDrawer) lineHits(id string, a, b Point) {
	long := math.Hypot(float64(b.X-a.X), float64(b.Y-a.Y))
	n := min(max(int(long/float64(d.s.Px(16))), 1), 200)
	for i := range n {
		k := (float32(i) + 0.5) / float32(n)
		x, y := floor(a.X+k*(b.X-a.X)), floor(a.Y+k*(b.Y-a.Y))
		d.s.Hit(HitLine, id, image.Rect(x-d.s.Px(4), y-d.s.Px(4), x+d.s.Px(4), y+d.s.Px(4)))
	}
}

// handle draws what a line's end is taken by.
func (d *stageDrawer) handle(kind HitKind, id string, p Point) {
	r := boxAround(p, d.s.Px(5))
	d.s.Rect(r, InkLane)
	ink := InkText
	if d.chosen(kind, id) {
		ink = InkFocus
	}
	d.s.Frame(r, d.s.Px(2), ink)
	d.s.Hit(kind, id, r)
}

// boxAround gives the square about a point.
func boxAround(p Point, half int) image.Rectangle {
	x, y := floor(p.X), floor(p.Y)
	return image.Rect(x-half, y-half, x+half, y+half)
}

// marks draws the performers' marks: a ring with a cross and a name.
func (d *stageDrawer) marks() {
	if d.v.Plan.Venue == nil {
		return
	}
	for i, m := range d.v.Plan.Venue.Performers {
		d.mark(HitMark, strconv.Itoa(i), m, "")
	}
}

// zones draws the zones that stay clear: a hatched ring.
func (d *stageDrawer) zones() {
	if d.v.Plan.Venue == nil {
		return
	}
	for i, m := range d.v.Plan.Venue.Clear {
		d.hatch(m)
		d.mark(HitZone, strconv.Itoa(i), m, "keep clear: ")
	}
}

func (d *stageDrawer) mark(kind HitKind, id string, m timeline.PlanMark, word string) {
	s, c := d.s, d.v.Point(m.At)
	r := max(d.px(m.Radius), s.Scale.Pxf(6))
	if d.chosen(kind, id) {
		s.Line(s.Scale.Pxf(5), InkFocus, 255, ringPoints(c, r+s.Scale.Pxf(3))...)
	}
	s.Line(s.Scale.Pxf(2), InkText, 255, ringPoints(c, r)...)
	if kind == HitMark {
		arm := s.Scale.Pxf(5)
		s.Line(s.Scale.Pxf(2), InkText, 255, Point{c.X - arm, c.Y}, Point{c.X + arm, c.Y})
		s.Line(s.Scale.Pxf(2), InkText, 255, Point{c.X, c.Y - arm}, Point{c.X, c.Y + arm})
	}
	s.Hit(kind, id, boxAround(c, s.Px(8)))
	text := word + m.Name
	if m.Song != "" {
		text += " in " + d.songTitle(m.Song)
	}
	d.caption(caption{c, s.Px(9), TypeSmall, InkText, text, rankPeople})
}

// songTitle gives a song's title, or its id where it is gone.
func (d *stageDrawer) songTitle(id timeline.ID) string {
	if song := d.v.Plan.Show.Song(id); song != nil {
		return song.FullTitle()
	}
	return string(id)
}

// hatch fills a zone with slanted lines.
func (d *stageDrawer) hatch(m timeline.PlanMark) {
	c, r := d.v.Point(m.At), float64(d.px(m.Radius))
	step := float64(d.s.Px(9))
	for t := -r + step; t < r; t += step {
		half := math.Sqrt(r*r - t*t)
		// Along the direction (1,-1), at the distance t from the middle.
		mx, my := float64(c.X)+t/math.Sqrt2, float64(c.Y)+t/math.Sqrt2
		x, y := float32(half/math.Sqrt2), float32(half/math.Sqrt2)
		d.s.Line(d.s.Scale.Pxf(1), InkEdge, 255, Point{float32(mx) - x, float32(my) + y}, Point{float32(mx) + x, float32(my) - y})
	}
}
