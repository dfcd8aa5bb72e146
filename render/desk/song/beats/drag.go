package beats

import (
	"fmt"
	"image"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
	"emberbeat/timeline/grid"
	"emberbeat/timeline/snap"
)

// lineDrag moves the line of a bar.
type lineDrag struct {
	s     *Strip
	bar   int
	was   timeline.Time
	from  image.Point
	begun bool
}

// Grab begins to move the line of a bar.
func (s *Strip) Grab(bar int) {
	s.h.Start(&lineDrag{s: s, bar: bar, was: s.Beats().BarStart(bar), from: s.h.UI().Input().Pointer})
}

// lineReach is how near in logical pixels an attack draws a line.
const lineReach = 8

func (g *lineDrag) Move(in *widget.Input) {
	d := in.Pointer.X - g.from.X
	if !g.begun && max(d, -d) < g.s.h.UI().Px(page.Slack) {
		return
	}
	g.begun = true
	at := g.was + g.s.h.TimeAt(in.Pointer.X) - g.s.h.TimeAt(g.from.X)
	if g.s.h.Snaps() != (in.Mods&widget.Alt != 0) {
		if c := snap.New(nil, snap.Hits, timeline.Rat{}, g.s.Attacks(g.s.song), snap.Strong).Near(at, g.s.h.Reach(lineReach)); c.Name != "" {
			at = c.At
		}
	}
	c := grid.Correction{Kind: grid.Line, Bar: g.bar, At: at}
	switch {
	case in.Mods&widget.Ctrl != 0:
		c.Reach = grid.After
	case in.Mods&widget.Shift != 0:
		c.Reach = grid.Only
	}
	if g.s.dragged != nil && *g.s.dragged == c {
		return
	}
	by := at - g.was
	word := "later"
	if by < 0 {
		by, word = -by, "earlier"
	}
	g.s.dragged = &c
	g.s.drag = &render.BeatDrag{Bar: g.bar, At: at, Head: fmt.Sprintf("Bar %d %s by %.0f ms", g.bar, word, 1000*by.Seconds()), Keys: "Ctrl: all after it   Shift: this bar only   Alt: snap the other way   Esc"}
	g.s.changed()
}

func (g *lineDrag) Done() {
	c := g.s.dragged
	g.s.dragged, g.s.drag = nil, nil
	if c == nil {
		g.s.changed()
		return
	}
	g.s.Try(*c)
}

func (g *lineDrag) Cancel() {
	g.s.dragged, g.s.drag = nil, nil
	g.s.changed()
}

func (g *lineDrag) Help() string {
	return "Plain: the whole grid   Ctrl: all after it   Shift: this bar only   Alt: snap the other way   Esc: leave it"
}
