package desk

import (
	"image"

	"github.com/hajimehoshi/ebiten/v2"

	"emberbeat/render"
	"emberbeat/render/desk/app"
)

// still keeps the picture of all that stands while something moves over it, so that of a frame in which only that moved no more is painted than it
// covers now and covered before.
type still struct {
	page  *ebiten.Image
	moves int // frames in a row in which only what moves has changed
	was   []image.Rectangle
	now   []image.Rectangle
	both  []image.Rectangle
	blit  ebiten.DrawImageOptions
}

// end says that another frame was made: what is kept is not what stands any more.
func (k *still) end() { k.moves = 0 }

// again counts a frame, and reports whether what stands is worth keeping: not for one frame, since keeping costs as much as painting it all once more.
func (k *still) again() bool {
	k.moves++
	return k.moves > 2 // the first shows what was made, the second may be the last
}

// paint puts a frame on a screen that shows the one before; stand paints what is kept.
func (k *still) paint(screen *ebiten.Image, f *app.Frame, p *painter, stand func(*ebiten.Image, *app.Frame)) {
	size := screen.Bounds().Size()
	if k.page == nil || k.page.Bounds().Size() != size {
		if k.page != nil {
			k.page.Deallocate()
		}
		k.page = ebiten.NewImageWithOptions(image.Rectangle{Max: size}, &ebiten.NewImageOptions{Unmanaged: true})
		k.moves = 3
	}
	if k.moves == 3 {
		stand(k.page, f)
		k.was = append(k.was[:0], image.Rectangle{Max: size})
	}
	k.now = touched(k.now[:0], f.Moving)
	k.both = k.both[:0]
	for _, r := range k.was {
		k.both = cover(k.both, r)
	}
	for _, r := range k.now {
		k.both = cover(k.both, r)
	}
	k.blit.Blend = ebiten.BlendCopy
	for _, r := range k.both {
		k.blit.GeoM.Reset()
		k.blit.GeoM.Translate(float64(r.Min.X), float64(r.Min.Y))
		screen.DrawImage(k.page.SubImage(r).(*ebiten.Image), &k.blit)
	}
	p.paint(screen, f.Moving, f.Theme, true)
	k.was, k.now = k.now, k.was
}

// fringeRoom is how far slanted edges and letters may reach beyond the box of their shape, in pixels.
const fringeRoom = 2

// touched adds to a list the areas in which a scene draws anything.
func touched(list []image.Rectangle, s *render.Scene) []image.Rectangle {
	all := s.Bounds()
	clip := all
	for i := range s.Shapes {
		sh := &s.Shapes[i]
		if sh.Kind == render.KindClip {
			clip = sh.Box.Intersect(all)
			continue
		}
		box := sh.Box
		if sh.Kind != render.KindRect {
			box = box.Inset(-fringeRoom)
		}
		if box = box.Intersect(clip); !box.Empty() {
			list = cover(list, box)
		}
	}
	return list
}

// Of areas that are painted anew: so many at most, and so many pixels more may be painted for one less.
const (
	mostAreas = 16
	fewPixels = 4096
)

// cover adds an area to a list, joined with those that it can be joined with at little cost, so that the list stays short.
func cover(list []image.Rectangle, r image.Rectangle) []image.Rectangle {
	for i := 0; i < len(list); i++ {
		u := list[i].Union(r)
		if pixels(u) > pixels(list[i])+pixels(r)+fewPixels {
			continue
		}
		if u == list[i] {
			return list
		}
		r = u // which may join others now
		list[i] = list[len(list)-1]
		list = list[:len(list)-1]
		i = -1
	}
	if len(list) < mostAreas {
		return append(list, r)
	}
	best, least := 0, -1
	for i := range list {
		if more := pixels(list[i].Union(r)) - pixels(list[i]); least < 0 || more < least {
			best, least = i, more
		}
	}
	list[best] = list[best].Union(r)
	return list
}

func pixels(r image.Rectangle) int { return r.Dx() * r.Dy() }
