package front

import (
	"image"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render"
	"emberbeat/timeline"
)

// ofInk gives the polygons of an ink, as boxes.
func ofInk(s *render.Scene, kind render.Kind, k render.Ink) (list []image.Rectangle) {
	for i := range s.Shapes {
		if sh := &s.Shapes[i]; sh.Kind == kind && sh.Ink == k {
			list = append(list, sh.Box)
		}
	}
	return list
}

// From above everything is to one scale: what stands 10 m apart from left to right and 3 m apart upstage is drawn so, and what leans by 80° towards the
// audience covers the plan as far as it reaches.
func TestAboveIsToScale(t *testing.T) {
	size := image.Pt(900, 700)
	st := New(show(t, 8, append(append(cues("jet-l", 4*sec), cues("flame-r", 4*sec)...), cues("spark-l", 4*sec)...)...))
	var d Drawer
	s := render.NewScene(render.NewFaces())
	s.Reset(size, 100)
	d.Draw(s, &render.Dark, &View{Stage: st, Area: image.Rectangle{Max: size}, At: 4300 * ms, Above: true})
	left, right, up := d.at(-5, 1), d.at(5, 1), d.at(-5, 4)
	require.InDelta(t, 10*d.ppm, right.X-left.X, 0.01)
	require.InDelta(t, 3*d.ppm, left.Y-up.Y, 0.01)
	for _, p := range []render.Point{left, right, d.at(0, -4)} {
		require.True(t, image.Pt(int(p.X), int(p.Y)).In(image.Rectangle{Max: size}), "%v is in the picture", p)
	}
	flames := ofInk(s, render.KindPoly, render.InkHot)
	require.Len(t, flames, 1)
	long := 5 * math.Sin(80*math.Pi/180)
	require.InDelta(t, float64(right.Y)+long*d.ppm, float64(flames[0].Max.Y), 3, "it reaches down to where it would fall")
	require.Less(t, flames[0].Min.Y, int(right.Y)+1)
	jets := ofInk(s, render.KindPoly, render.InkCold)
	require.Len(t, jets, 1)
	require.Less(t, jets[0].Dy(), int(4*d.ppm), "what stands nearly upright covers little")
}

// A zone in force is drawn where it is, and a mark in it is told by a badge; before and after it nothing is.
func TestZonesFromAbove(t *testing.T) {
	st := New(show(t, 8, cues("flame-r", 4*sec)...))
	at := func(at timeline.Time, hide bool) (*render.Scene, string) {
		s := picture(st, image.Pt(900, 700), 100, func(v *View) { v.At, v.Above, v.Hide.Zones = at, true, hide })
		return s, strings.Join(words(s), "|")
	}
	s, text := at(4200*ms, false)
	require.Contains(t, text, "zone closed ")
	require.Contains(t, text, "bass")
	require.Contains(t, text, "|E|", "the badge at the bass")
	require.Contains(t, text, "front barrier")
	require.NotContains(t, text, "not in this view")
	hatched := len(ofInk(s, render.KindLine, render.InkBar))
	s, text = at(4200*ms, true)
	require.NotContains(t, text, "zone")
	require.Less(t, len(ofInk(s, render.KindLine, render.InkBar)), hatched)
	_, text = at(sec, false)
	require.NotContains(t, text, "zone")
	require.NotContains(t, text, "|E|")
}

// An audience far before the stage is said to be out of view, and leaves the stage as large as it is.
func TestFarAudienceFromAbove(t *testing.T) {
	plan, song := show(t, 8, cues("jet-l", 4*sec)...)
	near := New(plan, song)
	far := *plan.Venue
	far.Audience = []timeline.PlanLine{{Name: "ring", From: timeline.Point{X: -10, Y: -40}, To: timeline.Point{X: 10, Y: -40}}}
	plan.Venue = &far
	st := New(plan, song)
	require.Less(t, st.far-st.near, near.far-near.near)
	require.Contains(t, strings.Join(words(picture(st, image.Pt(900, 700), 100, func(v *View) { v.Above = true })), "|"), "ring 40 m in front, not in this view")
}
