package render

import (
	"errors"
	"fmt"
	"image"
	"sync"
	"unicode/utf8"

	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"

	"emberbeat/render/letter"
)

// Type is a size of lettering in logical pixels, and its weight. All weights have figures of one width.
type Type struct {
	Size uint8
	Bold bool
}

// Weight gives the fonts of the type.
func (t Type) Weight() *letter.Weight {
	if t.Bold {
		return letter.Bold
	}
	return letter.Regular
}

// The sizes in use. Nothing is set smaller than TypeSmall.
var (
	TypeCounter = Type{Size: 28, Bold: true}
	TypeTitle   = Type{Size: 18, Bold: true}
	TypeLabel   = Type{Size: 14}
	TypeStrong  = Type{Size: 14, Bold: true}
	TypeSmall   = Type{Size: 12}
	TypeMark    = Type{Size: 12, Bold: true}
)

// Faces makes and keeps the faces of the program's lettering. It is safe for use by several goroutines.
type Faces struct {
	mu   sync.Mutex
	made map[faceKey]*Face
}

type faceKey struct {
	t Type
	s Scale
}

// NewFaces gives faces of the embedded fonts.
func NewFaces() *Faces { return &Faces{made: map[faceKey]*Face{}} }

// Face gives the face for a type at a scale, the same one each time.
func (fs *Faces) Face(t Type, s Scale) *Face {
	fs.mu.Lock()
	defer fs.mu.Unlock()
	key := faceKey{t, s}
	if f := fs.made[key]; f != nil {
		return f
	}
	f := newFace(t.Weight(), float64(t.Size)*float64(s)/100)
	fs.made[key] = f
	return f
}

// tableSize is one past the last rune whose width every Face holds ready: Latin with its European extensions.
const tableSize = 0x180

// Face is one size and weight of lettering in device pixels. Measuring needs no lock; drawing goes through With.
type Face struct {
	mu     sync.Mutex
	face   font.Face
	ascent int
	height int
	middle int
	table  [tableSize]int16
	others map[rune]int16
}

func newFace(w *letter.Weight, px float64) *Face {
	face := &weighted{w: w, main: openFace(w.Main, px), more: openFace(w.More, px)}
	m := face.Metrics()
	f := &Face{face: face, ascent: m.Ascent.Ceil(), others: map[rune]int16{}}
	f.height = f.ascent + m.Descent.Ceil()
	f.middle = f.ascent - (m.CapHeight.Round()+1)/2
	for r := range f.table {
		f.table[r] = advance(face, rune(r))
	}
	return f
}

func openFace(of *letter.Font, px float64) font.Face {
	face, err := opentype.NewFace(of.Open(), &opentype.FaceOptions{Size: px, DPI: 72, Hinting: font.HintingFull})
	if err != nil { // the library has no case that returns one
		panic(fmt.Sprintf("render: face of %v px: %v", px, err))
	}
	return face
}

// weighted sets each letter in the font of its weight that has it. The lines are
// as high as the main font's.
type weighted struct {
	w          *letter.Weight
	main, more font.Face
}

func (f *weighted) of(r rune) (font.Face, rune) {
	in, r := f.w.Of(r)
	if in == f.w.More {
		return f.more, r
	}
	return f.main, r
}

func (f *weighted) Glyph(dot fixed.Point26_6, r rune) (image.Rectangle, image.Image, image.Point, fixed.Int26_6, bool) {
	face, r := f.of(r)
	return face.Glyph(dot, r)
}

func (f *weighted) GlyphBounds(r rune) (fixed.Rectangle26_6, fixed.Int26_6, bool) {
	face, r := f.of(r)
	return face.GlyphBounds(r)
}

func (f *weighted) GlyphAdvance(r rune) (fixed.Int26_6, bool) {
	face, r := f.of(r)
	return face.GlyphAdvance(r)
}

// Kern is 0: the main font has no kerning, and what is measured letter by letter has to agree.
func (f *weighted) Kern(_, _ rune) fixed.Int26_6 { return 0 }

func (f *weighted) Metrics() font.Metrics { return f.main.Metrics() }

func (f *weighted) Close() error { return errors.Join(f.main.Close(), f.more.Close()) }

// advance gives the whole pixels from one letter to the next. Full hinting makes advances whole.
func advance(face font.Face, r rune) int16 {
	a, _ := face.GlyphAdvance(r) // what no font has is set as another letter
	return int16(a.Round())
}

// Ascent gives the device pixels from the top of a line of text to its baseline.
func (f *Face) Ascent() int { return f.ascent }

// Height gives the device pixels from the top of a line of text to its bottom.
func (f *Face) Height() int { return f.height }

// Measure gives the width of a text in device pixels.
func (f *Face) Measure(text string) int { return measure(f, text) }

// MeasureBytes is Measure for UTF-8 in bytes.
func (f *Face) MeasureBytes(text []byte) int { return measure(f, text) }

func measure[T string | []byte](f *Face, text T) int {
	w := 0
	for i := 0; i < len(text); {
		if c := text[i]; c < utf8.RuneSelf {
			w += int(f.table[c])
			i++
			continue
		}
		r, n := decode(text[i:])
		w += int(f.wide(r))
		i += n
	}
	return w
}

// decode reads the first rune of UTF-8 text.
func decode[T string | []byte](text T) (rune, int) {
	var head [utf8.UTFMax]byte
	n := copy(head[:], text)
	return utf8.DecodeRune(head[:n])
}

// wide gives the width of any rune.
func (f *Face) wide(r rune) int16 {
	if r < tableSize {
		return f.table[r]
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	w, ok := f.others[r]
	if !ok {
		w = advance(f.face, r)
		f.others[r] = w
	}
	return w
}

// With lends the face for drawing to one caller at a time. It must not be kept after use returns.
func (f *Face) With(use func(font.Face)) {
	f.mu.Lock()
	defer f.mu.Unlock()
	use(f.face)
}

// Fit gives the longest beginning of text that is at most width device pixels wide, and whether that is all of it. Where it is not, room
// for an ellipsis is left and cut gives the beginning that stands before it; an empty one means that not even that fits.
func (f *Face) Fit(text string, width int) (cut string, all bool) {
	if f.Measure(text) <= width {
		return text, true
	}
	left, end := width-int(f.wide('…')), 0
	for i, r := range text {
		if left -= int(f.wide(r)); left < 0 {
			break
		}
		end = i + utf8.RuneLen(r)
	}
	return text[:end], false
}
