package paper

import (
	"fmt"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
)

// missing stands for a letter that a font does not have, as in the window.
const missing = '\uFFFD'

// letters finds the glyphs of an embedded font.
type letters struct {
	font *sfnt.Font
	buf  sfnt.Buffer
}

func regularLetters() *letters { return newLetters(goregular.TTF) }
func boldLetters() *letters    { return newLetters(gobold.TTF) }

// newLetters reads a font that is part of the program; that it can be read is
// not a matter of input.
func newLetters(ttf []byte) *letters {
	f, err := sfnt.Parse(ttf)
	if err != nil {
		panic(fmt.Sprintf("paper: embedded font: %v", err))
	}
	return &letters{font: f}
}

// glyph gives the letter that stands for r, which is r where the font has it,
// and its glyph.
func (l *letters) glyph(r rune) (rune, sfnt.GlyphIndex) {
	g, err := l.font.GlyphIndex(&l.buf, r)
	if err != nil || g == 0 {
		r = missing
		g, _ = l.font.GlyphIndex(&l.buf, r)
	}
	return r, g
}
