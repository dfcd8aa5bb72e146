package paper

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"io"

	"golang.org/x/image/font"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"

	"emberbeat/render"
)

// MaxSide is the longest side of a picture in pixels.
const MaxSide = 32767

// Image draws a scene in a theme's colours on the theme's lane ink.
func Image(s *render.Scene, th *render.Theme) *image.RGBA {
	dst := image.NewRGBA(s.Bounds())
	Paint(dst, s, th)
	return dst
}

// Paint draws a scene over all of dst, whose bounds start at 0,0.
func Paint(dst *image.RGBA, s *render.Scene, th *render.Theme) {
	p := painter{dst: dst, scene: s, theme: th, clip: dst.Bounds()}
	draw.Draw(dst, dst.Bounds(), image.NewUniform(th.Light(render.InkLane)), image.Point{}, draw.Src)
	for i := range s.Shapes {
		p.shape(&s.Shapes[i])
	}
}

// WritePNG writes the picture of a scene. It refuses one that is empty or longer than MaxSide.
func WritePNG(w io.Writer, s *render.Scene, th *render.Theme) error {
	if err := checkSides(s); err != nil {
		return err
	}
	return png.Encode(w, Image(s, th))
}

func checkSides(s *render.Scene) error {
	if s.Size.X <= 0 || s.Size.Y <= 0 || s.Size.X > MaxSide || s.Size.Y > MaxSide {
		return fmt.Errorf("picture of %d×%d pixels: sides must be from 1 to %d", s.Size.X, s.Size.Y, MaxSide)
	}
	return nil
}

// painter draws one scene. Its clip is in force until the next clip shape.
type painter struct {
	dst    *image.RGBA
	scene  *render.Scene
	theme  *render.Theme
	clip   image.Rectangle
	raster vector.Rasterizer
}

func (p *painter) shape(sh *render.Shape) {
	switch sh.Kind {
	case render.KindClip:
		p.clip = sh.Box.Intersect(p.dst.Bounds())
	case render.KindRect:
		p.rect(sh.Box.Intersect(p.clip), p.theme.Light(sh.Ink), sh.Cover)
	case render.KindPoly:
		p.poly(sh)
	case render.KindLine:
		p.line(sh)
	case render.KindText:
		p.text(sh)
	}
}

// rect lays c over r, which lies inside the picture.
func (p *painter) rect(r image.Rectangle, c color.RGBA, cover uint8) {
	if r.Empty() {
		return
	}
	first := p.row(r.Min.X, r.Max.X, r.Min.Y)
	if cover < 255 {
		for y := r.Min.Y; y < r.Max.Y; y++ {
			for row := p.row(r.Min.X, r.Max.X, y); len(row) > 0; row = row[4:] {
				lay(row, c, cover)
			}
		}
		return
	}
	for i := 0; i < len(first); i += 4 {
		first[i], first[i+1], first[i+2], first[i+3] = c.R, c.G, c.B, 255
	}
	for y := r.Min.Y + 1; y < r.Max.Y; y++ {
		copy(p.row(r.Min.X, r.Max.X, y), first)
	}
}

// row gives the bytes of the pixels from x0 to before x1 in line y.
func (p *painter) row(x0, x1, y int) []uint8 {
	return p.dst.Pix[p.dst.PixOffset(x0, y):p.dst.PixOffset(x1, y)]
}

// lay mixes c into the pixel at the head of pix, which is opaque.
func lay(pix []uint8, c color.RGBA, cover uint8) {
	m := render.Over(c, color.RGBA{R: pix[0], G: pix[1], B: pix[2]}, cover)
	pix[0], pix[1], pix[2] = m.R, m.G, m.B
}

func (p *painter) poly(sh *render.Shape) {
	area := sh.Box.Intersect(p.clip)
	if area.Empty() {
		return
	}
	p.raster.Reset(area.Dx(), area.Dy())
	left, top := float32(area.Min.X), float32(area.Min.Y)
	for i, c := range p.scene.Points(sh) {
		if i == 0 {
			p.raster.MoveTo(c.X-left, c.Y-top)
		} else {
			p.raster.LineTo(c.X-left, c.Y-top)
		}
	}
	p.raster.ClosePath()
	light := p.theme.Light(sh.Ink)
	p.raster.Draw(p.dst, area, image.NewUniform(color.NRGBA{R: light.R, G: light.G, B: light.B, A: sh.Cover}), image.Point{})
}

func (p *painter) text(sh *render.Shape) {
	area := p.clip
	if !sh.Box.Overlaps(area) {
		return
	}
	face := p.scene.Face(sh.Type)
	face.With(func(f font.Face) {
		d := font.Drawer{
			Dst:  p.dst.SubImage(area).(*image.RGBA),
			Src:  image.NewUniform(p.theme.Light(sh.Ink)),
			Face: f,
			Dot:  fixed.P(sh.Box.Min.X, sh.Box.Min.Y+face.Ascent()),
		}
		d.DrawBytes(p.scene.Label(sh))
	})
}
