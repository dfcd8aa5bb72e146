package render

import "image"

// HitKind names what an area stands for. Panels add kinds of their own.
type HitKind string

// Reach is the least size in logical pixels of what a pointer has to find.
const Reach = 24

// Hit is an area that a pointer can find.
type Hit struct {
	Kind HitKind
	ID   string          // the record that the area stands for, or "" where the kind says all
	Area image.Rectangle // what is drawn
	Grip image.Rectangle // Area grown to Reach on both axes, cut to the clip

	// Ground marks what other things stand on: a lane, a ruler, a panel. Things in front of it are found in their whole grip, things
	// behind it not at all.
	Ground bool
}

// Hit adds a thing with the area that is drawn for it.
func (s *Scene) Hit(kind HitKind, id string, area image.Rectangle) {
	clip := s.Clip()
	if grip := grow(area, s.Px(Reach)).Intersect(clip); !grip.Empty() {
		s.Hits = append(s.Hits, Hit{Kind: kind, ID: id, Area: area.Intersect(clip), Grip: grip})
	}
}

// Ground adds an area that things stand on.
func (s *Scene) Ground(kind HitKind, id string, area image.Rectangle) {
	if area = area.Intersect(s.Clip()); !area.Empty() {
		s.Hits = append(s.Hits, Hit{Kind: kind, ID: id, Area: area, Grip: area, Ground: true})
	}
}

// grow makes r at least size wide and high about its middle.
func grow(r image.Rectangle, size int) image.Rectangle {
	if d := size - r.Dx(); d > 0 {
		r.Min.X -= d / 2
		r.Max.X += d - d/2
	}
	if d := size - r.Dy(); d > 0 {
		r.Min.Y -= d / 2
		r.Max.Y += d - d/2
	}
	return r
}

// At finds what a pointer at p is on. Of the things in front of the frontmost ground there, the one drawn nearest to p is found, the
// frontmost of equals; without a thing it is the ground itself. ok is false where there is neither.
func (s *Scene) At(p image.Point) (hit Hit, ok bool) {
	best := -1
	for i := len(s.Hits) - 1; i >= 0; i-- {
		h := &s.Hits[i]
		if !p.In(h.Grip) {
			continue
		}
		if h.Ground {
			if !ok {
				hit, ok = *h, true
			}
			return hit, ok
		}
		if d := away(p, h.Area); best < 0 || d < best {
			hit, ok, best = *h, true, d
		}
	}
	return hit, ok
}

// away gives the square of the distance from the pixel p to the nearest pixel of r.
func away(p image.Point, r image.Rectangle) int {
	dx := max(r.Min.X-p.X, p.X-(r.Max.X-1), 0)
	dy := max(r.Min.Y-p.Y, p.Y-(r.Max.Y-1), 0)
	return dx*dx + dy*dy
}
