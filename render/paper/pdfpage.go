package paper

import (
	"image"
	"strconv"

	"github.com/go-pdf/fpdf"

	"emberbeat/render"
	"emberbeat/render/letter"
)

// pdfPage draws scenes on the current page of a file.
type pdfPage struct {
	*fpdf.Fpdf
	theme *render.Theme
	has   map[*letter.Font]bool // fonts that the file carries

	scene   *render.Scene
	dot     float64 // points in a device pixel of the scene
	clipped bool

	// What the page's graphics state is set to. A clip's end takes it back.
	painted, lettered bool
	ink               render.Ink
	cover             uint8
	lettering         render.Type
	set               *letter.Font
}

func (p *pdfPage) draw(s *render.Scene) {
	p.scene, p.dot = s, 72.0/96*100/float64(s.Scale)
	for i := range s.Shapes {
		p.shape(&s.Shapes[i])
	}
	p.unclip()
}

func (p *pdfPage) shape(sh *render.Shape) {
	switch sh.Kind {
	case render.KindClip:
		p.unclip()
		x, y, w, h := p.box(sh.Box)
		p.ClipRect(x, y, w, h, false)
		p.clipped = true
	case render.KindRect:
		p.paint(sh)
		x, y, w, h := p.box(sh.Box)
		p.Rect(x, y, w, h, "F")
	case render.KindPoly:
		p.paint(sh)
		p.path(p.scene.Points(sh))
		p.ClosePath()
		p.DrawPath("F")
	case render.KindLine:
		p.paint(sh)
		p.SetLineWidth(p.dot * float64(sh.Width))
		p.path(p.scene.Points(sh))
		p.DrawPath("D")
	case render.KindText:
		p.paint(sh)
		p.text(sh)
	}
}

func (p *pdfPage) unclip() {
	if p.clipped {
		p.ClipEnd()
	}
	p.clipped, p.painted, p.lettered = false, false, false
}

// paint sets a shape's colour and cover for fills, strokes and letters.
func (p *pdfPage) paint(sh *render.Shape) {
	if p.painted && sh.Ink == p.ink && sh.Cover == p.cover {
		return
	}
	p.painted, p.ink, p.cover = true, sh.Ink, sh.Cover
	c := p.theme.Light(sh.Ink)
	r, g, b := int(c.R), int(c.G), int(c.B)
	p.SetAlpha(float64(sh.Cover)/255, "Normal")
	p.SetFillColor(r, g, b)
	p.SetDrawColor(r, g, b)
	p.SetTextColor(r, g, b)
}

// box gives a rectangle in points.
func (p *pdfPage) box(r image.Rectangle) (x, y, w, h float64) {
	return p.dot * float64(r.Min.X), p.dot * float64(r.Min.Y), p.dot * float64(r.Dx()), p.dot * float64(r.Dy())
}

func (p *pdfPage) path(points []render.Point) {
	step := p.MoveTo
	for _, at := range points {
		step(p.dot*float64(at.X), p.dot*float64(at.Y))
		step = p.LineTo
	}
}

// text sets a line, part by part where its letters stand in several fonts. The
// scene's letters stand on whole pixels, the font's own widths do not: a part is
// scaled by the hair that makes it as wide as the scene's.
func (p *pdfPage) text(sh *render.Shape) {
	face, weight := p.scene.Face(sh.Type), sh.Type.Weight()
	x, y, _, _ := p.box(sh.Box)
	y += p.dot * float64(face.Ascent())
	var part []rune
	var in *letter.Font
	end := func() {
		if len(part) == 0 {
			return
		}
		w := p.dot * float64(face.Measure(string(part)))
		p.part(sh.Type, in, string(part), x, y, w)
		x, part = x+w, part[:0]
	}
	for _, r := range string(p.scene.Label(sh)) {
		f, r := weight.Of(r)
		if f != in {
			end()
			in = f
		}
		part = append(part, r)
	}
	end()
}

// part sets letters of one font w points wide.
func (p *pdfPage) part(t render.Type, in *letter.Font, text string, x, y, w float64) {
	if !p.lettered || p.lettering != t || p.set != in {
		p.lettered, p.lettering, p.set = true, t, in
		p.carry(in)
		p.SetFont(in.Name, "", p.dot*float64(t.Size)*float64(p.scene.Scale)/100)
	}
	if own := p.GetStringWidth(text); own > 0 {
		p.RawWriteStr(strconv.FormatFloat(100*w/own, 'f', 4, 64) + " Tz")
	}
	p.Text(x, y, text)
}
