package desk

import (
	"image"
	"testing"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/stretchr/testify/require"

	"emberbeat/render"
	"emberbeat/render/desk/app"
)

// inMotion draws what moves at a step: a line with a head that runs along, words that change, a body that grows, something cut by a clip.
func inMotion(s *render.Scene, step int) {
	size := image.Pt(420, 300)
	s.Reset(size, render.Unit)
	x := (step * 13) % 400
	s.Rect(image.Rect(x, 20, x+1, 280), render.InkPlayhead)
	s.Poly(render.InkPlayhead, 255, render.Point{X: float32(x) - 7, Y: 20}, render.Point{X: float32(x) + 7, Y: 20}, render.Point{X: float32(x), Y: 30})
	s.Text(image.Pt(20, 40), render.TypeCounter, render.InkText, labels[step%len(labels)])
	s.PushClip(image.Rect(200, 100, 300, 200))
	s.Line(3, render.InkHot, 200, render.Point{X: 250, Y: 200}, render.Point{X: 190 + float32(step*7%140), Y: 90 + float32(step%11)})
	s.Tint(image.Rect(210, 200-step*5%90, 230, 220), render.InkCold, 120)
	s.PopClip()
}

// moving gives a game that shows a busy page over which something moves.
func moving() *game {
	panels, over := render.NewScene(render.NewFaces()), render.NewScene(render.NewFaces())
	panels.Reset(image.Pt(420, 300), render.Unit)
	for i := range 90 {
		panels.Rect(image.Rect(i*5, i*3, i*5+40, i*3+20), render.Ink(i%20))
		panels.Text(image.Pt(i*4, 290-i*3), render.TypeSmall, render.InkText, labels[i%len(labels)])
	}
	return &game{painter: newPainter(), frame: app.Frame{Panels: panels, Moving: over, Theme: &render.Dark}}
}

// However things move, the picture in which only that is painted anew is the one that is painted whole.
func TestWhatMovesIsPaintedOverWhatStands(t *testing.T) {
	g, whole := moving(), moving()
	screen, page := ebiten.NewImage(420, 300), ebiten.NewImage(420, 300)
	for step := range 40 {
		if step == 25 { // another frame was made, with other panels
			for _, x := range []*game{g, whole} {
				x.frame.Panels.Rect(image.Rect(100, 100, 350, 160), render.InkPanel)
			}
			g.still.end()
		}
		inMotion(g.frame.Moving, step)
		inMotion(whole.frame.Moving, step)
		whole.still.end()
		g.paint(screen)
		whole.paint(page)
		a, b := image.NewRGBA(screen.Bounds()), image.NewRGBA(page.Bounds())
		screen.ReadPixels(a.Pix)
		page.ReadPixels(b.Pix)
		most, at := apart(a, b)
		require.LessOrEqual(t, most, 1, "step %d at %v", step, at) // tints are rounded
		if step > 5 && (step < 25 || step > 28) {
			anew := 0
			for _, r := range g.still.both {
				anew += pixels(r)
			}
			require.Less(t, anew, 420*300*45/100, "step %d paints little anew: %v", step, g.still.both)
		}
	}
}

// Areas are joined where that costs little, never more than so many, and none is lost.
func TestAreasAreCovered(t *testing.T) {
	var list, all []image.Rectangle
	for i := range 200 {
		r := image.Rect(i*97%1900, i*53%1000, i*97%1900+5+i%40, i*53%1000+3+i%30)
		all, list = append(all, r), cover(list, r)
		require.LessOrEqual(t, len(list), mostAreas)
		for _, r := range all {
			in := false
			for _, c := range list {
				in = in || r.In(c)
			}
			require.True(t, in, "%v of %d is not covered by %v", r, i, list)
		}
	}
	require.Equal(t, []image.Rectangle{image.Rect(0, 0, 10, 200)}, cover(cover(nil, image.Rect(0, 0, 10, 100)), image.Rect(0, 100, 10, 200)))
	require.Len(t, cover(cover(nil, image.Rect(0, 0, 10, 10)), image.Rect(1000, 900, 1010, 910)), 2, "far apart")
}

// paintMoving is the work of a frame in which only the playhead and the counters moved.
func BenchmarkPaintMoving(b *testing.B) {
	for _, way := range []string{"whole", "over what stands"} {
		b.Run(way, func(b *testing.B) {
			g := moving()
			busyScene(g.frame.Panels)
			screen := ebiten.NewImage(1920, 1080)
			b.ReportAllocs()
			for i := 0; b.Loop(); i++ {
				g.frame.Moving.Reset(image.Pt(1920, 1080), render.Unit)
				x := i % 1900
				g.frame.Moving.Rect(image.Rect(x, 100, x+1, 1000), render.InkPlayhead)
				g.frame.Moving.Text(image.Pt(20, 40), render.TypeCounter, render.InkText, labels[i%len(labels)])
				if way == "whole" {
					g.still.end()
				}
				g.paint(screen)
			}
		})
	}
}
