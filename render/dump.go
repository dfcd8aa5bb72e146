package render

import (
	"fmt"
	"image"
	"strconv"
	"strings"
)

// Dump writes the scene as text, one shape or hit area a line, for tests and bug reports. Boxes are x,y wide×high; a cover of 255 is not
// written.
func (s *Scene) Dump() string {
	var b strings.Builder
	fmt.Fprintf(&b, "scene %d×%d at %d%%\n", s.Size.X, s.Size.Y, s.Scale)
	for i := range s.Shapes {
		s.dumpShape(&b, &s.Shapes[i])
	}
	for _, h := range s.Hits {
		word := "hit"
		if h.Ground {
			word = "ground"
		}
		fmt.Fprintf(&b, "%-6s %s %s %s\n", word, h.Kind, h.ID, boxText(h.Area))
	}
	return b.String()
}

func (s *Scene) dumpShape(b *strings.Builder, sh *Shape) {
	ink := sh.Ink.String()
	if sh.Cover != 255 {
		ink += "/" + strconv.Itoa(int(sh.Cover))
	}
	switch sh.Kind {
	case KindRect:
		fmt.Fprintf(b, "rect   %s %s\n", boxText(sh.Box), ink)
	case KindClip:
		fmt.Fprintf(b, "clip   %s\n", boxText(sh.Box))
	case KindText:
		fmt.Fprintf(b, "text   %s %s %s %q\n", boxText(sh.Box), ink, sh.Type, s.Label(sh))
	case KindLine:
		fmt.Fprintf(b, "line   %s width %s:%s\n", ink, number(sh.Width), pointsText(s.Points(sh)))
	case KindPoly:
		fmt.Fprintf(b, "poly   %s:%s\n", ink, pointsText(s.Points(sh)))
	}
}

// String gives a type as Dump prints it, as in 14 or 14b.
func (t Type) String() string {
	if t.Bold {
		return fmt.Sprintf("%db", t.Size)
	}
	return strconv.Itoa(int(t.Size))
}

func boxText(r image.Rectangle) string {
	return fmt.Sprintf("%d,%d %d×%d", r.Min.X, r.Min.Y, r.Dx(), r.Dy())
}

func pointsText(points []Point) string {
	var b strings.Builder
	for _, p := range points {
		b.WriteString(" " + number(p.X) + "," + number(p.Y))
	}
	return b.String()
}

// number writes a coordinate to a tenth of a pixel.
func number(v float32) string {
	return strings.TrimSuffix(strconv.FormatFloat(float64(v), 'f', 1, 32), ".0")
}
