package app

import (
	"fmt"
	"image"
	"math"

	"emberbeat/render"
	"emberbeat/render/widget"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// floor is what the page of the stage plan remembers.
type floor struct {
	view      render.StageView // where it is looked at
	own       bool             // the view is the user's, and not fitted to the area any more
	fitted    image.Rectangle  // the area that it was fitted to
	venue     timeline.ID      // whose lines are shown where no night names a venue
	chosen    render.Chosen
	step      int // of floorSteps
	measuring bool
	measure   []timeline.Point // the distance measured last

	trial  *timeline.Plan // what a gesture would make of the plan
	scene  *render.Scene
	key    floorKey
	played *rule.Played
	of     *timeline.Plan // that played was made from
	list   []rule.Spacing // of the plan as drawn
	rows   widget.Selection
}

// floorKey is what the drawn plan depends on.
type floorKey struct {
	plan    *timeline.Plan
	theme   *render.Theme
	scale   render.Scale
	area    image.Rectangle
	middle  timeline.Point
	metre   float64
	chosen  render.Chosen
	from    timeline.Point
	to      timeline.Point
	measure int
}

// floorSteps are the steps that things on the stage plan are snapped to and moved by, in metres.
var floorSteps = []float64{0.1, 0.5, 1}

func floorStepNames() []string {
	var names []string
	for _, s := range floorSteps {
		names = append(names, "snap "+render.Metres(s))
	}
	return names
}

// floorPlan gives the plan that the page shows: the one in view, or what a gesture would make of it. Where no night names a venue it is the
// venue chosen on the page.
func (a *App) floorPlan() *timeline.Plan {
	f := &a.floor
	if f.trial != nil {
		return f.trial
	}
	return a.atVenue(a.work.plan)
}

// atVenue gives a plan with the venue chosen on the page, if it has none of its own.
func (a *App) atVenue(p *timeline.Plan) *timeline.Plan {
	v := p.Show.Venue(a.floor.venue)
	if p.Venue != nil || v == nil {
		return p
	}
	own := *p
	own.Venue = v
	return &own
}

// floorPlayed gives what the plan in view plays where.
func (a *App) floorPlayed() *rule.Played {
	if f := &a.floor; f.of != a.work.plan {
		f.of, f.played = a.work.plan, rule.PlayedOn(a.work.plan)
	}
	return a.floor.played
}

// floorPage shows the stage from above, to be changed.
func (a *App) floorPage(r image.Rectangle) {
	u := a.ui
	if w := a.work; w.plan.Venue == nil && w.shown.Venue(a.floor.venue) == nil {
		a.floor.venue = ""
		if len(w.shown.Venues) > 0 {
			a.floor.venue = w.shown.Venues[0].ID
		}
	}
	k := u.Stack(r, 6)
	a.floorHead(k.Top(widget.RowHeight))
	a.commandButtons(&k, floorButtons)
	foot := 168
	if k.Rest().Dy() < u.Px(460) {
		foot = 118
	}
	below := k.Bottom(foot)
	h := u.ParagraphHeight(k.Rest().Dx(), render.TypeSmall, render.StageCaution) * 100 / int(u.Scene().Scale)
	u.Paragraph(k.Bottom(h+2), render.TypeSmall, render.InkSecondary, render.StageCaution)
	a.floorCanvas(k.Rest())
	a.floorFoot(below)
}

// floorHead says for which night and venue the plan is, and what drags are snapped to.
func (a *App) floorHead(r image.Rectangle) {
	u, w := a.ui, a.work
	row := u.Stack(r, 8)
	f := &a.floor
	if now, changed := u.Dropdown("step", row.Right(120), floorStepNames(), f.step); changed {
		f.step = now
	}
	u.Tip("What things are snapped to while they are dragged, and moved by with the arrow keys; Alt snaps the other way", a.key("grid-finer"))
	a.prefs.Snap = u.Toggle("snap", row.Right(110), "Snap", a.prefs.Snap)
	names, at := []string{}, -1
	for i, v := range w.shown.Venues {
		names = append(names, v.Name)
		if v == w.plan.Venue || w.plan.Venue == nil && v.ID == f.venue {
			at = i
		}
	}
	u.Label(row.Left(46), render.TypeLabel, render.InkSecondary, "Venue")
	if now, changed := u.Off(a.venueFixed()).Dropdown("venue", row.Left(210), names, at); changed {
		f.venue, f.own, f.fitted = w.shown.Venues[now].ID, false, image.Rectangle{}
	}
	text := "as on the tour; choose a night at the top right"
	if n := w.plan.Night; n != nil {
		text = "night: " + n.Name
	}
	u.Label(row.Rest(), render.TypeSmall, render.InkSecondary, text)
}

// venueFixed says why another venue cannot be chosen.
func (a *App) venueFixed() string {
	switch {
	case a.work.plan.Venue != nil:
		return "the night chosen at the top right plays in " + a.work.plan.Venue.Name
	case len(a.work.shown.Venues) == 0:
		return "the show has no venue yet: add one on the page Venues, with " + a.key("book-venues")
	}
	return ""
}

// floorCanvas draws the plan and lets it be worked on.
func (a *App) floorCanvas(r image.Rectangle) {
	u, f := a.ui, &a.floor
	f.view.Area = r
	if a.book.fresh {
		u.Focus("stage-plan")
	}
	c := u.Canvas("stage-plan", r)
	if !f.own && f.fitted != r && a.gesture == nil {
		f.view.Plan, f.fitted = a.floorPlan(), r
		f.view.FitTo(render.StageCore(f.view.Plan))
	}
	a.floorPoint(c)
	a.drawFloor()
	u.Scene().Append(f.scene)
	if c.Focus {
		u.Scene().Frame(r, u.Px(2), render.InkFocus)
	}
}

// drawFloor draws the plan anew if anything on it has changed.
func (a *App) drawFloor() {
	f := &a.floor
	f.view.Plan = a.floorPlan()
	key := floorKey{a.planKey(), a.Theme(), a.Scale(), f.view.Area, f.view.Middle, f.view.PerMetre, f.chosen, timeline.Point{}, timeline.Point{}, len(f.measure)}
	if len(f.measure) == 2 {
		key.from, key.to = f.measure[0], f.measure[1]
	}
	if f.scene != nil && key == f.key && f.view.Plan.Venue != nil == (f.venue != "" || a.work.plan.Venue != nil) {
		return
	}
	if f.scene == nil {
		f.scene = render.NewScene(a.faces)
	}
	f.key = key
	f.view.Played, f.view.Editable, f.view.Measure = a.floorPlayed(), needEdit(a) == "", f.measure
	f.view.Chosen = map[render.Chosen]bool{f.chosen: f.chosen.Kind != ""}
	f.scene.Reset(a.size, a.Scale())
	f.scene.StagePlan(a.Theme(), &f.view)
	f.list = f.view.Played.Spacings(f.view.Plan)
}

// planKey is the plan that the drawing rests on.
func (a *App) planKey() *timeline.Plan {
	if a.floor.trial != nil {
		return a.floor.trial
	}
	return a.work.plan
}

// floorSnap brings a place to the step, or leaves it to a centimetre.
func (a *App) floorSnap(p timeline.Point, inverted bool) timeline.Point {
	step := 0.01
	if a.prefs.Snap != inverted {
		step = floorSteps[a.floor.step]
	}
	return timeline.Point{X: roundTo(p.X, step), Y: roundTo(p.Y, step)}
}

// roundTo gives the multiple of a step nearest to x, to a millimetre and within what a plan holds.
func roundTo(x, step float64) float64 {
	x = math.Round(x/step) * step
	return min(max(math.Round(x*1000)/1000+0, -9999), 9999)
}

func placeText(p timeline.Point) string { return fmt.Sprintf("%g, %g m", p.X, p.Y) }
