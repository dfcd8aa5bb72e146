package sheet

import (
	"image"
	"math"
	"strconv"

	"emberbeat/render"
	"emberbeat/render/paper"
	"emberbeat/shows/report/permit"
	"emberbeat/timeline"
)

// planScales are the scales a stage plan is printed at, 1:n; the largest that
// holds everything is taken.
var planScales = []int{10, 20, 25, 50, 75, 100, 125, 150, 200, 250, 300, 400, 500, 1000, 2000, 2500, 5000, 10000, 20000, 50000, 100000}

// planKey is how wide the key of the numbers is beside a plan, in logical pixels.
const planKey = 240

// planParts gives the stage plan, and where exits, control or other posts lie
// outside of it, a plan of the site.
func planParts(p *timeline.Plan, points []permit.FiringPoint, under *render.Underlay) []paper.Part {
	name := "without a venue"
	if p.Venue != nil {
		name = p.Called(p.Venue)
	}
	stage := render.StageCore(p)
	parts := []paper.Part{{Heading: "Stage plan: " + name, NewPage: true, Notes: []string{render.StageCaution}, Art: planArt(p, points, stage, under, false)}}
	if !render.StagePlacesIn(p, stage) {
		parts = append(parts, paper.Part{Heading: "Site plan: " + name, NewPage: true, Notes: []string{"Exits, extinguishers, control and spotters that lie outside the stage plan. " + render.StageCaution},
			Art: planArt(p, points, render.StageBounds(p), under, true)})
	}
	return parts
}

// Underlaid gives a sheet with a picture under its stage plan, and whether it has
// such a plan.
func Underlaid(s Sheet, under *render.Underlay) (Sheet, bool) {
	k, ok := s.(permitPack)
	if !ok {
		return s, false
	}
	k.under = under
	return k, true
}

// planArt draws a part of the stage from above to a round scale, with a key of
// the numbers and what its signs mean. A plan of the site has no circles.
func planArt(p *timeline.Plan, points []permit.FiringPoint, b render.StageBox, under *render.Underlay, site bool) *paper.Art {
	numbers, order := map[timeline.ID]string{}, []timeline.ID{}
	for _, pt := range points {
		if pt.Position != "" {
			numbers[timeline.ID(pt.Position)], order = strconv.Itoa(pt.No), append(order, timeline.ID(pt.Position))
		}
	}
	return &paper.Art{Least: 400, Draw: func(s *render.Scene, area image.Rectangle) {
		line := s.Px(18)
		plan := image.Rect(area.Min.X, area.Min.Y+2*line, area.Max.X-s.Px(planKey), area.Max.Y-2*line)
		n := planScale(b, plan, s.Scale)
		s.StagePlan(&render.Day, &render.StageView{Plan: p, Area: plan, Middle: timeline.Point{X: (b.Min.X + b.Max.X) / 2, Y: (b.Min.Y + b.Max.Y) / 2}, PerMetre: perMetre(n, s.Scale),
			NoFeeds: true, NoRings: site, Numbers: numbers, Under: under})
		planDirections(s, area, plan, n)
		key := image.Rect(plan.Max.X+s.Px(12), area.Min.Y, area.Max.X, plan.Max.Y)
		if left := s.StageKey(&render.Day, p, numbers, order, key); left > 0 {
			s.TextIn(image.Rect(key.Min.X, plan.Max.Y, area.Max.X, plan.Max.Y+line), render.Left, render.TypeSmall, render.InkText, timeline.Counted(left, "more point")+" in the table")
		}
		planLegend(s, image.Rect(area.Min.X, plan.Max.Y+s.Px(2), plan.Max.X, area.Max.Y))
	}}
}

// perMetre gives the device pixels of a metre at 1:n; a logical pixel is 1/96
// inch.
func perMetre(n int, scale render.Scale) float64 {
	return 96 / 0.0254 * float64(scale) / 100 / float64(n)
}

// planScale finds the largest scale at which a part of the stage and a metre
// around it fit.
func planScale(b render.StageBox, area image.Rectangle, scale render.Scale) int {
	for _, n := range planScales {
		if m := perMetre(n, scale); (b.Max.X-b.Min.X+2)*m <= float64(area.Dx()) && (b.Max.Y-b.Min.Y+2)*m <= float64(area.Dy()) {
			return n
		}
	}
	return planScales[len(planScales)-1]
}

// planDirections says the scale, and which way is which.
func planDirections(s *render.Scene, area, plan image.Rectangle, n int) {
	line := func(row int, align render.Align, text string) {
		s.TextIn(image.Rect(plan.Min.X, area.Min.Y+row*s.Px(18), plan.Max.X, area.Min.Y+(row+1)*s.Px(18)), align, render.TypeMark, render.InkText, text)
	}
	line(0, render.Left, "Scale 1:"+strconv.Itoa(n)+" where the page is printed at full size")
	line(0, render.Right, "north: draw an arrow       ")
	line(1, render.Left, "← stage right (audience's left)")
	line(1, render.Middle, "↑ upstage      ↓ audience")
	line(1, render.Right, "stage left (audience's right) →")
	r := s.Px(8)
	c := image.Pt(plan.Max.X-r-s.Px(2), area.Min.Y+s.Px(9))
	s.Line(s.Scale.Pxf(1), render.InkText, 255, ring(c, float32(r))...)
}

// ring gives a closed circle about a point.
func ring(c image.Point, r float32) []render.Point {
	const corners = 32
	points := make([]render.Point, corners+1)
	for i := range points {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / corners)
		points[i] = render.Point{X: float32(c.X) + r*float32(cos), Y: float32(c.Y) + r*float32(sin)}
	}
	return points
}

// planLegend says what the circles and lines of the plan are.
func planLegend(s *render.Scene, area image.Rectangle) {
	x, y := area.Min.X, area.Min.Y
	for _, sign := range planSigns {
		wide := s.Px(34) + s.Face(render.TypeSmall).Measure(sign.text) + s.Px(18)
		if x+wide > area.Max.X && x > area.Min.X {
			x, y = area.Min.X, y+s.Px(17)
		}
		if y+s.Px(17) > area.Max.Y {
			return
		}
		sign.draw(s, image.Rect(x, y, x+s.Px(28), y+s.Px(16)))
		s.TextIn(image.Rect(x+s.Px(34), y, x+wide, y+s.Px(16)), render.Left, render.TypeSmall, render.InkText, sign.text)
		x += wide
	}
}

// planSign is one entry of a stage plan's legend.
type planSign struct {
	text string
	draw func(s *render.Scene, box image.Rectangle)
}

var planSigns = []planSign{
	{"firing point, numbered as in the table", func(s *render.Scene, b image.Rectangle) { s.Rect(square(s, b, 3), render.InkText) }},
	{"fallout", func(s *render.Scene, b image.Rectangle) {
		s.Tint(b.Inset(s.Px(3)), render.InkShot, 60)
		s.Frame(b.Inset(s.Px(3)), s.Px(1), render.InkShot)
	}},
	{"clear zone", func(s *render.Scene, b image.Rectangle) { dashes(s, b, 0.25, render.InkCold) }},
	{"distance asked for to the audience", func(s *render.Scene, b image.Rectangle) { dashes(s, b, 0.6, render.InkSecondary) }},
	{"audience line", func(s *render.Scene, b image.Rectangle) {
		s.Rect(image.Rect(b.Min.X, b.Min.Y+s.Px(6), b.Max.X, b.Min.Y+s.Px(9)), render.InkText)
	}},
	{"performer's mark", func(s *render.Scene, b image.Rectangle) {
		c := image.Pt((b.Min.X+b.Max.X)/2, (b.Min.Y+b.Max.Y)/2)
		s.Line(s.Scale.Pxf(2), render.InkText, 255, ring(c, s.Scale.Pxf(6))...)
		s.Rect(image.Rect(c.X-s.Px(3), c.Y-s.Px(1), c.X+s.Px(3), c.Y+s.Px(1)), render.InkText)
		s.Rect(image.Rect(c.X-s.Px(1), c.Y-s.Px(3), c.X+s.Px(1), c.Y+s.Px(3)), render.InkText)
	}},
	{"X exit, F extinguisher, C control, S spotter", func(s *render.Scene, b image.Rectangle) {
		s.StageSign(image.Pt((b.Min.X+b.Max.X)/2, (b.Min.Y+b.Max.Y)/2), "X")
	}},
	{"short of what is asked", func(s *render.Scene, b image.Rectangle) {
		s.Badge(image.Pt(b.Min.X+s.Px(6), b.Min.Y), render.SevError)
	}},
}

// square gives a square of so many logical pixels about a box's middle.
func square(s *render.Scene, b image.Rectangle, half int) image.Rectangle {
	c := image.Pt((b.Min.X+b.Max.X)/2, (b.Min.Y+b.Max.Y)/2)
	return image.Rect(c.X-s.Px(half), c.Y-s.Px(half), c.X+s.Px(half), c.Y+s.Px(half))
}

// dashes draws a broken line of which a share is drawn.
func dashes(s *render.Scene, b image.Rectangle, share float64, ink render.Ink) {
	step := s.Px(9)
	for x := b.Min.X; x+step <= b.Max.X; x += step {
		s.Rect(image.Rect(x, b.Min.Y+s.Px(7), x+int(share*float64(step)), b.Min.Y+s.Px(9)), ink)
	}
}
