package song

import (
	"image"
	"math"

	"emberbeat/render"
	"emberbeat/timeline"
)

// drawStage draws the effects of the stage at a time.
func (sp *Page) drawStage(s *render.Scene, at timeline.Time) {
	r := sp.stageArea
	if r.Empty() || sp.work().Data == nil {
		return
	}
	if !sp.above {
		sp.DrawFront(s, r, at)
		return
	}
	p := sp.work().Data.Plan
	b := stageBounds(p.Units)
	soon := at + 4*timeline.Second
	if beats := p.Song.Beats; !beats.Empty() {
		soon = beats.BarStart(beats.Locate(at).Bar + 3)
	}
	state := make([]uint8, len(p.Units.All))
	for i := range p.Commands {
		c := &p.Commands[i]
		if c.At > soon+10*timeline.Second {
			break
		}
		if !sp.work().Previewed(c.Lane.ID) {
			continue
		}
		switch {
		case c.Hit <= at && at < c.Hit+max(c.Open, 300*timeline.Millisecond):
			state[c.Unit.Index] = 2
		case c.Hit > at && c.Hit <= soon:
			state[c.Unit.Index] = max(state[c.Unit.Index], 1)
		}
	}
	s.PushClip(r)
	floor := r.Max.Y - s.Px(28)
	s.Rect(image.Rect(r.Min.X+s.Px(8), floor, r.Max.X-s.Px(8), floor+s.Px(2)), render.InkBar)
	placed := map[[2]int]int{}
	for _, unit := range p.Units.All {
		if unit.Position == nil || unit.Article == nil {
			continue
		}
		q := b.place(r.Inset(s.Px(18)), unit.Position)
		q.Y = min(q.Y, floor-s.Px(2))
		q.X += placed[[2]int{q.X, q.Y}] * s.Px(13)
		placed[[2]int{q.X, q.Y}]++
		sp.stageEffect(s, unit, q, state[unit.Index])
	}
	s.PopClip()
}

func (sp *Page) stageEffect(s *render.Scene, unit *timeline.Unit, q image.Point, state uint8) {
	h := s.Px(18)
	look := render.Look{Glyph: render.GlyphOf(unit.Article.Family), Ink: render.InkOf(unit.Article.Family.Class()), Hollow: state != 2}
	switch state {
	case 0:
		s.Rect(image.Rect(q.X-s.Px(2), q.Y-s.Px(4), q.X+s.Px(3), q.Y), render.InkEdge)
		return
	case 2:
		h = s.Px(44)
	}
	s.Glyph(sp.h.UI().Theme(), image.Pt(q.X-look.Glyph.Width(h)/2, q.Y-h), h, look)
}

// bounds is the box around all positions, in metres, as seen from the front.
type bounds struct{ x0, x1, z0, z1 float64 }

func stageBounds(units *timeline.Units) bounds {
	b := bounds{math.Inf(1), math.Inf(-1), 0, 1}
	for _, u := range units.All {
		if u.Position != nil {
			b.x0, b.x1 = min(b.x0, u.Position.X), max(b.x1, u.Position.X)
			b.z0, b.z1 = min(b.z0, u.Position.Z), max(b.z1, u.Position.Z)
		}
	}
	if b.x1 <= b.x0 {
		b.x0, b.x1 = -1, 1
	}
	return b
}

// place gives where a position is on screen.
func (b bounds) place(r image.Rectangle, p *timeline.StagePosition) image.Point {
	x := (p.X - b.x0) / (b.x1 - b.x0)
	z := (p.Z - b.z0) / (b.z1 - b.z0)
	top := r.Min.Y + r.Dy()/4
	return image.Pt(r.Min.X+int(x*float64(r.Dx())), r.Max.Y-int(z*float64(r.Max.Y-top))-r.Dy()/16)
}
