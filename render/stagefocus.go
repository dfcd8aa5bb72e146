package render

import (
	"cmp"
	"math"
	"slices"

	"emberbeat/timeline"
)

// tooNear gives the positions from which something is played too near to something else.
func (d *stageDrawer) tooNear() map[timeline.ID]bool {
	list := map[timeline.ID]bool{}
	spacings := d.played.Spacings(d.v.Plan)
	for i := range spacings {
		if c := &spacings[i]; c.Conflict() && c.Unit.Position != nil {
			list[c.Unit.Position.ID] = true
		}
	}
	return list
}

// fallout draws one broken line around all that falls down, and says what it is.
func (d *stageDrawer) fallout() {
	var points []timeline.Point
	for i := range d.spots {
		for _, r := range d.spots[i].rings {
			if r.kind != ringFallout {
				continue
			}
			for k := range 32 {
				sin, cos := math.Sincos(2 * math.Pi * float64(k) / 32)
				points = append(points, timeline.Point{X: d.spots[i].at.X + r.metres*cos, Y: d.spots[i].at.Y + r.metres*sin})
			}
		}
	}
	hull := hullOf(points)
	for i, p := range hull {
		d.dashed(p, hull[(i+1)%len(hull)], InkSecondary, 1.5)
	}
	if len(hull) > 0 {
		top := slices.MaxFunc(hull, func(a, b timeline.Point) int { return cmp.Compare(a.Y, b.Y) })
		d.caption(caption{d.v.Point(top), d.s.Px(3), TypeSmall, InkSecondary, "edge of all that falls", rankSupply})
	}
}

// hullOf gives the corners of the smallest convex area that holds all points, one after the other.
func hullOf(points []timeline.Point) []timeline.Point {
	points = slices.Clone(points)
	slices.SortFunc(points, func(a, b timeline.Point) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) })
	if points = slices.Compact(points); len(points) < 3 {
		return points
	}
	var hull []timeline.Point
	for range 2 {
		least := len(hull) + 1
		for _, p := range points {
			for len(hull) > least && turnOf(hull[len(hull)-2], hull[len(hull)-1], p) <= 0 {
				hull = hull[:len(hull)-1]
			}
			hull = append(hull, p)
		}
		hull = hull[:len(hull)-1]
		slices.Reverse(points)
	}
	return hull
}

// turnOf is positive where the way from a over b to c turns to the left.
func turnOf(a, b, c timeline.Point) float64 { return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X) }
