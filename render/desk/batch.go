package desk

import (
	"image"
	"unicode/utf8"

	"github.com/hajimehoshi/ebiten/v2"

	"emberbeat/render"
)

// batchLimit is the number of vertices after which a batch is drawn: indices have 16 bits and wrap without a word.
const batchLimit = 65000

// painter turns scenes into triangles. It keeps its memory, so that painting makes no garbage.
type painter struct {
	atlas *atlas
	dst   *ebiten.Image
	scene *render.Scene
	theme *render.Theme
	clip  image.Rectangle

	vertices []ebiten.Vertex
	indices  []uint16
	options  ebiten.DrawTrianglesOptions

	inner, outer []render.Point // of the polygon being drawn
	ring         []int16        // corners of it not yet cut off
	form         []ebiten.Vertex
	faces        []int16 // corners of the form's triangles
	cut          [2][]ebiten.Vertex
	calls        int // of the engine, in the last paint
}

func newPainter() *painter {
	p := &painter{atlas: newAtlas()}
	p.options.ColorScaleMode = ebiten.ColorScaleModePremultipliedAlpha
	return p
}

// paint draws a scene on dst, which has its size, on the ground every scene stands on, or over what is there.
func (p *painter) paint(dst *ebiten.Image, s *render.Scene, th *render.Theme, over bool) {
	p.dst = dst
	p.gather(s, th, over)
	p.flush()
}

// gather turns a scene into triangles.
func (p *painter) gather(s *render.Scene, th *render.Theme, over bool) {
	p.scene, p.theme, p.calls = s, th, 0
	p.clip = s.Bounds()
	if !over {
		p.rect(p.clip, render.InkLane, 255)
	}
	for i := range s.Shapes {
		p.shape(&s.Shapes[i])
	}
}

func (p *painter) shape(sh *render.Shape) {
	switch sh.Kind {
	case render.KindClip:
		p.clip = sh.Box.Intersect(p.scene.Bounds())
	case render.KindRect:
		p.rect(sh.Box.Intersect(p.clip), sh.Ink, sh.Cover)
	case render.KindText:
		p.text(sh)
	case render.KindPoly:
		p.poly(sh)
	case render.KindLine:
		p.line(sh)
	}
}

// flush draws what has been gathered.
func (p *painter) flush() {
	if len(p.indices) > 0 && p.dst != nil {
		p.dst.DrawTriangles(p.vertices, p.indices, p.atlas.page, &p.options)
		p.calls++
	}
	p.vertices, p.indices = p.vertices[:0], p.indices[:0]
}

// need makes room for n more vertices in the batch.
func (p *painter) need(n int) {
	if len(p.vertices)+n > batchLimit {
		p.flush()
	}
}

// colour gives the vertex colour of an ink at a cover: premultiplied, 0 to 1.
func (p *painter) colour(ink render.Ink, cover float32) ebiten.Vertex {
	c := p.theme.Light(ink)
	k := cover / (255 * 255)
	return ebiten.Vertex{SrcX: white, SrcY: white, ColorR: float32(c.R) * k, ColorG: float32(c.G) * k, ColorB: float32(c.B) * k, ColorA: cover / 255}
}

func (p *painter) rect(r image.Rectangle, ink render.Ink, cover uint8) {
	if r.Empty() {
		return
	}
	v := p.colour(ink, float32(cover))
	p.quad(r, v, 0, 0)
}

// quad adds a rectangle whose colour is that of v; du and dv are its size in the atlas, 0 for plain colour.
func (p *painter) quad(r image.Rectangle, v ebiten.Vertex, du, dv float32) {
	p.need(4)
	n := uint16(len(p.vertices))
	x0, y0, x1, y1 := float32(r.Min.X), float32(r.Min.Y), float32(r.Max.X), float32(r.Max.Y)
	a, b, c, d := v, v, v, v
	a.DstX, a.DstY = x0, y0
	b.DstX, b.DstY, b.SrcX = x1, y0, v.SrcX+du
	c.DstX, c.DstY, c.SrcX, c.SrcY = x1, y1, v.SrcX+du, v.SrcY+dv
	d.DstX, d.DstY, d.SrcY = x0, y1, v.SrcY+dv
	p.vertices = append(p.vertices, a, b, c, d)
	p.indices = append(p.indices, n, n+1, n+2, n, n+2, n+3)
}

func (p *painter) text(sh *render.Shape) {
	if !sh.Box.Overlaps(p.clip) {
		return
	}
	face := p.scene.Face(sh.Type)
	letters := p.atlas.of(face)
	v := p.colour(sh.Ink, float32(sh.Cover))
	x, y := sh.Box.Min.X, sh.Box.Min.Y+face.Ascent()
	for text := p.scene.Label(sh); len(text) > 0; {
		r, n := rune(text[0]), 1
		if r >= utf8.RuneSelf {
			r, n = utf8.DecodeRune(text)
		}
		text = text[n:]
		g, ok := p.atlas.letter(face, letters, r)
		if !ok { // full: draw what uses it, then begin it anew
			p.flush()
			p.atlas.empty()
			letters = p.atlas.of(face)
			g, _ = p.atlas.letter(face, letters, r)
		}
		p.letter(g, v, x, y)
		x += int(g.step)
	}
}

// letter adds a letter with its dot at x, y, cut to the clip.
func (p *painter) letter(g letter, v ebiten.Vertex, x, y int) {
	full := g.box.Add(image.Pt(x, y))
	r := full.Intersect(p.clip)
	if r.Empty() {
		return
	}
	v.SrcX, v.SrcY = g.u+float32(r.Min.X-full.Min.X), g.v+float32(r.Min.Y-full.Min.Y)
	p.quad(r, v, float32(r.Dx()), float32(r.Dy()))
}
