package render

import (
	"image"
	"math"
)

// Glyph is the shape of an effect on a lane.
type Glyph uint8

// The glyphs.
const (
	GlyphColumn  Glyph = iota // tall triangle: a hot column
	GlyphFan                  // widening fan: a fountain
	GlyphPin                  // stem with head: a single shot
	GlyphDiamond              // a burst
	GlyphPill                 // a cold column
	GlyphSteps                // stepped squares: falling pieces
	GlyphDome                 // half disc: low cloud
	GlyphHexagon              // with a letter: the user's own
	glyphCount
)

var forms = [glyphCount]form{
	GlyphColumn:  newForm("column", 0.52, []Point{{0, 0}, {0.52, 1}, {0, 1}}),
	GlyphFan:     newForm("fan", 0.66, []Point{{0, 0}, {0.16, 0.12}, {0.33, 0}, {0.5, 0.12}, {0.66, 0}, {0.22, 1}, {0, 1}}),
	GlyphPin:     newForm("pin", 0.44, pin(0.22, 0.07)),
	GlyphDiamond: newForm("diamond", 0.74, []Point{{0.37, 0.08}, {0.74, 0.5}, {0.37, 0.92}, {0, 0.5}}),
	GlyphPill:    newForm("pill", 0.4, append(arc(0.2, 0.2, 0.2, 180, 360, 10), arc(0.2, 0.8, 0.2, 0, 180, 10)...)),
	GlyphSteps:   newForm("steps", 0.84, square(0, 0.06, 0.28), square(0.28, 0.36, 0.28), square(0.56, 0.66, 0.28)),
	GlyphDome:    newForm("dome", 0.96, arc(0.48, 0.98, 0.48, 180, 360, 16)),
	GlyphHexagon: newForm("hexagon", 0.8, []Point{{0.2, 0.08}, {0.6, 0.08}, {0.8, 0.5}, {0.6, 0.92}, {0.2, 0.92}, {0, 0.5}}),
}

// String gives the glyph's name.
func (g Glyph) String() string {
	if g < glyphCount {
		return forms[g].name
	}
	return "?"
}

// Width gives the width of a glyph of a height, both in device pixels, rounded up.
func (g Glyph) Width(height int) int {
	return int(math.Ceil(float64(forms[g].width * float32(height))))
}

// Look is how a glyph is drawn.
type Look struct {
	Glyph  Glyph
	Ink    Ink
	Hollow bool   // only its edge: disabled
	Letter string // inside a GlyphHexagon, where it fits
}

// edgeWidth is the logical width of the line around a glyph that has no full body.
const edgeWidth = 1.5

// Glyph draws a look with its left top at p, height device pixels high.
func (s *Scene) Glyph(th *Theme, p image.Point, height int, look Look) {
	at, h := Point{float32(p.X), float32(p.Y)}, float32(height)
	parts := forms[look.Glyph].parts
	edge, cover, line := th.edge(s.Scale, look)
	for i := range parts {
		s.formPart(&parts[i], at, h, line/2, edge, cover)
	}
	if line > 0 {
		for i := range parts {
			if look.Hollow || th.GlyphFill < 255 {
				s.formPart(&parts[i], at, h, -line/2, InkLane, 255)
			}
			if !look.Hollow {
				s.formPart(&parts[i], at, h, -line/2, look.Ink, th.GlyphFill)
			}
		}
	}
	if look.Glyph == GlyphHexagon && look.Letter != "" {
		box := inset(image.Rect(p.X, p.Y, p.X+look.Glyph.Width(height), p.Y+height), height/8, 0)
		s.TextIn(box, Middle, TypeMark, th.letterInk(look), look.Letter)
	}
}

// edge gives the ink, cover and width in device pixels of the line around a look. A full body without a line has a line of width 0 in its
// own ink.
func (th *Theme) edge(scale Scale, look Look) (ink Ink, cover uint8, width float32) {
	switch {
	case th.Outline > 0:
		return InkOutline, 255, scale.Pxf(float32(th.Outline))
	case look.Hollow || th.GlyphFill < 255:
		return look.Ink, th.GlyphEdge, scale.Pxf(edgeWidth)
	}
	return look.Ink, 255, 0
}

// letterInk gives the ink of a letter inside a glyph: on its fill, or on the lane where the body is empty or nearly so.
func (th *Theme) letterInk(look Look) Ink {
	if look.Hollow || th.GlyphFill < 128 {
		return InkText
	}
	return th.OnFill(look.Ink)
}
