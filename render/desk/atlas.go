package desk

import (
	"image"

	"github.com/hajimehoshi/ebiten/v2"
	"golang.org/x/image/font"
	"golang.org/x/image/math/fixed"

	"emberbeat/render"
)

// atlasSide is the width and height of the image that holds all letters in use. Six sizes in two weights at factor 2 take a quarter.
const atlasSide = 2048

// latin is one past the last rune that a lettering keeps in a table; the others are in a map.
const latin = 0x180

// letter is where a glyph stands in the atlas and how it lies about the dot. It is known once it was asked for, and empty where there is
// nothing to draw.
type letter struct {
	box   image.Rectangle // about the dot, device pixels
	u, v  float32         // left top in the atlas
	step  int32           // to the next dot
	known bool
}

// lettering is the letters of one face.
type lettering struct {
	table  [latin]letter
	others map[rune]letter
}

// atlas is one image with a white pixel and every letter drawn so far, so that a whole scene is one batch of triangles.
type atlas struct {
	page  *ebiten.Image
	faces map[*render.Face]*lettering
	at    image.Point // where the next letter goes
	row   int         // height of the row of letters being filled
	fresh int         // counts how often the atlas was emptied
}

// white is the middle of the white corner of the atlas: what rectangles and polygons are cut from.
const white = 1.5

func newAtlas() *atlas {
	a := &atlas{page: ebiten.NewImageWithOptions(image.Rect(0, 0, atlasSide, atlasSide), &ebiten.NewImageOptions{Unmanaged: true})}
	a.empty()
	return a
}

// empty forgets all letters. What was already drawn stays right: the engine draws in the order of calls.
func (a *atlas) empty() {
	a.page.Clear()
	corner := a.page.SubImage(image.Rect(0, 0, 3, 3)).(*ebiten.Image)
	ones := make([]byte, 3*3*4)
	for i := range ones {
		ones[i] = 255
	}
	corner.WritePixels(ones)
	a.faces = map[*render.Face]*lettering{}
	a.at, a.row = image.Pt(4, 0), 4
	a.fresh++
}

// of gives the letters of a face.
func (a *atlas) of(f *render.Face) *lettering {
	l := a.faces[f]
	if l == nil {
		l = &lettering{others: map[rune]letter{}}
		a.faces[f] = l
	}
	return l
}

// letter finds a letter, or draws it; false when the atlas has no room left.
func (a *atlas) letter(f *render.Face, l *lettering, r rune) (letter, bool) {
	if r < latin {
		if g := l.table[r]; g.known {
			return g, true
		}
	} else if g, ok := l.others[r]; ok {
		return g, true
	}
	g, ok := a.draw(f, r)
	if !ok {
		return g, false
	}
	if r < latin {
		l.table[r] = g
	} else {
		l.others[r] = g
	}
	return g, true
}

// draw puts a letter into the atlas.
func (a *atlas) draw(f *render.Face, r rune) (g letter, ok bool) {
	var pixels []byte
	f.With(func(face font.Face) {
		box, mask, at, step, _ := face.Glyph(fixed.Point26_6{}, r) // what no font has is set as another letter
		g = letter{box: box, step: int32(step.Round()), known: true}
		pixels = make([]byte, 0, 4*box.Dx()*box.Dy())
		for y := range box.Dy() {
			for x := range box.Dx() {
				_, _, _, cover := mask.At(at.X+x, at.Y+y).RGBA()
				c := byte(cover >> 8)
				pixels = append(pixels, c, c, c, c)
			}
		}
	})
	if len(pixels) == 0 {
		return g, true
	}
	p, ok := a.room(g.box.Size())
	if !ok {
		return g, false
	}
	a.page.SubImage(image.Rectangle{p, p.Add(g.box.Size())}).(*ebiten.Image).WritePixels(pixels)
	g.u, g.v = float32(p.X), float32(p.Y)
	return g, true
}

// room finds a free place of a size with a pixel of air around it.
func (a *atlas) room(size image.Point) (image.Point, bool) {
	if a.at.X+size.X+1 > atlasSide {
		a.at, a.row = image.Pt(0, a.at.Y+a.row), 0
	}
	if a.at.Y+size.Y+1 > atlasSide || size.X > atlasSide {
		return image.Point{}, false
	}
	p := a.at
	a.at.X += size.X + 1
	a.row = max(a.row, size.Y+1)
	return p, true
}
