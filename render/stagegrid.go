package render

import (
	"image"
	"math"

	"emberbeat/timeline"
	"emberbeat/timeline/units"
)

// gridSteps are the distances of grid lines in metres or feet, finest first.
var gridSteps = [...]float64{0.1, 0.5, 1, 2, 5, 10, 20, 50, 100, 500}

// gridStep gives the finest step, in metres, whose lines stand at least so many device pixels apart: a round number of the units that the
// plan is told in.
func (d *stageDrawer) gridStep(apart int) float64 {
	one := d.told().Back("m", 1)
	for _, step := range gridSteps {
		if step*one*d.v.PerMetre >= float64(apart) {
			return step * one
		}
	}
	return gridSteps[len(gridSteps)-1] * one
}

// GridStep gives the distance of the grid's lines in metres.
func (v *StageView) GridStep(scale Scale) float64 {
	d := stageDrawer{v: v}
	return d.gridStep(scale.Px(16))
}

// grid draws the lines of the grid, the stage's front edge and its middle, with metres along the edges.
func (d *stageDrawer) grid() {
	a := d.v.Area
	from, to := d.v.Place(image.Pt(a.Min.X, a.Max.Y)), d.v.Place(image.Pt(a.Max.X, a.Min.Y))
	step, label := d.gridStep(d.s.Px(16)), d.gridStep(d.s.Px(52))
	for x := math.Ceil(from.X/step) * step; x <= to.X; x += step {
		at := floor(d.v.Point(timeline.Point{X: x}).X)
		d.s.Rect(image.Rect(at, a.Min.Y, at+d.s.Px(1), a.Max.Y), gridInk(x, label))
	}
	for y := math.Ceil(from.Y/step) * step; y <= to.Y; y += step {
		at := floor(d.v.Point(timeline.Point{Y: y}).Y)
		d.s.Rect(image.Rect(a.Min.X, at, a.Max.X, at+d.s.Px(1)), gridInk(y, label))
	}
	d.edges(from, to, label)
}

// gridInk makes the lines that carry a number stronger.
func gridInk(at, label float64) Ink {
	if k := at / label; math.Abs(k-math.Round(k)) < 1e-6 {
		return InkBar
	}
	return InkBeat
}

// edges draws the axes and the numbers along the left and lower edge.
func (d *stageDrawer) edges(from, to timeline.Point, label float64) {
	a, s := d.v.Area, d.s
	zero := d.v.Point(timeline.Point{})
	s.Rect(image.Rect(a.Min.X, floor(zero.Y)-s.Px(1), a.Max.X, floor(zero.Y)+s.Px(1)), InkEdge)
	s.Rect(image.Rect(floor(zero.X)-s.Px(1), a.Min.Y, floor(zero.X)+s.Px(1), a.Max.Y), InkBar)
	high := s.Px(16)
	for x := math.Ceil(from.X/label) * label; x <= to.X; x += label {
		at := floor(d.v.Point(timeline.Point{X: x}).X)
		d.number(image.Rect(at+s.Px(3), a.Max.Y-high, at+s.Px(48), a.Max.Y), x)
	}
	for y := math.Ceil(from.Y/label) * label; y <= to.Y; y += label {
		at := floor(d.v.Point(timeline.Point{Y: y}).Y)
		if at < a.Max.Y-2*high {
			d.number(image.Rect(a.Min.X+s.Px(4), at-high, a.Min.X+s.Px(48), at), y)
		}
	}
}

// frontEdge names the stage's front edge, at its right or wherever nothing stands; nowhere where all of it is taken.
func (d *stageDrawer) frontEdge() {
	a, s := d.v.Area, d.s
	y := floor(d.v.Point(timeline.Point{}).Y)
	text := "front edge of the stage"
	w, high := s.Face(TypeSmall).Measure(text), s.Px(16)
	for _, right := range [...]int{a.Max.X - s.Px(6), a.Min.X + s.Px(60) + w, (a.Min.X+a.Max.X)/2 + w/2} {
		for _, low := range [...]int{y - s.Px(1), y + high + s.Px(1)} {
			if box := image.Rect(right-w-s.Px(2), low-high, right, low); d.free(box) {
				s.TextIn(box, Right, TypeSmall, InkSecondary, text)
				d.taken = append(d.taken, box)
				return
			}
		}
	}
}

// number sets a length at an edge.
func (d *stageDrawer) number(box image.Rectangle, at float64) {
	if !box.In(d.v.Area) {
		return
	}
	if d.s.TextIn(box, Left, TypeSmall, InkSecondary, Length(d.told(), at)) {
		d.taken = append(d.taken, box)
	}
}

// Length writes a length of m metres as it stands on the plan, to a centimetre or a hundredth of a foot.
func Length(told units.System, m float64) string { return told.Say("m", m, 2) }

// told gives the units that the plan is told in.
func (d *stageDrawer) told() units.System { return d.v.Plan.Show.Told() }

// scaleBar draws how long a round number of metres is.
func (d *stageDrawer) scaleBar() {
	s, a := d.s, d.v.Area
	long := d.gridStep(s.Px(60))
	w := int(d.px(long))
	text := Length(d.told(), long)
	wide := max(w, s.Face(TypeMark).Measure(text))
	r := image.Rect(a.Max.X-wide-s.Px(14), a.Min.Y+s.Px(12), a.Max.X-s.Px(14), a.Min.Y+s.Px(34))
	s.Rect(r.Inset(-s.Px(5)), InkLane)
	d.taken = append(d.taken, r.Inset(-s.Px(5)))
	s.TextIn(image.Rect(r.Min.X, r.Min.Y, r.Max.X, r.Max.Y-s.Px(6)), Right, TypeMark, InkText, text)
	bar := image.Rect(r.Max.X-w, r.Max.Y-s.Px(3), r.Max.X, r.Max.Y)
	s.Rect(bar, InkText)
	s.Rect(image.Rect(bar.Min.X, bar.Min.Y-s.Px(4), bar.Min.X+s.Px(2), bar.Max.Y), InkText)
	s.Rect(image.Rect(bar.Max.X-s.Px(2), bar.Min.Y-s.Px(4), bar.Max.X, bar.Max.Y), InkText)
}
