package render

import (
	"cmp"
	"fmt"
	"image"
	"math"
	"slices"

	"emberbeat/timeline"
)

// caption is a text that is set once everything else is drawn.
type caption struct {
	at   Point
	away int // device pixels that it keeps from at
	t    Type
	ink  Ink
	text string
	rank captionRank
}

// captionRank orders captions: those of a lower rank are set first and find more room.
type captionRank uint8

const (
	rankConflict captionRank = iota
	rankMeasure
	rankPlace
	rankPeople
	rankSupply
	rankRing // left out where there is no room: a table beside the plan can hold it
)

// caption keeps a text for later, cut to a third of the plan where it is longer.
func (d *stageDrawer) caption(c caption) {
	if cut, all := d.s.Face(c.t).Fit(c.text, d.v.Area.Dx()/3); !all {
		c.text = cut + "…"
	}
	d.captions = append(d.captions, c)
}

// setCaptions sets all captions where nothing stands yet: close to their point, else farther off. One that finds no room at all is left out: names of
// what is graver are set first.
func (d *stageDrawer) setCaptions() {
	slices.SortStableFunc(d.captions, func(a, b caption) int { return cmp.Compare(a.rank, b.rank) })
	for _, c := range d.captions {
		if !image.Pt(floor(c.at.X), floor(c.at.Y)).In(d.v.Area) {
			continue
		}
		f := d.s.Face(c.t)
		size := image.Pt(f.Measure(c.text), f.Height())
		if box, ok := d.room(&c, size); ok {
			d.label(box, c.t, c.ink, c.text)
		}
	}
}

// room finds a free box for a caption.
func (d *stageDrawer) room(c *caption, size image.Point) (box image.Rectangle, ok bool) {
	p := image.Pt(floor(c.at.X), floor(c.at.Y))
	at := func(x, y int) image.Rectangle {
		return image.Rectangle{Min: p.Add(image.Pt(x, y)), Max: p.Add(image.Pt(x, y)).Add(size)}
	}
	if c.rank == rankRing {
		box = at(-size.X/2, -size.Y/2)
		return box, d.free(box)
	}
	for far := range 10 {
		away := c.away + far*size.Y
		for _, b := range [...]image.Rectangle{at(-size.X/2, away), at(-size.X/2, -away-size.Y), at(away, -size.Y/2), at(-away-size.X, -size.Y/2), at(0, away), at(-size.X, away), at(0, -away-size.Y), at(-size.X, -away-size.Y)} {
			if d.free(b) {
				return b, true
			}
		}
	}
	return box, false
}

// label sets a text on a patch of the ground's colour.
func (d *stageDrawer) label(box image.Rectangle, t Type, ink Ink, text string) {
	d.s.Tint(box.Inset(-d.s.Px(2)), InkLane, 200)
	d.s.Text(box.Min, t, ink, text)
	d.taken = append(d.taken, box)
}

// free reports whether a box lies on the plan and on nothing that is set already.
func (d *stageDrawer) free(box image.Rectangle) bool {
	if !box.In(d.v.Area) {
		return false
	}
	for _, t := range d.taken {
		if t.Overlaps(box) {
			return false
		}
	}
	return true
}

// conflicts draws where a planned distance is less than the one needed: a line between both, with badge and figures.
func (d *stageDrawer) conflicts() {
	seen := map[[2]timeline.Point]bool{}
	list := d.played.Spacings(d.v.Plan)
	for i := range list {
		c := &list[i]
		at := [2]timeline.Point{c.From, c.To}
		if !c.Conflict() || seen[at] {
			continue
		}
		seen[at] = true
		d.dashed(c.From, c.To, InkText, 2)
		a, b := d.v.Point(c.From), d.v.Point(c.To)
		d.badgeOn(a, b)
		text := fmt.Sprintf("%s of %s: %s", d.told().Down("m", c.Away, 2), d.told().Up("m", c.Needs, 2), c.By)
		d.caption(caption{Point{(a.X + b.X) / 2, (a.Y + b.Y) / 2}, d.s.Px(10), TypeMark, InkText, text, rankConflict})
	}
}

// badgeOn sets a badge on a line, at its middle or as near to that as nothing else stands.
func (d *stageDrawer) badgeOn(a, b Point) {
	for _, k := range [...]float32{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8} {
		mid := image.Pt(floor(a.X+k*(b.X-a.X))-d.s.Px(8), floor(a.Y+k*(b.Y-a.Y))-d.s.Px(8))
		if box := (image.Rectangle{Min: mid, Max: mid.Add(image.Pt(d.s.Px(BadgeSize), d.s.Px(BadgeSize)))}); d.free(box) {
			d.s.Badge(mid, SevError)
			d.taken = append(d.taken, box)
			return
		}
	}
}

// measure draws a distance between two places.
func (d *stageDrawer) measure() {
	if len(d.v.Measure) != 2 {
		return
	}
	from, to := d.v.Measure[0], d.v.Measure[1]
	a, b := d.v.Point(from), d.v.Point(to)
	d.s.Line(d.s.Scale.Pxf(2), InkFocus, 255, a, b)
	d.s.Rect(boxAround(a, d.s.Px(3)), InkFocus)
	d.s.Rect(boxAround(b, d.s.Px(3)), InkFocus)
	d.caption(caption{Point{(a.X + b.X) / 2, (a.Y + b.Y) / 2}, d.s.Px(6), TypeStrong, InkText, Length(d.told(), math.Hypot(to.X-from.X, to.Y-from.Y)), rankMeasure})
}

// supplies draws what each supply feeds. Where it stands is not in the rig, so that it is drawn amid what it feeds.
func (d *stageDrawer) supplies() {
	for _, sup := range d.v.Plan.Show.Rig.Supplies {
		var fed []timeline.Point
		for _, id := range sup.Feeds {
			if u := d.v.Plan.Units.Of(id); u != nil && u.Position != nil {
				fed = append(fed, timeline.Point{X: u.Position.X, Y: u.Position.Y})
			}
		}
		if len(fed) == 0 {
			continue
		}
		var mid timeline.Point
		for _, p := range fed {
			mid.X, mid.Y = mid.X+p.X/float64(len(fed)), mid.Y+p.Y/float64(len(fed))
		}
		mid.Y -= 0.8
		for _, p := range fed {
			d.s.Line(d.s.Scale.Pxf(1), InkSecondary, 160, d.v.Point(mid), d.v.Point(p))
		}
		d.tank(d.v.Point(mid), sup.Name)
	}
}

// tank draws the sign of a supply with its name.
func (d *stageDrawer) tank(p Point, name string) {
	s := d.s
	r := boxAround(p, s.Px(5))
	r.Min.Y -= s.Px(4)
	s.Rect(r, InkLane)
	s.Frame(r, s.Px(1), InkSecondary)
	s.Rect(image.Rect(r.Min.X+s.Px(3), r.Min.Y-s.Px(3), r.Max.X-s.Px(3), r.Min.Y), InkSecondary)
	d.taken = append(d.taken, r)
	d.caption(caption{p, s.Px(7), TypeSmall, InkSecondary, name, rankSupply})
}
