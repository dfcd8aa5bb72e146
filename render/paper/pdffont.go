package paper

import (
	"bytes"
	"fmt"
	"slices"
	"unicode/utf16"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// fontObjects is how many objects a font takes in a file.
const fontObjects = 5

// pdfFont is an embedded font with the glyphs a file uses of it.
type pdfFont struct {
	name  string
	ttf   []byte
	font  *sfnt.Font
	buf   sfnt.Buffer
	em    fixed.Int26_6 // units of the font in an em
	known map[rune]sfnt.GlyphIndex
	used  map[sfnt.GlyphIndex]rune
	wide  map[sfnt.GlyphIndex]float64 // thousandths of an em
}

func newPDFFonts() [2]*pdfFont {
	return [2]*pdfFont{newPDFFont("GoRegular", goregular.TTF), newPDFFont("GoBold", gobold.TTF)}
}

func regularFont() *sfnt.Font { return mustParse(goregular.TTF) }
func boldFont() *sfnt.Font    { return mustParse(gobold.TTF) }

// mustParse reads a font that is part of the program; that it can be read is
// not a matter of input.
func mustParse(ttf []byte) *sfnt.Font {
	f, err := sfnt.Parse(ttf)
	if err != nil {
		panic(fmt.Sprintf("paper: embedded font: %v", err))
	}
	return f
}

func newPDFFont(name string, ttf []byte) *pdfFont {
	f := mustParse(ttf)
	return &pdfFont{name: name, ttf: ttf, font: f, em: fixed.Int26_6(f.UnitsPerEm()),
		known: map[rune]sfnt.GlyphIndex{}, used: map[sfnt.GlyphIndex]rune{}, wide: map[sfnt.GlyphIndex]float64{}}
}

// glyphs gives a text as hexadecimal glyph numbers and its width in thousandths
// of an em.
func (f *pdfFont) glyphs(text string) (string, float64) {
	out := make([]byte, 0, 4*len(text))
	width := 0.0
	for _, r := range text {
		g := f.glyph(r)
		width += f.wide[g]
		out = append(out, hexDigits[g>>12], hexDigits[g>>8&15], hexDigits[g>>4&15], hexDigits[g&15])
	}
	return string(out), width
}

const hexDigits = "0123456789ABCDEF"

// glyph gives a letter's glyph, that of a missing one where the font has none.
func (f *pdfFont) glyph(r rune) sfnt.GlyphIndex {
	if g, known := f.known[r]; known {
		return g
	}
	g, err := f.font.GlyphIndex(&f.buf, r)
	letter := r
	if err != nil || g == 0 {
		letter = '\uFFFD' // as in the window
		g, _ = f.font.GlyphIndex(&f.buf, letter)
	}
	if _, used := f.used[g]; !used {
		f.used[g], f.wide[g] = letter, f.advance(g)
	}
	f.known[r] = g
	return g
}

func (f *pdfFont) advance(g sfnt.GlyphIndex) float64 {
	// With as many pixels as units in an em, an advance is in units; scaled by
	// 64 to keep the result whole.
	a, err := f.font.GlyphAdvance(&f.buf, g, f.em*64, font.HintingNone)
	if err != nil {
		return 0
	}
	return float64(a) / 64 * 1000 / float64(f.em)
}

func (f *pdfFont) sorted() []sfnt.GlyphIndex {
	list := make([]sfnt.GlyphIndex, 0, len(f.used))
	for g := range f.used {
		list = append(list, g)
	}
	slices.Sort(list)
	return list
}

// objects writes the font: a composite font whose codes are glyph numbers.
func (f *pdfFont) objects(d *pdf) {
	first := len(d.offsets) + 1
	d.object(fmt.Sprintf("<</Type/Font/Subtype/Type0/BaseFont/%s/Encoding/Identity-H/DescendantFonts[%d 0 R]/ToUnicode %d 0 R>>", f.name, first+1, first+4))
	d.object(fmt.Sprintf("<</Type/Font/Subtype/CIDFontType2/BaseFont/%s/CIDSystemInfo<</Registry(Adobe)/Ordering(Identity)/Supplement 0>>/FontDescriptor %d 0 R/CIDToGIDMap/Identity/W[%s]>>",
		f.name, first+2, f.widths()))
	d.object(f.descriptor(first + 3))
	d.stream(fmt.Sprintf("/Length1 %d", len(f.ttf)), f.ttf)
	d.stream("", f.toUnicode())
}

func (f *pdfFont) widths() string {
	var out bytes.Buffer
	for _, g := range f.sorted() {
		fmt.Fprintf(&out, "%d[%s]", g, number(f.wide[g]))
	}
	return out.String()
}

func (f *pdfFont) descriptor(file int) string {
	m, _ := f.font.Metrics(&f.buf, f.em*64, font.HintingNone)
	b, _ := f.font.Bounds(&f.buf, f.em*64, font.HintingNone)
	part := func(v fixed.Int26_6) string { return number(float64(v) / 64 * 1000 / float64(f.em)) }
	const symbolic = 4 // its codes are its own
	return fmt.Sprintf("<</Type/FontDescriptor/FontName/%s/Flags %d/FontBBox[%s %s %s %s]/ItalicAngle 0/Ascent %s/Descent %s/CapHeight %s/StemV 80/FontFile2 %d 0 R>>",
		f.name, symbolic, part(b.Min.X), part(-b.Max.Y), part(b.Max.X), part(-b.Min.Y), part(m.Ascent), part(-m.Descent), part(m.CapHeight), file)
}

// toUnicode tells which letters the glyphs are, so that a reader can search and
// copy. A block of such a table holds at most 100 entries.
func (f *pdfFont) toUnicode() []byte {
	var out bytes.Buffer
	out.WriteString("/CIDInit/ProcSet findresource begin 12 dict begin begincmap/CIDSystemInfo<</Registry(Adobe)/Ordering(UCS)/Supplement 0>>def\n" +
		"/CMapName/Adobe-Identity-UCS def/CMapType 2 def\n1 begincodespacerange<0000><FFFF>endcodespacerange\n")
	for block := range slices.Chunk(f.sorted(), 100) {
		fmt.Fprintf(&out, "%d beginbfchar\n", len(block))
		for _, g := range block {
			fmt.Fprintf(&out, "<%04X><", uint16(g))
			for _, u := range utf16.Encode([]rune{f.used[g]}) {
				fmt.Fprintf(&out, "%04X", u)
			}
			out.WriteString(">\n")
		}
		out.WriteString("endbfchar\n")
	}
	out.WriteString("endcmap CMapName currentdict/CMap defineresource pop end end\n")
	return out.Bytes()
}
