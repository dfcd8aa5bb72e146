package stageplan

import (
	"image"
	"math"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
	"emberbeat/timeline/units"
)

// ID is that of the page.
const ID = "stage-plan"

// Stage is the page with what it remembers.
type Stage struct {
	View     render.StageView // where it is looked at
	Venue    timeline.ID      // whose lines are shown where no night names a venue
	Chosen   render.Chosen
	Step     int              // of steps
	AllRings bool             // circles of every position are drawn
	Measure  []timeline.Point // the distance measured last
	Trial    *timeline.Plan   // what a gesture would make of the plan
	Scene    *render.Scene
	List     []rule.Spacing // of the plan as drawn

	h         page.Host
	own       bool            // the view is the user's, and not fitted to the area any more
	fitted    image.Rectangle // the area that it was fitted to
	measuring bool
	key       drawnOf
	played    *rule.Played
	of        *timeline.Plan // that played was made from
	rows      widget.Selection
}

// New gives the stage plan and its commands.
func New(h page.Host) page.Family {
	st := &Stage{h: h}
	return page.Family{State: st, Commands: st.commands(), Pages: []page.Page{{ID: ID, Name: "Stage plan", Part: "Nights", Keys: []string{"Ctrl+0"},
		Help: "the stage from above, to scale: drag positions, lines and marks; needed and planned distances",
		Draw: st.draw, Acts: st.acts(), On: st.on}}}
}

// on shows a venue, all of it.
func (st *Stage) on(r timeline.Ref) {
	st.Venue = r.ID
	st.fit()
}

// change is what is done to the show as one step.
type change struct {
	label string
	edits []timeline.Edit
}

func (st *Stage) do(c change) bool { return st.h.Do(c.label, c.edits...) }

func (st *Stage) doAs(key string, c change) { st.h.DoAs(key, c.label, c.edits...) }

// drawnOf is what the drawn plan depends on.
type drawnOf struct {
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
	rings   bool
}

// steps gives the steps that things on the stage plan are snapped to and moved by, in metres: round numbers of the units that the show is
// told in.
func (st *Stage) steps() []float64 {
	if one := st.told().Back("m", 1); one != 1 {
		return []float64{one / 2, one, 5 * one}
	}
	return []float64{0.1, 0.5, 1}
}

func (st *Stage) stepNames() []string {
	var names []string
	for _, s := range st.steps() {
		names = append(names, "snap "+render.Length(st.told(), s))
	}
	return names
}

// drawn gives the plan that the page shows: the one in view, or what a gesture would make of it. Where no night names a venue it is the
// venue chosen on the page.
func (st *Stage) drawn() *timeline.Plan {
	f := st
	if f.Trial != nil {
		return f.Trial
	}
	return st.atVenue(st.h.Plan())
}

// atVenue gives a plan with the venue chosen on the page, if it has none of its own.
func (st *Stage) atVenue(p *timeline.Plan) *timeline.Plan {
	v := p.Show.Venue(st.Venue)
	if p.Venue != nil || v == nil {
		return p
	}
	own := *p
	own.Venue = v
	return &own
}

// playedNow gives what the plan in view plays where.
func (st *Stage) playedNow() *rule.Played {
	if f := st; f.of != st.h.Plan() {
		f.of, f.played = st.h.Plan(), rule.PlayedOn(st.h.Plan())
	}
	return st.played
}

// draw shows the stage from above, to be changed.
func (st *Stage) draw(r image.Rectangle) {
	u := st.h.UI()
	if show := st.h.Show(); st.h.Plan().Venue == nil && show.Venue(st.Venue) == nil {
		st.Venue = ""
		if len(show.Venues) > 0 {
			st.Venue = show.Venues[0].ID
		}
	}
	k := u.Stack(r, 6)
	st.head(k.Top(widget.RowHeight))
	st.h.Buttons(&k, buttons...)
	foot := 168
	if k.Rest().Dy() < u.Px(460) {
		foot = 118
	}
	below := k.Bottom(foot)
	h := u.ParagraphHeight(k.Rest().Dx(), render.TypeSmall, render.StageCaution) * 100 / int(u.Scene().Scale)
	u.Paragraph(k.Bottom(h+2), render.TypeSmall, render.InkSecondary, render.StageCaution)
	st.canvas(k.Rest())
	st.foot(below)
}

// head says for which night and venue the plan is, and what drags are snapped to.
func (st *Stage) head(r image.Rectangle) {
	u, show := st.h.UI(), st.h.Show()
	row := u.Stack(r, 8)
	f := st
	if now, changed := u.Dropdown("step", row.Right(120), st.stepNames(), f.Step); changed {
		f.Step = now
	}
	u.Tip("What things are snapped to while they are dragged, and moved by with the arrow keys; Alt snaps the other way", st.h.Key("grid-finer"))
	st.h.SetSnap(u.Toggle("snap", row.Right(110), "Snap", st.h.Snap()))
	names, at := []string{}, -1
	for i, v := range show.Venues {
		names = append(names, v.Name)
		if v == st.h.Plan().Venue || st.h.Plan().Venue == nil && v.ID == f.Venue {
			at = i
		}
	}
	u.Label(row.Left(46), render.TypeLabel, render.InkSecondary, "Venue")
	if now, changed := u.Off(st.venueFixed()).Dropdown("venue", row.Left(210), names, at); changed {
		f.Venue, f.own, f.fitted = show.Venues[now].ID, false, image.Rectangle{}
	}
	text := "as on the tour; choose a night at the top right"
	if n := st.h.Plan().Night; n != nil {
		text = "night: " + n.Name
	}
	u.Label(row.Rest(), render.TypeSmall, render.InkSecondary, text)
}

// venueFixed says why another venue cannot be chosen.
func (st *Stage) venueFixed() string {
	switch {
	case st.h.Plan().Venue != nil:
		return "the night chosen at the top right plays in " + st.h.Plan().Venue.Name
	case len(st.h.Show().Venues) == 0:
		return "the show has no venue yet: add one on the page Venues, with " + st.h.Key("book-venues")
	}
	return ""
}

// canvas draws the plan and lets it be worked on.
func (st *Stage) canvas(r image.Rectangle) {
	u, f := st.h.UI(), st
	f.View.Area = r
	if st.h.Fresh() {
		u.Focus("stage-plan")
	}
	c := u.Canvas("stage-plan", r)
	if !f.own && f.fitted != r && !st.h.Dragging() {
		f.View.Plan, f.fitted = st.drawn(), r
		f.View.FitTo(render.StageCore(f.View.Plan))
	}
	st.point(c)
	st.redraw()
	u.Scene().Append(f.Scene)
	if c.Focus {
		u.Scene().Frame(r, u.Px(2), render.InkFocus)
	}
}

// redraw draws the plan anew if anything on it has changed.
func (st *Stage) redraw() {
	f := st
	f.View.Plan = st.drawn()
	key := drawnOf{st.planKey(), st.h.UI().Theme(), st.h.UI().Scene().Scale, f.View.Area, f.View.Middle, f.View.PerMetre, f.Chosen, timeline.Point{}, timeline.Point{}, len(f.Measure), f.AllRings}
	if len(f.Measure) == 2 {
		key.from, key.to = f.Measure[0], f.Measure[1]
	}
	if f.Scene != nil && key == f.key && f.View.Plan.Venue != nil == (f.Venue != "" || st.h.Plan().Venue != nil) {
		return
	}
	if f.Scene == nil {
		f.Scene = st.h.UI().Scene().Another()
	}
	f.key = key
	f.View.Played, f.View.Editable, f.View.Measure = st.playedNow(), page.NeedEdit(st.h) == "", f.Measure
	f.View.Focus, f.View.Under = !f.AllRings, nil
	if v := f.View.Plan.Venue; v != nil {
		f.View.Under = st.h.UnderPlan(v)
	}
	f.View.Chosen = map[render.Chosen]bool{f.Chosen: f.Chosen.Kind != ""}
	f.Scene.Reset(st.h.UI().Scene().Size, st.h.UI().Scene().Scale)
	f.Scene.StagePlan(st.h.UI().Theme(), &f.View)
	f.List = f.View.Played.Spacings(f.View.Plan)
}

// planKey is the plan that the drawing rests on.
func (st *Stage) planKey() *timeline.Plan {
	if st.Trial != nil {
		return st.Trial
	}
	return st.h.Plan()
}

// snap brings a place to the step, or leaves it to a centimetre.
func (st *Stage) snap(p timeline.Point, inverted bool) timeline.Point {
	step := 0.01
	if st.h.Snap() != inverted {
		step = st.steps()[st.Step]
	}
	return timeline.Point{X: roundTo(p.X, step), Y: roundTo(p.Y, step)}
}

// roundTo gives the multiple of a step nearest to x, to a tenth of a millimetre and within what a plan holds.
func roundTo(x, step float64) float64 {
	x = math.Round(x/step) * step
	return min(max(math.Round(x*1e4)/1e4+0, -9999), 9999)
}

func (st *Stage) placeText(p timeline.Point) string {
	return st.told().Number("m", p.X, -1) + ", " + st.told().Say("m", p.Y, -1)
}

// told gives the units that the show is told in, and lengths how a note about figures without a unit begins.
func (st *Stage) told() units.System { return st.h.Show().Told() }
func (st *Stage) lengths() string    { return page.Upper(st.told().String()) }
