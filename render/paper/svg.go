package paper

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"image"
	"io"
	"slices"

	"emberbeat/render"
	"emberbeat/render/letter"
)

// WriteSVG writes a scene as SVG 1.1, one unit to a device pixel. Letters are
// drawn as outlines, each text with its words as a label: a reader that lacks
// the fonts would set them in others, and numbers would run into each other. It
// refuses a scene that is empty or longer than MaxSide. Nothing in it comes from
// a clock.
func WriteSVG(w io.Writer, s *render.Scene, th *render.Theme, title string) error {
	if err := checkSides(s); err != nil {
		return err
	}
	d := &svg{scene: s, theme: th, fonts: []*svgFont{newSVGFont("r", letter.Regular.Main), newSVGFont("b", letter.Bold.Main), newSVGFont("rm", letter.Regular.More), newSVGFont("bm", letter.Bold.More)}}
	for i := range s.Shapes {
		d.shape(&s.Shapes[i])
	}
	d.endClip()
	_, err := w.Write(d.file(title))
	return err
}

// svg gathers one drawing.
type svg struct {
	scene   *render.Scene
	theme   *render.Theme
	fonts   []*svgFont
	clips   []image.Rectangle
	clipped bool
	body    bytes.Buffer
}

// file joins head, definitions and body. The scale makes a logical pixel of the
// scene 1/96 inch, as on paper and screen.
func (d *svg) file(title string) []byte {
	var out bytes.Buffer
	size := d.scene.Size
	inches := func(px int) string { return number(float64(px) / 96 * 100 / float64(d.scene.Scale)) }
	fmt.Fprintf(&out, `<?xml version="1.0" encoding="UTF-8"?>`+"\n"+`<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" version="1.1" width="%sin" height="%sin" viewBox="0 0 %d %d">`+"\n",
		inches(size.X), inches(size.Y), size.X, size.Y)
	fmt.Fprintf(&out, "<title>%s</title>\n<defs>\n", escaped(title))
	for i, c := range d.clips {
		fmt.Fprintf(&out, `<clipPath id="c%d"><rect x="%d" y="%d" width="%d" height="%d"/></clipPath>`+"\n", i, c.Min.X, c.Min.Y, c.Dx(), c.Dy())
	}
	for _, f := range d.fonts {
		f.definitions(&out)
	}
	fmt.Fprintf(&out, "</defs>\n"+`<rect width="%d" height="%d" fill="%s"/>`+"\n", size.X, size.Y, d.colour(render.InkLane))
	out.Write(d.body.Bytes())
	out.WriteString("</svg>\n")
	return out.Bytes()
}

func escaped(s string) string {
	var out bytes.Buffer
	_ = xml.EscapeText(&out, []byte(s)) // into memory
	return out.String()
}

func (d *svg) colour(ink render.Ink) string {
	c := d.theme.Light(ink)
	return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B)
}

// cover gives the attribute of what lets through what is below.
func cover(kind string, c uint8) string {
	if c == 255 {
		return ""
	}
	return fmt.Sprintf(` %s-opacity="%s"`, kind, number(float64(c)/255))
}

func (d *svg) shape(sh *render.Shape) {
	switch sh.Kind {
	case render.KindClip:
		d.clip(sh.Box)
	case render.KindRect:
		fmt.Fprintf(&d.body, `<rect x="%d" y="%d" width="%d" height="%d" fill="%s"%s/>`+"\n",
			sh.Box.Min.X, sh.Box.Min.Y, sh.Box.Dx(), sh.Box.Dy(), d.colour(sh.Ink), cover("fill", sh.Cover))
	case render.KindPoly:
		fmt.Fprintf(&d.body, `<polygon points="%s" fill="%s"%s/>`+"\n", svgPoints(d.scene.Points(sh)), d.colour(sh.Ink), cover("fill", sh.Cover))
	case render.KindLine:
		fmt.Fprintf(&d.body, `<polyline points="%s" fill="none" stroke="%s" stroke-width="%s"%s/>`+"\n",
			svgPoints(d.scene.Points(sh)), d.colour(sh.Ink), number(float64(sh.Width)), cover("stroke", sh.Cover))
	case render.KindText:
		d.text(sh)
	}
}

// clip keeps what follows inside a box, until the next clip.
func (d *svg) clip(box image.Rectangle) {
	d.endClip()
	if d.scene.Bounds().In(box) {
		return
	}
	fmt.Fprintf(&d.body, `<g clip-path="url(#c%d)">`+"\n", len(d.clips))
	d.clips, d.clipped = append(d.clips, box), true
}

func (d *svg) endClip() {
	if d.clipped {
		d.body.WriteString("</g>\n")
	}
	d.clipped = false
}

func svgPoints(points []render.Point) string {
	var out bytes.Buffer
	for i, p := range points {
		if i > 0 {
			out.WriteByte(' ')
		}
		out.WriteString(number(float64(p.X)) + "," + number(float64(p.Y)))
	}
	return out.String()
}

func (d *svg) font(of *letter.Font) *svgFont {
	return d.fonts[slices.IndexFunc(d.fonts, func(f *svgFont) bool { return f.Font == of })]
}

// text draws the outlines of a line's letters where the scene has them.
func (d *svg) text(sh *render.Shape) {
	face, weight := d.scene.Face(sh.Type), sh.Type.Weight()
	label := string(d.scene.Label(sh))
	scale := float64(sh.Type.Size) * float64(d.scene.Scale) / 100 / svgEm
	fmt.Fprintf(&d.body, `<g aria-label="%s" fill="%s" transform="translate(%d %d) scale(%s)">`,
		escaped(label), d.colour(sh.Ink), sh.Box.Min.X, sh.Box.Min.Y+face.Ascent(), precise(scale))
	x := 0
	for _, r := range label {
		in, is := weight.Of(r)
		if id := d.font(in).drawn(is); id != "" {
			fmt.Fprintf(&d.body, `<use xlink:href="#%s" x="%s"/>`, id, number(float64(x)/scale))
		}
		x += face.Measure(string(r))
	}
	d.body.WriteString("</g>\n")
}
