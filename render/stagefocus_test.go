package render

import (
	"image"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
	_ "emberbeat/timeline/testtool" // the seed of random walks
)

// With a focus only circles of what is chosen and of what is too near are drawn, and one line around all that falls; without, all of them.
func TestStagePlanInFocus(t *testing.T) {
	p := stagePlanOf(t)
	bare := *p
	bare.Venue = nil // nothing to be too near to
	shapes := func(p *timeline.Plan, v StageView) (*Scene, int) {
		s, _ := drawStagePlan(p, v, image.Pt(1100, 800), Unit)
		n := 0
		for i := range s.Shapes {
			if s.Shapes[i].Kind == KindPoly && s.Shapes[i].Cover == 30 { // the disc of what falls
				n++
			}
		}
		return s, n
	}
	all, discs := shapes(p, StageView{})
	require.NotContains(t, all.Dump(), "edge of all that falls")
	focus, few := shapes(p, StageView{Focus: true})
	require.NotZero(t, few, "some are too near")
	_, none := shapes(&bare, StageView{Focus: true})
	require.Zero(t, none)
	require.NotZero(t, discs)
	require.Contains(t, focus.Dump(), "edge of all that falls")
	chosen := map[Chosen]bool{}
	for _, q := range p.Show.Rig.Positions {
		chosen[Chosen{HitPosition, string(q.ID)}] = true
	}
	_, same := shapes(&bare, StageView{Focus: true, Chosen: chosen})
	_, every := shapes(&bare, StageView{})
	require.Equal(t, every, same, "all are chosen")
	require.Equal(t, strings.Count(all.Dump(), `12b "E"`), strings.Count(focus.Dump(), `12b "E"`), "what is too near is told either way")
}

// A hull holds every point, and each of its corners is one of them.
func TestHull(t *testing.T) {
	require.Empty(t, hullOf(nil))
	rapid.Check(t, func(rt *rapid.T) {
		points := rapid.SliceOfN(rapid.Custom(func(rt *rapid.T) timeline.Point {
			return timeline.Point{X: float64(rapid.IntRange(-9, 9).Draw(rt, "x")), Y: float64(rapid.IntRange(-9, 9).Draw(rt, "y"))}
		}), 1, 30).Draw(rt, "points")
		hull := hullOf(points)
		for i, a := range hull {
			require.Contains(rt, points, a)
			b := hull[(i+1)%len(hull)]
			for _, p := range points {
				require.GreaterOrEqual(rt, turnOf(a, b, p), 0.0, "%v lies outside %v", p, hull)
			}
		}
	})
}

// However small the stage is drawn, no text lies on another, and none on the letter of a sign.
func TestStagePlanAtAnyScaleKeepsTextsApart(t *testing.T) {
	p := stagePlanOf(t)
	for _, metre := range []float64{4, 8, 15, 30, 60, 120} {
		for _, scale := range []Scale{100, 175, 250} {
			s := NewScene(NewFaces())
			s.Reset(image.Pt(1100, 800), scale)
			v := StageView{Plan: p, Area: image.Rect(10, 10, 1090, 790)}
			v.Fit()
			v.PerMetre = metre
			s.StagePlan(&Day, &v)
			var boxes []image.Rectangle
			for i := range s.Shapes {
				sh := &s.Shapes[i]
				if sh.Kind != KindText {
					continue
				}
				d := sh.Box.Dy() / 5
				box := image.Rect(sh.Box.Min.X+1, sh.Box.Min.Y+d, sh.Box.Max.X-1, sh.Box.Max.Y-d)
				for _, b := range boxes {
					require.False(t, b.Overlaps(box), "%s at %v px a metre, scale %d", s.Label(sh), metre, scale)
				}
				boxes = append(boxes, box)
			}
		}
	}
}
