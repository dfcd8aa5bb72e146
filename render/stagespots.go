package render

import (
	"cmp"
	"fmt"
	"image"
	"slices"

	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// spot is a position with the effects placed there.
type spot struct {
	position *timeline.StagePosition
	name     string // what the crew calls it
	at       timeline.Point
	looks    []spotLook
	rings    []ring
}

// spotLook is one article at a position, so many times.
type spotLook struct {
	article *timeline.Article
	count   int
	played  bool
	out     bool // taken out for the night
}

// ring is a circle around a position.
type ring struct {
	kind   ringKind
	metres float64
	by     string
	ink    Ink
}

type ringKind uint8

// The circles: what falls down, what stays clear of people, and how far the audience stands.
const (
	ringFallout ringKind = iota
	ringClear
	ringAudience
)

// spotsOf gathers what stands where, by position.
func spotsOf(p *timeline.Plan, played *rule.Played) []spot {
	spots := make([]spot, len(p.Show.Rig.Positions))
	index := make(map[*timeline.StagePosition]int, len(spots))
	for i, q := range p.Show.Rig.Positions {
		spots[i], index[q] = spot{position: q, name: p.Called(q), at: timeline.Point{X: q.X, Y: q.Y}}, i
	}
	for _, u := range p.Units.All {
		i, ok := index[u.Position]
		if u.Position == nil || !ok {
			continue
		}
		articles := played.Articles(u.Placed.ID)
		for _, a := range articles {
			spots[i].add(spotLook{a, 1, true, u.Out})
			spots[i].ringsOf(p, a)
		}
		if len(articles) == 0 && u.Article != nil {
			spots[i].add(spotLook{u.Article, 1, false, u.Out})
		}
	}
	return spots
}

func (sp *spot) add(l spotLook) {
	for i := range sp.looks {
		if o := &sp.looks[i]; o.article == l.article && o.played == l.played && o.out == l.out {
			o.count++
			return
		}
	}
	sp.looks = append(sp.looks, l)
}

// ringsOf adds the circles of an article; of each kind the widest stays.
func (sp *spot) ringsOf(p *timeline.Plan, a *timeline.Article) {
	ink := InkOf(a.Family.Class())
	sp.widen(ring{ringFallout, a.Fallout, a.Name, ink})
	sp.widen(ring{ringClear, a.Clear, a.Name, ink})
	if list := rule.Required(p, a, timeline.ToAudience); len(list) > 0 {
		sp.widen(ring{ringAudience, list[0].Metres, list[0].By, ink})
	}
}

func (sp *spot) widen(r ring) {
	if r.metres <= 0 {
		return
	}
	i := slices.IndexFunc(sp.rings, func(o ring) bool { return o.kind == r.kind })
	switch {
	case i < 0:
		sp.rings = append(sp.rings, r)
	case sp.rings[i].metres < r.metres:
		sp.rings[i] = r
	}
}

// rings draws the circles of all positions, widest first, and names what governs where there is room.
func (d *stageDrawer) rings() {
	type named struct {
		ring
		at timeline.Point
	}
	var all []named
	near := d.tooNear()
	for i := range d.spots {
		for _, r := range d.spots[i].rings {
			if id := d.spots[i].position.ID; !d.v.Focus || near[id] || d.chosen(HitPosition, string(id)) {
				all = append(all, named{r, d.spots[i].at})
			}
		}
	}
	if d.v.Focus {
		d.fallout()
	}
	slices.SortStableFunc(all, func(a, b named) int { return cmp.Compare(b.metres, a.metres) })
	for _, r := range all {
		switch r.kind {
		case ringFallout:
			d.disc(r.at, r.metres, r.ink, 30)
			d.circle(r.at, r.metres, r.ink, 1.5, 1)
		case ringClear:
			d.circle(r.at, r.metres, r.ink, 1.5, 0.25)
		case ringAudience:
			d.circle(r.at, r.metres, InkSecondary, 1.5, 0.6)
		}
	}
	for _, r := range all {
		if r.kind == ringAudience {
			top := d.v.Point(timeline.Point{X: r.at.X, Y: r.at.Y - r.metres})
			d.caption(caption{top, 0, TypeSmall, InkSecondary, fmt.Sprintf("%s %s", d.told().Up("m", r.metres, 2), r.by), rankRing})
		}
	}
}

// turned draws the axis, path or line of what does not stand upright, as wide as it
// can be at its end, and says where it points.
func (d *stageDrawer) turned() {
	for _, t := range d.played.TurnedOn(d.v.Plan) {
		ink := InkOf(t.Article.Family.Class())
		from, to := d.v.Point(t.From), d.v.Point(t.To)
		d.s.Line(d.s.Scale.Pxf(2), ink, 255, from, to)
		if t.Half > 0 {
			d.circle(t.To, t.Half, ink, 1.5, 0.5)
		}
		if !d.v.NoNames {
			d.caption(caption{Point{(from.X + to.X) / 2, (from.Y + to.Y) / 2}, d.s.Px(4), TypeSmall, InkText, t.Aim, rankPlace})
		}
	}
}

// positions draws every position with its effects and its name.
func (d *stageDrawer) positions() {
	for i := range d.spots {
		d.position(&d.spots[i])
	}
}

func (d *stageDrawer) position(sp *spot) {
	s, p := d.s, d.v.Point(sp.at)
	if d.chosen(HitPosition, string(sp.position.ID)) {
		s.Line(s.Scale.Pxf(3), InkFocus, 255, ringPoints(p, s.Scale.Pxf(9))...)
	}
	s.Rect(boxAround(p, s.Px(3)), InkText)
	s.Hit(HitPosition, string(sp.position.ID), boxAround(p, s.Px(8)))
	if d.v.Numbers != nil {
		d.taken = append(d.taken, boxAround(p, s.Px(5)))
		if n := d.v.Numbers[sp.position.ID]; n != "" {
			d.caption(caption{p, s.Px(5), TypeStrong, InkText, n, rankPlace})
		}
		return
	}
	x := d.looks(sp, p)
	if d.v.NoNames {
		return
	}
	name := sp.name
	if sp.position.Z != 0 {
		name += fmt.Sprintf(" (%s up)", Length(d.told(), sp.position.Z))
	}
	d.caption(caption{Point{(p.X + float32(x)) / 2, p.Y}, s.Px(4), TypeSmall, InkText, name, rankPlace})
}

// looks draws the glyphs of a position's effects above it, with their number, and gives the x where they end.
func (d *stageDrawer) looks(sp *spot, p Point) int {
	s, h := d.s, d.s.Px(18)
	from, y := floor(p.X)+s.Px(6), floor(p.Y)-h-s.Px(2)
	x := s.spotLooks(d.th, sp, image.Pt(from, y), h, d.free)
	d.taken = append(d.taken, image.Rect(floor(p.X)-s.Px(5), y, max(x, from+s.Px(1)), floor(p.Y)+s.Px(5)))
	return x
}

// spotLooks draws the glyphs of a position's effects with their number, left top at a point, and gives the x where they end. A number is left out
// where its place is not free; nil takes every place to be.
func (s *Scene) spotLooks(th *Theme, sp *spot, at image.Point, h int, free func(image.Rectangle) bool) int {
	x, y := at.X, at.Y
	for _, l := range sp.looks {
		look := lookOf(l.article)
		look.Hollow = !l.played || l.out
		s.Glyph(th, image.Pt(x, y), h, look)
		if l.out {
			s.Line(s.Scale.Pxf(2), InkText, 255, Point{float32(x - s.Px(2)), float32(y + h)}, Point{float32(x + look.Glyph.Width(h) + s.Px(2)), float32(y)})
		}
		x += look.Glyph.Width(h) + s.Px(2)
		if text := fmt.Sprintf("×%d", l.count); l.count > 1 {
			f, p := s.Face(TypeMark), image.Pt(x, y+s.Px(3))
			if box := (image.Rectangle{Min: p, Max: p.Add(image.Pt(f.Measure(text), f.Height()))}); free == nil || free(box) {
				x = s.Text(p, TypeMark, InkText, text) + s.Px(2)
			}
		}
		x += s.Px(4)
	}
	return x
}
