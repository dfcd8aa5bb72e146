package paper

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"emberbeat/render/letter"
)

// svgFont is a font with the outlines that a drawing uses of it.
type svgFont struct {
	*letter.Font
	buf    sfnt.Buffer
	prefix string // of the outlines' ids
	ids    map[sfnt.GlyphIndex]string
	order  []sfnt.GlyphIndex // as they are first used
	paths  map[sfnt.GlyphIndex]string
}

// svgEm is the units of an em in which outlines are written: those of the main
// fonts.
const svgEm = 2048

func newSVGFont(prefix string, f *letter.Font) *svgFont {
	return &svgFont{Font: f, prefix: prefix, ids: map[sfnt.GlyphIndex]string{}, paths: map[sfnt.GlyphIndex]string{}}
}

// drawn gives the id of a letter's outline, "" where it has no ink.
func (f *svgFont) drawn(r rune) string {
	g := f.Glyph(r)
	if id, known := f.ids[g]; known {
		return id
	}
	path := f.outline(g)
	if path == "" {
		f.ids[g] = ""
		return ""
	}
	f.ids[g] = fmt.Sprintf("%s%d", f.prefix, g)
	f.order, f.paths[g] = append(f.order, g), path
	return f.ids[g]
}

// outline writes a glyph's contours in units of the font.
func (f *svgFont) outline(g sfnt.GlyphIndex) string {
	segments, err := f.Open().LoadGlyph(&f.buf, g, fixed.I(svgEm), nil)
	if err != nil {
		return "" // the embedded fonts have no glyph that cannot be read
	}
	var out bytes.Buffer
	for i, s := range segments {
		op, points := "M", 1
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			if i > 0 {
				out.WriteByte('Z')
			}
		case sfnt.SegmentOpLineTo:
			op = "L"
		case sfnt.SegmentOpQuadTo:
			op, points = "Q", 2
		case sfnt.SegmentOpCubeTo:
			op, points = "C", 3
		}
		out.WriteString(op)
		for k, p := range s.Args[:points] {
			if k > 0 {
				out.WriteByte(' ')
			}
			out.WriteString(number(float64(p.X)/64) + " " + number(float64(p.Y)/64))
		}
	}
	if out.Len() > 0 {
		out.WriteByte('Z')
	}
	return out.String()
}

func (f *svgFont) definitions(out *bytes.Buffer) {
	for _, g := range f.order {
		fmt.Fprintf(out, `<path id="%s" d="%s"/>`+"\n", f.ids[g], f.paths[g])
	}
}

// number writes a number with at most four decimals.
func number(x float64) string {
	text := strings.TrimRight(strconv.FormatFloat(x, 'f', 4, 64), "0")
	return strings.TrimSuffix(text, ".")
}

// precise writes a factor with eight decimals: over a page four would shift
// letters by a pixel.
func precise(x float64) string { return strconv.FormatFloat(x, 'f', 8, 64) }
