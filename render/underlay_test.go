package render

import (
	"image"
	"image/color"
	"image/draw"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

// plan is a white picture with a black block and a thin line.
func planImage() *image.Gray {
	m := image.NewGray(image.Rect(0, 0, 200, 100))
	draw.Draw(m, m.Bounds(), image.White, image.Point{}, draw.Src)
	draw.Draw(m, image.Rect(20, 10, 60, 30), image.Black, image.Point{}, draw.Src)
	draw.Draw(m, image.Rect(0, 50, 200, 51), image.Black, image.Point{}, draw.Src)
	return m
}

// What is dark becomes few pieces where it is, white becomes none, and what is clear
// through is white.
func TestPiecesOfAPicture(t *testing.T) {
	u := NewUnderlay(planImage(), timeline.PlanPicture{})
	require.Equal(t, []piece{{20, 10, 40, 20, 80}, {0, 50, 200, 1, 80}}, u.pieces)
	require.Empty(t, NewUnderlay(image.NewNRGBA(image.Rect(0, 0, 50, 50)), timeline.PlanPicture{}).pieces)
	noise := image.NewGray(image.Rect(0, 0, 900, 700))
	for i := range noise.Pix {
		noise.Pix[i] = uint8(i * i * 31 >> 3)
	}
	require.LessOrEqual(t, len(NewUnderlay(noise, timeline.PlanPicture{}).pieces), underPieces)
	checks := image.NewGray(image.Rect(0, 0, 300, 300))
	for y := range 300 {
		for x := range 300 {
			checks.SetGray(x, y, color.Gray{Y: uint8(255 * ((x/7 + y/7) % 2))})
		}
	}
	pieces := piecesOf(checks, 7)
	covered := 0
	for _, p := range pieces {
		covered += p.w * p.h
	}
	require.InDelta(t, 300*300/2, covered, 300*8)
}

// The picture lies under everything else, where the venue has it, pale, and says what
// it is; without one nothing changes.
func TestPictureUnderThePlan(t *testing.T) {
	v := StageView{Plan: timeline.Compile(timeline.NewShow("x", "Tour", timeline.Rate25), nil), Area: image.Rect(0, 0, 800, 600), PerMetre: 20}
	scene := func(u *Underlay) *Scene {
		s := NewScene(NewFaces())
		s.Reset(image.Pt(800, 600), 100)
		v.Under = u
		s.StagePlan(&Day, &v)
		return s
	}
	texts := func(s *Scene) string {
		var all []string
		for i := range s.Shapes {
			if s.Shapes[i].Kind == KindText {
				all = append(all, string(s.Label(&s.Shapes[i])))
			}
		}
		return strings.Join(all, "|")
	}
	require.NotContains(t, texts(scene(nil)), timeline.PictureCaution)
	pic := timeline.PlanPicture{File: "plans/a.png", Wide: 200, High: 100, At: timeline.Point{X: -10, Y: 5}, Metre: 0.1}
	s := scene(NewUnderlay(planImage(), pic))
	require.Contains(t, texts(s), timeline.PictureCaution)
	// The block's corner is 2 m right of and 1 m below the picture's: x=-8, y=4 on stage.
	require.Equal(t, Shape{Kind: KindRect, Ink: InkSecondary, Cover: 80, Box: image.Rect(400-160, 300-80, 400-80, 300-40)}, s.Shapes[2])
	pic.Turn = 90
	s = scene(NewUnderlay(planImage(), pic))
	require.Equal(t, KindPoly, s.Shapes[2].Kind)
	require.Equal(t, uint8(80), s.Shapes[2].Cover)
	require.Contains(t, texts(scene(&Underlay{Missing: "it is gone"})), "picture under the plan: it is gone")
}
