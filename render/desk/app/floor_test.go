package app

import (
	"image"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render"
	"emberbeat/render/desk/page/stageplan"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// onFloor opens the stage plan of the example's first night.
func openFloor(t *testing.T) *hand {
	t.Helper()
	h := withExample(t)
	h.a.goNight(h.a.work.Show.Nights[0].ID)
	h.key("Ctrl+0")
	h.step()
	require.NotNil(t, h.stage().Scene)
	return h
}

// stage gives the page of the stage plan.
func (h *hand) stage() *stageplan.Stage { return h.a.families[planFamily].State.(*stageplan.Stage) }

// thing gives where a thing of the stage plan is drawn.
func (h *hand) thing(c render.Chosen) image.Point {
	h.t.Helper()
	at, ok := h.stage().At(c)
	require.True(h.t, ok, "%v", c)
	p := h.stage().View.Point(at)
	return image.Pt(int(p.X), int(p.Y))
}

func position(id string) render.Chosen { return render.Chosen{Kind: render.HitPosition, ID: id} }

// metres gives so many device pixels as a distance on stage takes.
func (h *hand) metres(x, y float64) image.Point {
	m := h.stage().View.PerMetre
	return image.Pt(int(math.Round(x*m)), int(math.Round(-y*m)))
}

func TestPositionIsDraggedOnTheStagePlan(t *testing.T) {
	h := openFloor(t)
	at := h.thing(position("lip-l"))
	require.InDelta(t, -6.0, h.a.work.Show.Rig.Position("lip-l").X, 1e-9)
	h.drag(at, at.Add(h.metres(1.1, 2.1)), 0)
	p := h.a.work.Show.Rig.Position("lip-l")
	require.Equal(t, []float64{-4.9, 2.5}, []float64{p.X, p.Y}, "on the step of 0.1 m")
	require.Equal(t, []timeline.Ref{{Kind: "position", ID: "lip-l"}}, h.a.book.refs, "the inspector shows it")
	h.key("Ctrl+Z")
	require.Equal(t, -6.0, h.a.work.Show.Rig.Position("lip-l").X, "one gesture is one step")
	h.key("]", "[", "[")
	require.Equal(t, 2, h.stage().Step)
	h.stage().Step = 1
	h.later()
	at = h.thing(position("lip-l"))
	h.drag(at, at.Add(h.metres(1.12, 0)), 0)
	require.Equal(t, []float64{-5, 0.5}, []float64{h.a.work.Show.Rig.Position("lip-l").X, h.a.work.Show.Rig.Position("lip-l").Y}, "on the step of 0.5 m")
	h.key("Ctrl+Z")
	h.later()
	h.drag(at, at.Add(h.metres(1.12, 0)), widget.Alt)
	require.InDelta(t, -4.88, h.a.work.Show.Rig.Position("lip-l").X, 1/h.stage().View.PerMetre, "to the pixel: Alt leaves the step")
}

func TestDragOnTheStagePlanIsCancelled(t *testing.T) {
	h := openFloor(t)
	was := h.a.work.Show
	at := h.thing(position("lip-l"))
	h.move(at)
	h.down(widget.Primary)
	h.move(at.Add(h.metres(0, -3)))
	require.NotNil(t, h.stage().Trial, "what it would make of the plan is shown")
	short := len(h.stage().Distances())
	require.NotZero(t, short, "with the distances needed and planned")
	h.key("Esc")
	h.up()
	require.Nil(t, h.stage().Trial)
	require.Same(t, was, h.a.work.Show)
	require.Equal(t, "stage-plan", h.a.book.at)
}

func TestLinesMarksAndZonesAreMoved(t *testing.T) {
	h := openFloor(t)
	v := func() *timeline.Venue { return h.a.work.Show.Venue("saltglass") }
	h.stage().Step = 1
	for _, c := range []struct {
		thing render.Chosen
		by    [2]float64
		want  func() timeline.Point
		to    timeline.Point
	}{
		{render.Chosen{Kind: render.HitLineTo, ID: "0"}, [2]float64{-2, 1}, func() timeline.Point { return v().Audience[0].To }, timeline.Point{X: 10, Y: -3}},
		{render.Chosen{Kind: render.HitMark, ID: "1"}, [2]float64{1, -1}, func() timeline.Point { return v().Performers[1].At }, timeline.Point{X: 1, Y: 5}},
	} {
		at := h.thing(c.thing)
		h.later()
		h.drag(at, at.Add(h.metres(c.by[0], c.by[1])), 0)
		require.Equal(t, c.to, c.want(), "%v", c.thing)
	}
	h.a.Use("stage-zone")
	h.step()
	require.Len(t, v().Clear, 1)
	zone := h.stage().Chosen
	require.Equal(t, render.HitZone, zone.Kind)
	before := v().Clear[0].At
	h.key("Right", "Up")
	require.Equal(t, timeline.Point{X: before.X + 0.5, Y: before.Y + 0.5}, v().Clear[0].At, "arrow keys move by the step")
	h.key("Delete")
	require.Empty(t, v().Clear)
	h.a.Use("stage-line")
	h.step()
	require.Len(t, v().Audience, 2)
	was := v().Audience[1]
	h.key("Left")
	require.Equal(t, was.To.X-0.5, v().Audience[1].To.X, "a line chosen whole moves whole")
	require.Equal(t, was.From.X-0.5, v().Audience[1].From.X)
	h.key("Delete", "Ctrl+Z")
	require.Len(t, v().Audience, 2)
}

func TestPositionInUseIsNotDeleted(t *testing.T) {
	h := openFloor(t)
	h.stage().Choose(position("lip-l"))
	h.key("Delete")
	require.True(t, h.a.note.bad)
	require.NotNil(t, h.a.work.Show.Rig.Position("lip-l"))
	h.a.Use("stage-position")
	h.step()
	require.Equal(t, render.HitPosition, h.stage().Chosen.Kind)
	h.key("Delete")
	require.True(t, h.log.has("did remove position"))
}

func TestDistanceIsMeasured(t *testing.T) {
	h := openFloor(t)
	h.key("D")
	h.drag(h.thing(position("lip-l")).Add(image.Pt(3, 2)), h.thing(render.Chosen{Kind: render.HitMark, ID: "0"}).Add(image.Pt(-4, 1)), 0)
	require.Equal(t, []timeline.Point{{X: -6, Y: 0.4}, {X: 0, Y: 2}}, h.stage().Measure, "ends are caught by things")
	require.Contains(t, h.a.note.text, "6.21 m", "derived: the root of 6² + 1.6²")
	require.Contains(t, h.stage().Scene.Dump(), `"6.21 m"`)
}

// Fields of the chosen thing hold its figures, and an empty name is refused with the reason.
func TestFieldsOfTheStagePlan(t *testing.T) {
	h := openFloor(t)
	h.stage().Choose(render.Chosen{Kind: render.HitMark, ID: "0"})
	h.step()
	h.button("radius")
	h.key("Ctrl+A")
	h.typed("2.25")
	h.key("Enter")
	require.Equal(t, 2.25, h.a.work.Show.Venue("saltglass").Performers[0].Radius)
	h.button("name")
	h.key("Ctrl+A", "Delete", "Enter")
	require.Contains(t, h.a.note.text, "name is empty")
	first := h.stage().Distances()[0]
	require.Equal(t, "Jet 5: Cold jet, 6 m", first.Unit.Placed.Name+": "+first.Article.Name)
}

// Without a night the page shows the venue that is chosen on it; without any venue it says what to do.
func TestStagePlanOfTheTour(t *testing.T) {
	h := withExample(t)
	h.a.turn("stage-plan")
	h.step()
	require.Equal(t, "saltglass", string(h.stage().Venue))
	require.NotEmpty(t, h.stage().List)
	empty := newHand(t)
	empty.a.prefs.Bare = true
	require.NoError(t, empty.a.newShow(t.TempDir()+"/mine", "Mine"))
	empty.a.turn("stage-plan")
	empty.step()
	require.Contains(t, empty.stage().NoDistance(), "No venue is chosen")
	require.Contains(t, empty.a.why(empty.a.byID("stage-line")), "add one on the page Venues")
	empty.key("Tab", "Insert", "Tab")
	require.Len(t, empty.a.work.Show.Rig.Positions, 1)
}
