package desk

import (
	"image"
	"testing"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/stretchr/testify/require"

	"emberbeat/render"
	"emberbeat/render/paper"
)

// painted draws a scene on the GPU and on paper.
func painted(s *render.Scene, th *render.Theme) (screen, page *image.RGBA) {
	dst := ebiten.NewImage(s.Size.X, s.Size.Y)
	newPainter().paint(dst, s, th, false)
	screen = image.NewRGBA(s.Bounds())
	dst.ReadPixels(screen.Pix)
	return screen, paper.Image(s, th)
}

// apart gives the largest difference of any channel of two pictures, and where.
func apart(a, b *image.RGBA) (most int, at image.Point) {
	for i := range a.Pix {
		if d := max(int(a.Pix[i])-int(b.Pix[i]), int(b.Pix[i])-int(a.Pix[i])); d > most {
			most, at = d, image.Pt(i/4%a.Rect.Dx(), i/4/a.Rect.Dx())
		}
	}
	return most, at
}

func newScene(w, h int, scale render.Scale) *render.Scene {
	s := render.NewScene(render.NewFaces())
	s.Reset(image.Pt(w, h), scale)
	return s
}

func TestRectanglesEqualPaper(t *testing.T) {
	for _, th := range render.Themes() {
		s := newScene(300, 200, render.Unit)
		for i := range 21 {
			s.Rect(image.Rect(i*13, i*7, i*13+40, i*7+30), render.Ink(i))
		}
		s.PushClip(image.Rect(50, 50, 120, 90))
		s.Rect(s.Bounds(), render.InkFocus)
		s.PopClip()
		s.Frame(image.Rect(5, 5, 290, 190), 3, render.InkEdge)
		screen, page := painted(s, &th)
		most, where := apart(screen, page)
		require.Zero(t, most, "%s at %v", th.Name, where)
	}
}

func TestTintsAreWithinOneStepOfPaper(t *testing.T) {
	s := newScene(256, 64, render.Unit)
	for i := range 256 {
		s.Tint(image.Rect(i, 0, i+1, 64), render.InkSpark, uint8(i))
	}
	screen, page := painted(s, &render.Dark)
	most, where := apart(screen, page)
	require.LessOrEqual(t, most, 1, "at %v", where)
}

func TestTextIsWithinFourStepsOfPaper(t *testing.T) {
	for _, scale := range []render.Scale{100, 150, 200} {
		for _, th := range render.Themes() {
			s := newScene(900, 300, scale)
			s.Text(image.Pt(10, 10), render.TypeCounter, render.InkText, "00:12:34:10")
			s.Text(image.Pt(10, 90), render.TypeLabel, render.InkSecondary, "Übergang – 17.3+½ „Glut“ Ωμ")
			s.PushClip(image.Rect(30, 150, 95, 170))
			s.Text(image.Pt(10, 145), render.TypeTitle, render.InkFocus, "clipped on every side")
			s.PopClip()
			screen, page := painted(s, &th)
			most, where := apart(screen, page)
			require.LessOrEqual(t, most, 4, "%s at %d%%, %v", th.Name, scale, where)
		}
	}
}

// Slanted edges are smoothed in two ways, so they differ where an edge runs: what counts is that hardly any pixel differs much.
func TestGlyphsAndLinesLookLikePaper(t *testing.T) {
	s := newScene(420, 160, render.Unit)
	for g := range 8 {
		s.Glyph(&render.Dark, image.Pt(10+g*50, 10), 26, render.Look{Glyph: render.Glyph(g), Ink: render.InkHot})
		s.Glyph(&render.Dark, image.Pt(10+g*50, 60), 40, render.Look{Glyph: render.Glyph(g), Ink: render.InkCold, Hollow: true})
	}
	s.Line(1, render.InkText, 255, render.Point{X: 5, Y: 150}, render.Point{X: 400, Y: 110})
	s.Line(2, render.InkText, 255, render.Point{X: 5.5, Y: 5}, render.Point{X: 5.5, Y: 155})
	screen, page := painted(s, &render.Dark)
	sum, off := 0, 0
	for i := range screen.Pix {
		d := max(int(screen.Pix[i])-int(page.Pix[i]), int(page.Pix[i])-int(screen.Pix[i]))
		if sum += d; d > 80 {
			off++
		}
	}
	require.Less(t, float64(sum)/float64(len(screen.Pix)), 0.6, "mean difference")
	require.Less(t, off, len(screen.Pix)/1000, "channels that differ by more than 80")
}

func TestClippedPolygonStaysInside(t *testing.T) {
	s := newScene(60, 60, render.Unit)
	s.PushClip(image.Rect(20, 20, 40, 40))
	s.Poly(render.InkText, 255, render.Point{X: 0, Y: 0}, render.Point{X: 60, Y: 5}, render.Point{X: 30, Y: 60})
	s.Line(4, render.InkFocus, 255, render.Point{X: 0, Y: 0}, render.Point{X: 60, Y: 60})
	s.PopClip()
	screen, _ := painted(s, &render.Dark)
	ground := render.Dark.Light(render.InkLane)
	for y := range 60 {
		for x := range 60 {
			if !image.Pt(x, y).In(image.Rect(20, 20, 40, 40)) {
				require.Equal(t, ground, screen.RGBAAt(x, y), "%d,%d", x, y)
			}
		}
	}
	require.NotEqual(t, ground, screen.RGBAAt(30, 30))
}

// A scene of more vertices than 16 bits can count is drawn whole.
func TestBatchOfManyRectangles(t *testing.T) {
	s := newScene(300, 300, render.Unit)
	for i := range 300 * 150 {
		s.Rect(image.Rect(i%300, i/300*2, i%300+1, i/300*2+1), render.Ink(i%5))
	}
	dst := ebiten.NewImage(300, 300)
	p := newPainter()
	p.paint(dst, s, &render.Day, false)
	require.Greater(t, p.calls, 1)
	screen := image.NewRGBA(s.Bounds())
	dst.ReadPixels(screen.Pix)
	most, where := apart(screen, paper.Image(s, &render.Day))
	require.Zero(t, most, "at %v", where)
}

// An atlas that runs full begins anew without spoiling what was drawn before.
func TestAtlasRunsFull(t *testing.T) {
	s := newScene(2000, 1200, 500)
	for i, size := range []uint8{28, 27, 26, 25, 24, 23} {
		s.Text(image.Pt(0, i*180), render.Type{Size: size}, render.InkText, "ABCDEFGHIJKLMNOPQRS")
		s.Text(image.Pt(0, i*180), render.Type{Size: size, Bold: true}, render.InkText, "TUVWXYZabcdefghijklmnopqrstuvwxyz")
	}
	dst := ebiten.NewImage(2000, 1200)
	p := newPainter()
	before := p.atlas.fresh
	p.paint(dst, s, &render.Dark, false)
	screen := image.NewRGBA(s.Bounds())
	dst.ReadPixels(screen.Pix)
	most, where := apart(screen, paper.Image(s, &render.Dark))
	require.LessOrEqual(t, most, 4, "at %v", where)
	if p.atlas.fresh == before {
		t.Skip("all letters fitted")
	}
}

// busyScene is what a full screen holds: 2,000 cues with labels, 1,000 beat lines, 40 lanes, 1,920 columns of sound.
func busyScene(s *render.Scene) {
	s.Reset(image.Pt(1920, 1080), render.Unit)
	for lane := range 40 {
		s.Rect(image.Rect(0, 100+lane*24, 1920, 123+lane*24), render.InkLane)
	}
	for i := range 1000 {
		s.Rect(image.Rect(i*2, 100, i*2+1, 1060), render.InkBeat)
	}
	for x := range 1920 {
		h := (x * 7919) % 40
		s.Rect(image.Rect(x, 50-h, x+1, 50+h), render.InkWave)
		s.Rect(image.Rect(x, 50-h/2, x+1, 50+h/2), render.InkCore)
	}
	for i := range 2000 {
		p := image.Pt((i%50)*38, 102+(i/50)*24)
		s.Glyph(&render.Dark, p, 18, render.Look{Glyph: render.Glyph(i % 8), Ink: render.InkHot + render.Ink(i%6)})
		s.Text(p.Add(image.Pt(16, 2)), render.TypeSmall, render.InkText, labels[i%len(labels)])
	}
}

var labels = []string{"CO2 jet", "flame L", "comet 17", "mine", "spark R"}

func BenchmarkPaintBusyScreen(b *testing.B) {
	s := render.NewScene(render.NewFaces())
	busyScene(s)
	p := newPainter()
	b.ReportAllocs()
	for b.Loop() {
		p.gather(s, &render.Dark, false)
		p.flush()
	}
	b.ReportMetric(float64(len(s.Shapes)), "shapes")
}
