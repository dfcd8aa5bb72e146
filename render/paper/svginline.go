package paper

import (
	"bytes"
	"fmt"
	"image"
	"io"

	"emberbeat/render"
)

// WriteInlineSVG writes a scene as an svg element for the inside of an HTML page:
// inks are classes ("i-hot" fills, "s-hot" strokes) that the page's style colours,
// so that one picture serves all themes, and letters are texts of the width that
// the scene gives them, whatever font the page has. The class of a text is "t" with
// its size, and "b" where it is bold. prefix tells the clips of several pictures of
// one page apart. It refuses a scene that WriteSVG refuses.
func WriteInlineSVG(w io.Writer, s *render.Scene, title, prefix string) error {
	if err := checkSides(s); err != nil {
		return err
	}
	d := &inlineSVG{scene: s, prefix: prefix}
	for i := range s.Shapes {
		d.shape(&s.Shapes[i])
	}
	d.flush()
	d.endClip()
	var out bytes.Buffer
	fmt.Fprintf(&out, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" role="img" aria-label="%s">`, s.Size.X, s.Size.Y, escaped(title))
	if len(d.clips) > 0 {
		out.WriteString("<defs>")
		for i, c := range d.clips {
			fmt.Fprintf(&out, `<clipPath id="%s%d"><rect x="%d" y="%d" width="%d" height="%d"/></clipPath>`, prefix, i, c.Min.X, c.Min.Y, c.Dx(), c.Dy())
		}
		out.WriteString("</defs>")
	}
	out.Write(d.body.Bytes())
	out.WriteString("</svg>")
	_, err := w.Write(out.Bytes())
	return err
}

// inlineSVG gathers one drawing.
type inlineSVG struct {
	scene   *render.Scene
	prefix  string
	clips   []image.Rectangle
	clipped bool
	body    bytes.Buffer

	run bytes.Buffer // rectangles of one ink in a row, as one path
	ink render.Ink
}

func (d *inlineSVG) shape(sh *render.Shape) {
	if sh.Kind == render.KindRect && sh.Cover == 255 {
		if d.run.Len() > 0 && d.ink != sh.Ink {
			d.flush()
		}
		d.ink = sh.Ink
		fmt.Fprintf(&d.run, "M%d %dh%dv%dh%dz", sh.Box.Min.X, sh.Box.Min.Y, sh.Box.Dx(), sh.Box.Dy(), -sh.Box.Dx())
		return
	}
	d.flush()
	switch sh.Kind {
	case render.KindClip:
		d.clip(sh.Box)
	case render.KindRect:
		fmt.Fprintf(&d.body, `<rect class="i-%s" x="%d" y="%d" width="%d" height="%d"%s/>`, sh.Ink, sh.Box.Min.X, sh.Box.Min.Y, sh.Box.Dx(), sh.Box.Dy(), cover("fill", sh.Cover))
	case render.KindPoly:
		fmt.Fprintf(&d.body, `<path class="i-%s" d="%sz"%s/>`, sh.Ink, pathThrough(d.scene.Points(sh)), cover("fill", sh.Cover))
	case render.KindLine:
		fmt.Fprintf(&d.body, `<path class="s-%s" d="%s" stroke-width="%s"%s/>`, sh.Ink, pathThrough(d.scene.Points(sh)), short(float64(sh.Width)), cover("stroke", sh.Cover))
	case render.KindText:
		d.text(sh)
	}
}

// flush writes the rectangles that have gathered. They cover wholly, so that it does
// not matter that they are one shape.
func (d *inlineSVG) flush() {
	if d.run.Len() > 0 {
		fmt.Fprintf(&d.body, `<path class="i-%s" d="%s"/>`, d.ink, d.run.Bytes())
		d.run.Reset()
	}
}

func (d *inlineSVG) clip(box image.Rectangle) {
	d.endClip()
	if d.scene.Bounds().In(box) {
		return
	}
	fmt.Fprintf(&d.body, `<g clip-path="url(#%s%d)">`, d.prefix, len(d.clips))
	d.clips, d.clipped = append(d.clips, box), true
}

func (d *inlineSVG) endClip() {
	if d.clipped {
		d.body.WriteString("</g>")
	}
	d.clipped = false
}

// pathThrough writes a line through points; a tenth of a pixel is enough.
func pathThrough(points []render.Point) string {
	var out bytes.Buffer
	for i, p := range points {
		op := byte('L')
		if i == 0 {
			op = 'M'
		}
		out.WriteByte(op)
		out.WriteString(short(float64(p.X)))
		out.WriteByte(' ')
		out.WriteString(short(float64(p.Y)))
	}
	return out.String()
}

// short writes a coordinate to a tenth.
func short(x float64) string { return number(float64(int(x*10+sign(x)*0.5)) / 10) }

func sign(x float64) float64 {
	if x < 0 {
		return -1
	}
	return 1
}

func (d *inlineSVG) text(sh *render.Shape) {
	label := string(d.scene.Label(sh))
	if label == "" {
		return
	}
	face, bold := d.scene.Face(sh.Type), ""
	if sh.Type.Bold {
		bold = "b"
	}
	fmt.Fprintf(&d.body, `<text class="i-%s t%d%s" x="%d" y="%d" font-size="%s" textLength="%d" lengthAdjust="spacingAndGlyphs">%s</text>`,
		sh.Ink, sh.Type.Size, bold, sh.Box.Min.X, sh.Box.Min.Y+face.Ascent(), short(float64(sh.Type.Size)*float64(d.scene.Scale)/100), face.Measure(label), escaped(label))
}
