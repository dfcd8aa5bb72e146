package render

import (
	"errors"
	"image"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// stagePlanOf gives the demo show on a night in a hall whose barrier stands 4 m before the stage.
func stagePlanOf(t testing.TB) *timeline.Plan {
	t.Helper()
	s, err := demoShow(t, 8).Show.Edit(func(d *timeline.Draft) error {
		flame := *d.Show().Stock.Article("flame")
		flame.Separation, flame.Fallout, flame.Clear = 6, 1, 5
		d.Put("", &flame, rec("venue", "hall", func(v *timeline.Venue) {
			v.Name, v.Slug = "Hall", "hall"
			v.Audience = []timeline.PlanLine{{Name: "barrier", From: timeline.Point{X: -8, Y: -4}, To: timeline.Point{X: 8, Y: -4}}}
			v.Performers = []timeline.PlanMark{{Name: "singer", At: timeline.Point{X: 0, Y: 2}, Radius: 1}}
			v.Clear = []timeline.PlanMark{{Name: "exit", At: timeline.Point{X: 9, Y: 6}, Radius: 1.5, Song: "ember"}}
		}), rec("night", "n", func(n *timeline.Night) { n.Name, n.Slug, n.Venue = "One", "one", "hall" }),
			rec("supply", "gas", func(s *timeline.Supply) { s.Name, s.Feeds = "Gas", []timeline.ID{"flame-l", "flame-r"} }))
		return nil
	})
	require.NoError(t, err)
	return timeline.Compile(s, s.Night("n"))
}

func drawStagePlan(p *timeline.Plan, v StageView, size image.Point, scale Scale) (*Scene, StageView) {
	s := NewScene(NewFaces())
	s.Reset(size, scale)
	v.Plan, v.Area = p, image.Rectangle{Max: size}.Inset(10)
	v.Fit()
	s.StagePlan(&Day, &v)
	return s, v
}

func TestStagePlanShowsAllThatTheNightHolds(t *testing.T) {
	p := stagePlanOf(t)
	s, v := drawStagePlan(p, StageView{Editable: true, Measure: []timeline.Point{{}, {X: 3, Y: 4}}}, image.Pt(1100, 800), Unit)
	found := map[Chosen]Hit{}
	for _, h := range s.Hits {
		found[Chosen{h.Kind, h.ID}] = h
	}
	for _, q := range p.Show.Rig.Positions {
		h, ok := found[Chosen{HitPosition, string(q.ID)}]
		require.True(t, ok, q.ID)
		at := v.Place(h.Area.Min.Add(h.Area.Max).Div(2))
		require.InDelta(t, q.X, at.X, 1.5/v.PerMetre)
		require.InDelta(t, q.Y, at.Y, 1.5/v.PerMetre)
	}
	for _, c := range []Chosen{{HitStage, ""}, {HitLine, "0"}, {HitLineFrom, "0"}, {HitLineTo, "0"}, {HitMark, "0"}, {HitZone, "0"}} {
		require.Contains(t, found, c)
	}
	text := s.Dump()
	for _, want := range []string{`"audience: barrier"`, `"singer"`, `"keep clear: exit in Ember"`, `"Gas"`, `"Downstage left"`, `"Roof truss (9 m up)"`, `"5 m"`, `"4.5 m of 6 m: label distance"`} {
		require.Contains(t, text, want)
	}
	_, again := drawStagePlan(p, StageView{}, image.Pt(1100, 800), Unit)
	require.Equal(t, v.PerMetre, again.PerMetre)
}

// A circle is as large as the metres say, at any scale.
func TestStagePlanIsToScale(t *testing.T) {
	p := stagePlanOf(t)
	for _, scale := range []Scale{100, 200, 300} {
		s, v := drawStagePlan(p, StageView{}, image.Pt(8*int(scale), 6*int(scale)), scale)
		left := v.Point(timeline.Point{X: -6, Y: 0.5})
		rings := 0
		for i := range s.Shapes {
			sh := &s.Shapes[i]
			if sh.Kind != KindPoly || len(s.Points(sh)) < 12 {
				continue
			}
			if away := math.Hypot(float64(s.Points(sh)[0].X-left.X), float64(s.Points(sh)[0].Y-left.Y)); math.Abs(away-v.PerMetre) < 0.1 {
				rings++
			}
		}
		require.Equal(t, 1, rings, "the flame's fallout of 1 m at %d", scale)
	}
}

func TestStageViewPlacesAndPointsAreInverse(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		v := StageView{Area: image.Rect(5, 7, 5+rapid.IntRange(1, 4000).Draw(rt, "w"), 7+rapid.IntRange(1, 4000).Draw(rt, "h")),
			Middle: timeline.Point{X: float64(rapid.IntRange(-50, 50).Draw(rt, "x")), Y: float64(rapid.IntRange(-50, 50).Draw(rt, "y"))}, PerMetre: float64(rapid.IntRange(2, 400).Draw(rt, "scale"))}
		p := image.Pt(rapid.IntRange(0, 4000).Draw(rt, "px"), rapid.IntRange(0, 4000).Draw(rt, "py"))
		back := v.Point(v.Place(p))
		require.InDelta(rt, p.X, back.X, 0.01)
		require.InDelta(rt, p.Y, back.Y, 0.01)
	})
}

// What is drawn as a conflict is what the rules call one.
func TestStagePlanDrawsTheConflictsOfTheRules(t *testing.T) {
	p := stagePlanOf(t)
	want := map[[2]timeline.Point]bool{}
	for _, c := range rule.Spacings(p) {
		if c.Conflict() {
			want[[2]timeline.Point{c.From, c.To}] = true
		}
	}
	require.NotEmpty(t, want)
	s, _ := drawStagePlan(p, StageView{}, image.Pt(1100, 800), Unit)
	require.Equal(t, len(want), strings.Count(s.Dump(), `12b "E"`))
}

// Names stand on the plan, and none on another, on paper and on screen, unless the plan is too small for them.
func TestStagePlanCaptionsKeepApart(t *testing.T) {
	p := stagePlanOf(t)
	s, v := drawStagePlan(p, StageView{}, image.Pt(1100, 800), Unit)
	var boxes []image.Rectangle
	for i := range s.Shapes {
		if sh := &s.Shapes[i]; sh.Kind == KindText {
			require.True(t, sh.Box.In(v.Area), "%s", s.Label(sh))
			for _, b := range boxes {
				require.False(t, b.Overlaps(sh.Box), "%s", s.Label(sh))
			}
			boxes = append(boxes, sh.Box)
		}
	}
}

// A show without venue, positions or rig still has a plan: the grid.
func TestStagePlanOfNothing(t *testing.T) {
	s, v := drawStagePlan(timeline.Compile(timeline.NewShow("x", "Nothing", timeline.Rate25), nil), StageView{}, image.Pt(400, 300), Unit)
	require.Greater(t, v.PerMetre, 0.0)
	require.Contains(t, s.Dump(), `"front edge of the stage"`)
}

// What does not stand upright is drawn to the end of its axis, and says where it
// points.
func TestStagePlanShowsWhereEffectsPoint(t *testing.T) {
	p := stagePlanOf(t)
	upright, _ := drawStagePlan(p, StageView{}, image.Pt(1100, 800), Unit)
	require.NotContains(t, upright.Dump(), "leans")
	s, err := p.Show.Edit(func(d *timeline.Draft) error {
		return errors.Join(d.Set(timeline.Ref{Kind: "placed", ID: "flame-l"}, "tilt", timeline.Value{Text: "-80"}), d.Set(timeline.Ref{Kind: "article", ID: "flame"}, "height", timeline.Value{Text: "6"}))
	})
	require.NoError(t, err)
	turned := timeline.Compile(s, s.Night("n"))
	list := rule.PlayedOn(turned).TurnedOn(turned)
	require.Len(t, list, 1)
	require.InDelta(t, list[0].From.Y-6*(1+turned.Venue.Tolerance)*math.Sin(80*math.Pi/180), list[0].To.Y, 1e-6)
	drawn, _ := drawStagePlan(turned, StageView{}, image.Pt(1100, 800), Unit)
	require.Contains(t, drawn.Dump(), "pan 0°, tilt −80°: leans 80° to the audience")
}
