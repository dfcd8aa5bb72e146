package paper

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font"
	"golang.org/x/image/math/fixed"
	"pgregory.net/rapid"

	"emberbeat/render"
)

func newScene(w, h int) *render.Scene {
	s := render.NewScene(render.NewFaces())
	s.Reset(image.Pt(w, h), render.Unit)
	return s
}

func TestRectanglesAreExact(t *testing.T) {
	s := newScene(20, 10)
	s.Rect(image.Rect(3, 2, 9, 6), render.InkHot)
	s.PushClip(image.Rect(0, 0, 5, 10))
	s.Tint(image.Rect(4, 0, 9, 10), render.InkWhite, 128)
	s.PopClip()
	img := Image(s, &render.Dark)
	for y := range 10 {
		for x := range 20 {
			want := render.Dark.Light(render.InkLane)
			if image.Pt(x, y).In(image.Rect(3, 2, 9, 6)) {
				want = render.Dark.Light(render.InkHot)
			}
			if x == 4 {
				want = render.Over(render.Dark.Light(render.InkWhite), want, 128)
			}
			require.Equal(t, want, img.RGBAAt(x, y), "%d,%d", x, y)
		}
	}
}

// A polygon with straight edges on whole pixels is the rectangle it looks like, wherever the clip cuts it.
func TestPolygonOfARectangleIsTheRectangle(t *testing.T) {
	a, b := newScene(30, 30), newScene(30, 30)
	for _, s := range []*render.Scene{a, b} {
		s.PushClip(image.Rect(5, 5, 25, 25))
	}
	a.Rect(image.Rect(-3, -2, 12, 40), render.InkCold)
	b.Poly(render.InkCold, 255, render.Point{X: -3, Y: -2}, render.Point{X: 12, Y: -2}, render.Point{X: 12, Y: 40}, render.Point{X: -3, Y: 40})
	require.Equal(t, Image(a, &render.Day).Pix, Image(b, &render.Day).Pix)
}

func TestTextIsTheDrawersOwn(t *testing.T) {
	s := newScene(120, 30)
	s.Text(image.Pt(7, 3), render.TypeLabel, render.InkText, "Ember 41.2 é×")
	got := Image(s, &render.Dark)

	want := Image(newScene(120, 30), &render.Dark)
	face := s.Face(render.TypeLabel)
	face.With(func(f font.Face) {
		d := font.Drawer{Dst: want, Src: image.NewUniform(render.Dark.Light(render.InkText)), Face: f, Dot: fixed.P(7, 3+face.Ascent())}
		d.DrawString("Ember 41.2 é×")
		require.Equal(t, 7+face.Measure("Ember 41.2 é×"), d.Dot.X.Round())
	})
	require.Equal(t, want.Pix, got.Pix)
}

func TestClippedTextStaysInside(t *testing.T) {
	s := newScene(120, 30)
	s.PushClip(image.Rect(10, 0, 30, 30))
	s.Text(image.Pt(0, 3), render.TypeLabel, render.InkText, "MMMMMMMMMM")
	img := Image(s, &render.Dark)
	inked := 0
	for y := range 30 {
		for x := range 120 {
			if img.RGBAAt(x, y) != render.Dark.Light(render.InkLane) {
				inked++
				require.True(t, x >= 10 && x < 30, "%d,%d", x, y)
			}
		}
	}
	require.Positive(t, inked)
}

// sampled draws a segment slowly: each pixel is the share of 16×16 points in it that lie within the line's width and between its ends.
func sampled(a, b render.Point, width float64, x, y int) float64 {
	dx, dy := float64(b.X-a.X), float64(b.Y-a.Y)
	flat := math.Abs(dx) >= math.Abs(dy)
	in := 0
	for i := range 256 {
		px, py := float64(x)+(float64(i%16)+0.5)/16, float64(y)+(float64(i/16)+0.5)/16
		off := math.Abs((px-float64(a.X))*dy-(py-float64(a.Y))*dx) / math.Hypot(dx, dy)
		along := (px - float64(a.X)) / dx
		if !flat {
			along = (py - float64(a.Y)) / dy
		}
		if off <= width/2 && along >= 0 && along <= 1 {
			in++
		}
	}
	return float64(in) / 256
}

func TestLinesAgreeWithTheSlowWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := func(name string) float32 { return float32(rapid.IntRange(-40, 340).Draw(t, name)) / 10 }
		a, b := render.Point{X: at("ax"), Y: at("ay")}, render.Point{X: at("bx"), Y: at("by")}
		width := float32(rapid.IntRange(10, 40).Draw(t, "width")) / 10
		if math.Hypot(float64(b.X-a.X), float64(b.Y-a.Y)) < 3 {
			return
		}
		s := newScene(30, 30)
		s.Line(width, render.InkWhite, 255, a, b)
		img := Image(s, &render.Dark)
		lane := float64(render.Dark.Light(render.InkLane).R)
		for y := range 30 {
			for x := range 30 {
				got := (float64(img.RGBAAt(x, y).R) - lane) / (255 - lane)
				if want := sampled(a, b, float64(width), x, y); math.Abs(got-want) > 0.27 {
					t.Fatalf("pixel %d,%d of %v to %v: %.2f, slowly %.2f", x, y, a, b, got, want)
				}
			}
		}
	})
}

func TestPictureIsTheSameEachTime(t *testing.T) {
	draw := func() []byte {
		s := newScene(200, 80)
		s.Glyph(&render.Day, image.Pt(10, 10), 40, render.Look{Glyph: render.GlyphPin, Ink: render.InkShot})
		s.Text(image.Pt(60, 10), render.TypeCounter, render.InkText, "03:01:22:10")
		s.Line(1.5, render.InkFocus, 200, render.Point{X: 0, Y: 0}, render.Point{X: 200, Y: 77})
		var b bytes.Buffer
		require.NoError(t, WritePNG(&b, s, &render.Day))
		return b.Bytes()
	}
	first := draw()
	require.Equal(t, first, draw())
	img, err := png.Decode(bytes.NewReader(first))
	require.NoError(t, err)
	require.Equal(t, image.Rect(0, 0, 200, 80), img.Bounds())
	require.Equal(t, color.RGBA{255, 255, 255, 255}, color.RGBAModel.Convert(img.At(199, 0)))
}

func TestWritePNGRefusesSizesThatAreNoPicture(t *testing.T) {
	for _, size := range []image.Point{{0, 10}, {10, 0}, {MaxSide + 1, 10}} {
		s := newScene(size.X, size.Y)
		require.ErrorContains(t, WritePNG(&bytes.Buffer{}, s, &render.Dark), "1 to 32767")
	}
}
