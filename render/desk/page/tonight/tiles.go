package tonight

import (
	"image"
	"strconv"

	"emberbeat/render"
	"emberbeat/render/widget"
	"emberbeat/shows/report/night"
)

// Tile is a number with what it counts; strong ones want an eye.
type Tile struct {
	Number, Word string
	strong       bool
}

// tiles draws the counts of the night.
func tiles(u *widget.UI, r image.Rectangle, t *night.Tonight) {
	s := u.Scene()
	list := Tiles(t)
	for i, x := range list {
		box := widget.Columns(r, len(list), i, s.Px(8))
		s.Rect(box, render.InkLane)
		s.Frame(box, s.Px(1), render.InkBar)
		in := box.Inset(s.Px(6))
		in.Min.X += s.Px(4)
		ink := render.InkSecondary
		if x.strong {
			ink = render.InkText
			s.Rect(image.Rect(box.Min.X, box.Min.Y, box.Min.X+s.Px(4), box.Max.Y), render.InkText)
		}
		k := u.Stack(in, 0)
		s.TextCut(k.Top(30), render.TypeCounter, ink, x.Number)
		u.Label(k.Rest(), render.TypeSmall, ink, x.Word)
	}
}

// Tiles gives the counts of a night.
func Tiles(t *night.Tonight) []Tile {
	hits, cut, swapped, open, thin, swaps := 0, 0, 0, 0, 0, 0
	for i := range t.Songs {
		s := &t.Songs[i]
		hits, cut, swapped, open = hits+s.Hits, cut+s.Cut, swapped+s.Swapped, open+s.Lost+s.Partly
		if s.Thin {
			thin++
		}
	}
	for i := range t.Supplies {
		swaps += len(t.Supplies[i].Swaps)
	}
	n := func(n int, word string, eye bool) Tile { return Tile{strconv.Itoa(n), word, eye && n > 0} }
	findings := t.Checked.Errors + t.Checked.Warnings + t.Checked.Notes - t.Checked.Accepted
	return []Tile{n(len(t.Songs), "songs", false), n(hits, "cues", false), n(cut, "cut", false), n(swapped, "swapped", false), n(open, "unresolved", true),
		n(thin, "thin songs", true), n(t.Used.Pieces, "to load", false), n(swaps, "supply swaps", false), n(findings, "findings", true), n(len(t.Sign), "to sign", false)}
}
