package letter

import (
	"fmt"
	"strings"
	"sync"

	"github.com/go-fonts/dejavu/dejavusanscondensed"
	"github.com/go-fonts/dejavu/dejavusanscondensedbold"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
)

// Font is one embedded font. It is safe for use by several goroutines.
type Font struct {
	Name string // for a file that carries it
	TTF  []byte

	read sync.Once
	font *opentype.Font

	mu     sync.Mutex
	buf    sfnt.Buffer
	glyphs map[rune]sfnt.GlyphIndex
}

// Weight is the fonts of one weight: those of the Go project, whose figures have
// one width, and a font of the same build for the letters that they lack. That one
// has Latin with the accents of Vietnamese and of other tongues, Greek and
// Cyrillic with their old letters; its licence lies beside this file.
type Weight struct{ Main, More *Font }

// The weights.
var (
	Regular = &Weight{newFont("GoRegular", goregular.TTF), newFont("MoreRegular", dejavusanscondensed.TTF)}
	Bold    = &Weight{newFont("GoBold", gobold.TTF), newFont("MoreBold", dejavusanscondensedbold.TTF)}
)

func newFont(name string, ttf []byte) *Font {
	return &Font{Name: name, TTF: ttf, glyphs: map[rune]sfnt.GlyphIndex{}}
}

// Open gives the font as it is read. That it can be read is not a matter of input.
func (f *Font) Open() *opentype.Font {
	f.read.Do(func() {
		var err error
		if f.font, err = opentype.Parse(f.TTF); err != nil {
			panic(fmt.Sprintf("letter: embedded font %s: %v", f.Name, err))
		}
	})
	return f.font
}

// Glyph gives the glyph of a letter; 0 = the font has none.
func (f *Font) Glyph(r rune) sfnt.GlyphIndex {
	font := f.Open()
	f.mu.Lock()
	defer f.mu.Unlock()
	g, known := f.glyphs[r]
	if !known {
		g, _ = font.GlyphIndex(&f.buf, r) // an error is no glyph, too
		f.glyphs[r] = g
	}
	return g
}

// Stand is set for a letter that no font here has. Sheets say which these are.
const Stand = '?'

// Of gives the font that sets a letter, and the letter itself, or Stand where no
// font has it.
func (w *Weight) Of(r rune) (*Font, rune) {
	switch {
	case r < 0x80 && r >= ' ': // all of them are there
		return w.Main, r
	case plain(r) && w.Main.Glyph(r) != 0:
		return w.Main, r
	case plain(r) && w.More.Glyph(r) != 0 && !shaped(r):
		return w.More, r
	}
	return w.Main, Stand
}

// plain leaves out the sign for a broken letter, which would say nothing, and what
// lies beyond U+FFFF, which no PDF of ours can carry.
func plain(r rune) bool { return r != '\uFFFD' && r <= 0xFFFF }

// shaped reports whether a letter belongs to a script whose letters join, change
// or run from right to left: set one by one they would be wrong (The Unicode
// Standard, chapters 9, 12 and 13), and a wrong name is worse than a missing one.
func shaped(r rune) bool {
	return r >= 0x0590 && r < 0x10A0 || r >= 0x1780 && r < 0x1800 || r >= 0x07C0 && r < 0x0900 || r >= 0xFB1D && r < 0xFE00 || r >= 0xFE70 && r < 0xFF00
}

// Missing gives the letters of a text that no font here has, each once, in their
// order.
func Missing(text string) []rune {
	var list []rune
	for _, r := range text {
		if _, is := Regular.Of(r); is != r && r >= ' ' && !strings.ContainsRune(string(list), r) {
			list = append(list, r)
		}
	}
	return list
}
