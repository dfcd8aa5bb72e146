package ribbon

import (
	"image"

	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
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

func (g *carrying) Help() string {
	return "Drag: to another place of the running order   Esc: leave it"
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
	at := b.entry[from]
	if at < 0 {
		b.h.Warn(b.songs[from].FullTitle() + " is not in the set that is played: bring it in on the page of sets, " + b.h.Key("book-sets"))
		return
	}
	to := -1
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
