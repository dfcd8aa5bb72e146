package ribbon

import (
	"image"
	"strconv"

	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// carrying takes a song to another place of the running order.
type carrying struct {
	b     *Ribbon
	from  int
	to    int // gap before this tile
	at    image.Point
	begun bool
}

func (g *carrying) Move(in *widget.Input) {
	u := g.b.h.UI()
	if d := in.Pointer.X - g.at.X; !g.begun && max(d, -d) < u.Px(page.Slack) {
		return
	}
	g.begun = true
	g.to = g.b.tiles.Gap(u.Scene().Scale, in.Pointer.X)
}

func (g *carrying) Done() {
	b := g.b
	b.grab = nil
	if g.begun {
		b.move(g.from, g.to)
	}
}

func (g *carrying) Cancel() { g.b.grab = nil }

// Help says at which number the song would be played, and what that would come to as soon as it is known.
func (g *carrying) Help() string {
	b := g.b
	at, to := -1, -1
	if g.begun && b.set != nil && page.NeedEdit(b.h) == "" {
		at, to = b.places(g.from, g.to)
	}
	if at < 0 || at == to {
		return "Drag: to another place of the running order   Esc: leave it"
	}
	text := "Place " + strconv.Itoa(to+1) + ": "
	if would, known := b.h.Would(page.MoveKey(b.set, at, to), timeline.MoveEntry(b.set.ID, at, to)); known {
		return text + would
	}
	return text + "looking what that would change…"
}

// places gives the entry of a tile, -1 where it is not played, and the place among the entries that it would go to, before the tile at a gap.
func (b *Ribbon) places(from, gap int) (at, to int) {
	if at = b.entry[from]; at < 0 {
		return -1, -1
	}
	to = -1
	for i, e := range b.entry { // the first tile from the gap on that is played, else behind the last
		if e < 0 {
			continue
		}
		if to = e + 1; i >= gap {
			to = e
			break
		}
	}
	if to > at {
		to--
	}
	return at, to
}

// move plays the song of a tile before that of another.
func (b *Ribbon) move(from, gap int) {
	if why := page.NeedEdit(b.h); why != "" {
		b.h.Warn(why)
		return
	}
	if b.set == nil {
		b.h.Warn("the show has no set yet: all songs are played by timecode; make a set on the page " + b.h.Key("book-sets"))
		return
	}
	at, to := b.places(from, gap)
	if at < 0 {
		b.h.Warn(b.songs[from].FullTitle() + " is not in the set that is played: bring it in on the page of sets, " + b.h.Key("book-sets"))
		return
	}
	if to != at {
		page.MoveEntry(b.h, b.set, at, to)
	}
}

// Step moves the song in view by places in the running order.
func (b *Ribbon) Step(by int) {
	b.gather()
	at := b.tiles.Now
	if at < 0 {
		return
	}
	if gap := at + by; by < 0 {
		b.move(at, max(gap, 0))
	} else {
		b.move(at, min(gap+1, len(b.songs)))
	}
}
