package paper

import (
	"bytes"
	"fmt"
	"image"
	"image/color"

	"emberbeat/render"
)

// pdfPage writes the operators of one page.
type pdfPage struct {
	*pdf
	scene *render.Scene
	b     bytes.Buffer
	ink   color.RGBA
	cover uint8
	set   bool // ink and cover are those of the graphics state
}

// content draws a scene. One unit is a device pixel of the scene, counted from
// its top left, as in the scene.
func (d *pdf) content(s *render.Scene, size Size) []byte {
	p := &pdfPage{pdf: d, scene: s}
	_, h := size.points()
	k := 72.0 / 96 * 100 / float64(s.Scale)
	fmt.Fprintf(&p.b, "%s 0 0 %s 0 %s cm\nq\n", number(k), number(-k), number(h))
	for i := range s.Shapes {
		p.shape(&s.Shapes[i])
	}
	p.b.WriteString("Q\n")
	return p.b.Bytes()
}

func (p *pdfPage) shape(sh *render.Shape) {
	switch sh.Kind {
	case render.KindClip:
		p.b.WriteString("Q q ")
		p.box(sh.Box)
		p.b.WriteString("W n\n")
		p.set = false
	case render.KindRect:
		p.paint(sh)
		p.box(sh.Box)
		p.b.WriteString("f\n")
	case render.KindPoly:
		p.paint(sh)
		p.path(p.scene.Points(sh))
		p.b.WriteString("h f\n")
	case render.KindLine:
		p.paint(sh)
		p.b.WriteString(number(float64(sh.Width)) + " w ")
		p.path(p.scene.Points(sh))
		p.b.WriteString("S\n")
	case render.KindText:
		p.paint(sh)
		p.text(sh)
	}
}

// paint sets a shape's colour and cover for fills and strokes.
func (p *pdfPage) paint(sh *render.Shape) {
	ink := p.theme.Light(sh.Ink)
	if p.set && ink == p.ink && sh.Cover == p.cover {
		return
	}
	p.ink, p.cover, p.set = ink, sh.Cover, true
	p.covers[sh.Cover] = true
	part := func(c uint8) string { return number(float64(c) / 255) }
	r, g, b := part(ink.R), part(ink.G), part(ink.B)
	fmt.Fprintf(&p.b, "/G%d gs %s %s %s rg %s %s %s RG\n", sh.Cover, r, g, b, r, g, b)
}

func (p *pdfPage) box(r image.Rectangle) {
	fmt.Fprintf(&p.b, "%d %d %d %d re ", r.Min.X, r.Min.Y, r.Dx(), r.Dy())
}

func (p *pdfPage) path(points []render.Point) {
	op := "m"
	for _, at := range points {
		fmt.Fprintf(&p.b, "%s %s %s ", number(float64(at.X)), number(float64(at.Y)), op)
		op = "l"
	}
}

// text sets a line. The scene's letters stand on whole pixels, the font's own
// widths do not: the line is scaled by the hair that makes it as wide as the
// scene's.
func (p *pdfPage) text(sh *render.Shape) {
	label := string(p.scene.Label(sh))
	face := p.scene.Face(sh.Type)
	index := 0
	if sh.Type.Bold {
		index = 1
	}
	size := float64(sh.Type.Size) * float64(p.scene.Scale) / 100
	glyphs, width := p.fonts[index].glyphs(label)
	stretch := 100.0
	if width > 0 {
		stretch = 100 * float64(sh.Box.Dx()) / (width * size / 1000)
	}
	fmt.Fprintf(&p.b, "BT /F%d %s Tf %s Tz 1 0 0 -1 %d %d Tm <%s> Tj ET\n",
		index, number(size), number(stretch), sh.Box.Min.X, sh.Box.Min.Y+face.Ascent(), glyphs)
}
