package render

import (
	"image"
	"math"

	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// The things on a stage plan that a pointer can find. The ID of positions and supplies is the record's, that of lines, marks and zones
// their place in the venue's list.
const (
	HitStage    HitKind = "stage plan"
	HitPosition HitKind = "stage position"
	HitLine     HitKind = "audience line"
	HitLineFrom HitKind = "audience line from"
	HitLineTo   HitKind = "audience line to"
	HitMark     HitKind = "performer's mark"
	HitZone     HitKind = "clear zone"
)

// StageView says which part of the stage plan is shown, where and how. Up is upstage, right is the audience's right; all lengths of the
// stage are metres. Drawing reads it and keeps nothing of it.
type StageView struct {
	Plan     *timeline.Plan // show, night, venue and rig; nothing is drawn that it does not hold
	Played   *rule.Played   // nil = as the plan says
	Area     image.Rectangle
	Middle   timeline.Point // of the stage, at the middle of Area
	PerMetre float64        // device pixels a metre; 0 = all is seen
	Chosen   map[Chosen]bool
	Measure  []timeline.Point       // two ends of a distance that is shown
	NoNames  bool                   // names of positions are left out
	NoRings  bool                   // circles are left out, and what they are short of
	Focus    bool                   // circles only of what is chosen and of what is too near to something; of all that falls, one line around it
	NoFeeds  bool                   // supplies are left out: where they stand is not in the rig
	Numbers  map[timeline.ID]string // of positions, in the place of their names and signs; nil = those
	Editable bool                   // handles at the ends of lines
	Under    *Underlay              // a picture under all of it, pale; nil = none
}

// Chosen names a thing of the plan that is drawn as chosen.
type Chosen struct {
	Kind HitKind
	ID   string
}

// StageCaution stands beside every stage plan.
const StageCaution = "Distances are measured on the plan; height and wind are not counted. Planning document: label, permit and authority come first."

// Point gives where a place on stage is drawn.
func (v *StageView) Point(p timeline.Point) Point {
	return Point{float32(float64(v.Area.Min.X+v.Area.Max.X)/2 + (p.X-v.Middle.X)*v.PerMetre), float32(float64(v.Area.Min.Y+v.Area.Max.Y)/2 - (p.Y-v.Middle.Y)*v.PerMetre)}
}

// Place gives the place on stage that is drawn at a device pixel.
func (v *StageView) Place(p image.Point) timeline.Point {
	return timeline.Point{X: v.Middle.X + (float64(p.X)-float64(v.Area.Min.X+v.Area.Max.X)/2)/v.PerMetre, Y: v.Middle.Y - (float64(p.Y)-float64(v.Area.Min.Y+v.Area.Max.Y)/2)/v.PerMetre}
}

// Fit sets Middle and PerMetre so that all that the plan holds is seen in Area.
func (v *StageView) Fit() { v.FitTo(StageBounds(v.Plan)) }

// FitTo sets Middle and PerMetre so that a part of the stage is seen in Area.
func (v *StageView) FitTo(b StageBox) {
	w, h := max(b.Max.X-b.Min.X, 2)+2, max(b.Max.Y-b.Min.Y, 2)+2
	v.Middle = timeline.Point{X: (b.Min.X + b.Max.X) / 2, Y: (b.Min.Y + b.Max.Y) / 2}
	v.PerMetre = max(min(float64(v.Area.Dx())/w, float64(v.Area.Dy())/h), 0.5)
}

// StageBox is a part of the stage plan in metres.
type StageBox struct{ Min, Max timeline.Point }

func (b *StageBox) add(p timeline.Point, r float64) {
	b.Min.X, b.Min.Y = min(b.Min.X, p.X-r), min(b.Min.Y, p.Y-r)
	b.Max.X, b.Max.Y = max(b.Max.X, p.X+r), max(b.Max.Y, p.Y+r)
}

// StageBounds gives the part of the stage that holds all positions with their circles, and the lines, marks and zones of the plan's venue.
// It always holds the middle of the stage's front edge.
func StageBounds(p *timeline.Plan) StageBox {
	b := StageCore(p)
	for _, m := range placesOf(p) {
		b.add(m.At, 0.5)
	}
	return b
}

// Holds reports whether a place lies in the box.
func (b StageBox) Holds(p timeline.Point) bool {
	return p.X >= b.Min.X && p.X <= b.Max.X && p.Y >= b.Min.Y && p.Y <= b.Max.Y
}

// StageCore is StageBounds without exits, posts and control, which may lie far off.
func StageCore(p *timeline.Plan) StageBox {
	var b StageBox
	for _, q := range p.Show.Rig.Positions {
		b.add(timeline.Point{X: q.X, Y: q.Y}, 1)
	}
	for _, u := range p.Units.All {
		if u.Position != nil && u.Article != nil {
			b.add(timeline.Point{X: u.Position.X, Y: u.Position.Y}, max(u.Article.Fallout, u.Article.Clear, 1))
		}
	}
	if v := p.Venue; v != nil {
		for _, l := range v.Audience {
			b.add(l.From, 0)
			b.add(l.To, 0)
		}
		for _, l := range v.Cloths {
			b.add(l.From, 0)
			b.add(l.To, 0)
		}
		for _, m := range v.Performers {
			b.add(m.At, m.Radius)
		}
		for _, m := range v.Clear {
			b.add(m.At, m.Radius)
		}
	}
	return b
}

// StagePlan draws the stage from above to scale: a grid in metres, audience lines, performers' marks and clear zones of the venue, positions
// with the effects placed there, around each the circles that are asked for with what governs, what each supply feeds, and where a planned
// distance is less than the one needed, both. It is the same for window and paper.
func (s *Scene) StagePlan(th *Theme, v *StageView) {
	view := *v
	if view.PerMetre <= 0 {
		view.Fit()
	}
	v = &view
	d := stageDrawer{s: s, th: th, v: v}
	d.played = v.Played
	if d.played == nil {
		d.played = rule.PlayedOn(v.Plan)
	}
	d.spots = spotsOf(v.Plan, d.played)
	s.Rect(v.Area, InkLane)
	s.Ground(HitStage, "", v.Area)
	s.PushClip(v.Area)
	d.underlay()
	d.grid()
	d.zones()
	if !v.NoRings {
		d.rings()
	}
	if !v.NoFeeds {
		d.supplies()
	}
	d.cloths()
	d.lines()
	d.marks()
	d.places()
	if !v.NoRings {
		d.turned()
	}
	d.positions()
	if !v.NoRings {
		d.conflicts()
	}
	d.measure()
	d.scaleBar()
	d.underNote()
	d.setCaptions()
	d.frontEdge()
	s.PopClip()
	s.Frame(v.Area, s.Px(1), InkBar)
}

// stageDrawer draws one stage plan.
type stageDrawer struct {
	s      *Scene
	th     *Theme
	v      *StageView
	played *rule.Played
	spots  []spot
	taken  []image.Rectangle // by labels and glyphs

	captions []caption
}

// px gives metres in device pixels.
func (d *stageDrawer) px(metres float64) float32 { return float32(metres * d.v.PerMetre) }

// circle draws a ring of a radius in metres; dash is the share of it that is drawn, 1 for all.
func (d *stageDrawer) circle(at timeline.Point, metres float64, ink Ink, width, dash float64) {
	c, r := d.v.Point(at), d.px(metres)
	w := d.s.Scale.Pxf(float32(width))
	if dash >= 1 {
		d.s.Line(w, ink, 255, ringPoints(c, r)...)
		return
	}
	n := max(int(float64(r)*2*math.Pi/float64(d.s.Px(10))), 8)
	step := 360 / float32(n)
	for i := range n {
		d.s.Line(w, ink, 255, arc(c.X, c.Y, r, float32(i)*step, (float32(i)+float32(dash))*step, 3)...)
	}
}

// disc fills a circle of a radius in metres.
func (d *stageDrawer) disc(at timeline.Point, metres float64, ink Ink, cover uint8) {
	c := d.v.Point(at)
	if r := d.px(metres); r >= 1 {
		d.s.Poly(ink, cover, ringPoints(c, r)[1:]...)
	}
}

// ringPoints gives a closed ring, fine enough for its size.
func ringPoints(c Point, r float32) []Point {
	return arc(c.X, c.Y, r, 0, 360, min(max(int(r), 16), 96))
}

// dashed draws a broken line.
func (d *stageDrawer) dashed(from, to timeline.Point, ink Ink, width float64) {
	a, b := d.v.Point(from), d.v.Point(to)
	long := math.Hypot(float64(b.X-a.X), float64(b.Y-a.Y))
	n := min(int(long/float64(d.s.Px(8)))+1, 400)
	for i := range n {
		k, e := float32(i)/float32(n), (float32(i)+0.6)/float32(n)
		d.s.Line(d.s.Scale.Pxf(float32(width)), ink, 255, Point{a.X + k*(b.X-a.X), a.Y + k*(b.Y-a.Y)}, Point{a.X + e*(b.X-a.X), a.Y + e*(b.Y-a.Y)})
	}
}

func (d *stageDrawer) chosen(kind HitKind, id string) bool { return d.v.Chosen[Chosen{kind, id}] }
