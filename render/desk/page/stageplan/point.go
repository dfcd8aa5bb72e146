package stageplan

import (
	"fmt"
	"image"
	"math"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// point works the plan with the pointer.
func (st *Stage) point(c widget.Canvas) {
	f := st
	if st.h.Dragging() {
		st.h.Drive(widget.Primary | widget.Wheel)
		return
	}
	if !c.Hot || f.Scene == nil {
		return
	}
	hit, ok := f.Scene.At(st.h.UI().Input().Pointer)
	switch {
	case c.Pressed&widget.Wheel != 0:
		st.h.Start(&pan{st: st, from: st.h.UI().Input().Pointer, middle: f.View.Middle})
	case c.Pressed&widget.Primary != 0 && f.measuring:
		st.h.Start(&measuring{st: st, from: st.catch(st.h.UI().Input().Pointer)})
	case c.Pressed&widget.Primary != 0 && ok && hit.Kind != render.HitStage:
		st.Choose(render.Chosen{Kind: hit.Kind, ID: hit.ID})
		st.h.Start(newDrag(st))
	case c.Pressed&widget.Primary != 0:
		st.Choose(render.Chosen{})
		st.h.Start(&pan{st: st, from: st.h.UI().Input().Pointer, middle: f.View.Middle})
	}
	if c.Wheel != (image.Point{}) {
		st.wheel(c.Wheel)
	}
}

// wheel zooms with Ctrl under the pointer, and moves the plan without.
func (st *Stage) wheel(by image.Point) {
	v := &st.View
	st.own = true
	switch step := float64(st.h.UI().Px(60)) / v.PerMetre; {
	case st.h.UI().Input().Mods&widget.Ctrl != 0:
		st.zoom(math.Pow(2, -float64(by.Y)/4), st.h.UI().Input().Pointer)
	case st.h.UI().Input().Mods&widget.Shift != 0:
		v.Middle.X += float64(by.Y) * step
	default:
		v.Middle.X += float64(by.X) * step
		v.Middle.Y -= float64(by.Y) * step
	}
	st.h.Again()
}

// Bounds of the zoom in device pixels a metre at a scale of one.
const (
	leastZoom = 2
	mostZoom  = 800
)

// zoom zooms by a factor and keeps the place under a pixel where it is.
func (st *Stage) zoom(by float64, about image.Point) {
	v := &st.View
	st.own = true
	was := v.Place(about)
	v.PerMetre = min(max(v.PerMetre*by, leastZoom), mostZoom)
	now := v.Place(about)
	v.Middle.X, v.Middle.Y = v.Middle.X+was.X-now.X, v.Middle.Y+was.Y-now.Y
	st.h.Again()
}

// zoomBy zooms about the chosen thing, or the middle.
func (st *Stage) zoomBy(by float64) {
	v := &st.View
	about := v.Area.Min.Add(v.Area.Max).Div(2)
	if at, ok := st.At(st.Chosen); ok {
		p := v.Point(at)
		about = image.Pt(int(p.X), int(p.Y))
	}
	st.zoom(by, about)
}

// try shows what a change would make of the plan. What is played does not depend on where things stand, so that the songs are not
// compiled again while something is dragged.
func (st *Stage) try(c change) {
	show, err := st.h.Show().Edit(c.edits...)
	if err != nil {
		st.h.Warn(err.Error())
		return
	}
	bare := *show
	bare.Songs = nil
	var night *timeline.Night
	if n := st.h.Plan().Night; n != nil {
		night = show.Night(n.ID)
	}
	p := timeline.Compile(&bare, night)
	p.Show = show
	st.Trial = st.atVenue(p)
}

// drag moves the chosen thing of the plan.
type drag struct {
	st     *Stage
	at     image.Point
	thing  render.Chosen
	from   timeline.Point
	to     timeline.Point
	begun  bool
	change *change
}

func newDrag(st *Stage) *drag {
	g := &drag{st: st, at: st.h.UI().Input().Pointer, thing: st.Chosen}
	g.from, _ = g.st.At(g.thing)
	g.to = g.from
	return g
}

func (g *drag) Move(in *widget.Input) {
	d := in.Pointer.Sub(g.at)
	if !g.begun {
		if far := g.st.h.UI().Px(page.Slack); max(d.X, -d.X, d.Y, -d.Y) < far {
			return
		}
		if why := g.st.needThing(); why != "" {
			g.st.h.Warn(why)
			return
		}
		g.begun = true
	}
	metre := g.st.View.PerMetre
	to := timeline.Point{X: g.from.X + float64(d.X)/metre, Y: g.from.Y - float64(d.Y)/metre}
	if in.Mods&widget.Shift != 0 {
		if max(d.X, -d.X) >= max(d.Y, -d.Y) {
			to.Y = g.from.Y
		} else {
			to.X = g.from.X
		}
	}
	to = g.st.snap(to, in.Mods&widget.Alt != 0)
	if g.change != nil && to == g.to {
		return
	}
	g.to = to
	c := g.st.move(g.thing, to)
	g.change = &c
	g.st.try(c)
}

func (g *drag) Done() {
	g.st.Trial = nil
	if g.change != nil && g.to != g.from {
		g.st.do(*g.change)
	}
}

func (g *drag) Cancel() { g.st.Trial = nil }

func (g *drag) Help() string {
	return fmt.Sprintf("at %s   Alt: snap the other way   Shift: keep to one axis   Esc: leave it", g.st.placeText(g.to))
}

// pan moves the view.
type pan struct {
	st     *Stage
	from   image.Point
	middle timeline.Point
}

func (g *pan) Move(in *widget.Input) {
	v := &g.st.View
	d := in.Pointer.Sub(g.from)
	g.st.own = g.st.own || d != (image.Point{})
	v.Middle = timeline.Point{X: g.middle.X - float64(d.X)/v.PerMetre, Y: g.middle.Y + float64(d.Y)/v.PerMetre}
}

func (g *pan) Done()        {}
func (g *pan) Cancel()      { g.st.View.Middle = g.middle }
func (g *pan) Help() string { return "Drag moves the view   Ctrl+wheel: zoom" }

// measuring measures a distance.
type measuring struct {
	st   *Stage
	from timeline.Point
}

func (g *measuring) Move(in *widget.Input) {
	g.st.Measure = []timeline.Point{g.from, g.st.catch(in.Pointer)}
}

func (g *measuring) Done() {
	g.st.measuring = false
	if m := g.st.Measure; m[0] == m[1] {
		g.st.Measure = nil
	} else {
		g.st.h.Tell(fmt.Sprintf("%s from %s to %s", render.Length(g.st.told(), math.Hypot(m[1].X-m[0].X, m[1].Y-m[0].Y)), g.st.placeText(m[0]), g.st.placeText(m[1])))
	}
}

func (g *measuring) Cancel() { g.st.Measure, g.st.measuring = nil, false }

func (g *measuring) Help() string {
	return "Release on the other thing: positions, ends of lines and marks are caught   Esc: leave it"
}

// catchReach is how near in logical pixels a measured end must be to a thing to be caught by it.
const catchReach = 12

// catch gives the place under a pixel, or that of the thing nearest to it within reach.
func (st *Stage) catch(p image.Point) timeline.Point {
	v := &st.View
	best, place := float64(st.h.UI().Px(catchReach)), v.Place(p)
	at := timeline.Point{X: roundTo(place.X, 0.01), Y: roundTo(place.Y, 0.01)}
	for _, c := range st.things() {
		q, ok := st.At(c)
		if !ok {
			continue
		}
		s := v.Point(q)
		if away := math.Hypot(float64(s.X)-float64(p.X), float64(s.Y)-float64(p.Y)); away < best {
			best, at = away, q
		}
	}
	return at
}

// fit brings all of the stage into view.
func (st *Stage) fit() { st.own, st.fitted = false, image.Rectangle{} }
