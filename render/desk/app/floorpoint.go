package app

import (
	"fmt"
	"image"
	"math"

	"emberbeat/render"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// floorPoint works the plan with the pointer.
func (a *App) floorPoint(c widget.Canvas) {
	f := &a.floor
	if a.gesture != nil {
		a.drive(widget.Primary | widget.Wheel)
		return
	}
	if !c.Hot || f.scene == nil {
		return
	}
	hit, ok := f.scene.At(a.in.Pointer)
	switch {
	case c.Pressed&widget.Wheel != 0:
		a.start(&floorPan{from: a.in.Pointer, middle: f.view.Middle})
	case c.Pressed&widget.Primary != 0 && f.measuring:
		a.start(&floorMeasure{from: a.floorCatch(a.in.Pointer)})
	case c.Pressed&widget.Primary != 0 && ok && hit.Kind != render.HitStage:
		a.chooseThing(render.Chosen{Kind: hit.Kind, ID: hit.ID})
		a.start(newFloorDrag(a))
	case c.Pressed&widget.Primary != 0:
		a.chooseThing(render.Chosen{})
		a.start(&floorPan{from: a.in.Pointer, middle: f.view.Middle})
	}
	if c.Wheel != (image.Point{}) {
		a.floorWheel(c.Wheel)
	}
}

// floorWheel zooms with Ctrl under the pointer, and moves the plan without.
func (a *App) floorWheel(by image.Point) {
	v := &a.floor.view
	a.floor.own = true
	switch step := float64(a.Scale().Px(60)) / v.PerMetre; {
	case a.in.Mods&widget.Ctrl != 0:
		a.zoomFloor(math.Pow(2, -float64(by.Y)/4), a.in.Pointer)
	case a.in.Mods&widget.Shift != 0:
		v.Middle.X += float64(by.Y) * step
	default:
		v.Middle.X += float64(by.X) * step
		v.Middle.Y -= float64(by.Y) * step
	}
	a.again = true
}

// Bounds of the zoom in device pixels a metre at a scale of one.
const (
	leastZoom = 2
	mostZoom  = 800
)

// zoomFloor zooms by a factor and keeps the place under a pixel where it is.
func (a *App) zoomFloor(by float64, about image.Point) {
	v := &a.floor.view
	a.floor.own = true
	was := v.Place(about)
	v.PerMetre = min(max(v.PerMetre*by, leastZoom), mostZoom)
	now := v.Place(about)
	v.Middle.X, v.Middle.Y = v.Middle.X+was.X-now.X, v.Middle.Y+was.Y-now.Y
	a.again = true
}

// zoomFloorBy zooms about the chosen thing, or the middle.
func (a *App) zoomFloorBy(by float64) {
	v := &a.floor.view
	about := v.Area.Min.Add(v.Area.Max).Div(2)
	if at, ok := a.thingAt(a.floor.chosen); ok {
		p := v.Point(at)
		about = image.Pt(int(p.X), int(p.Y))
	}
	a.zoomFloor(by, about)
}

// tryFloor shows what a change would make of the plan. What is played does not depend on where things stand, so that the songs are not
// compiled again while something is dragged.
func (a *App) tryFloor(c change) {
	show, err := a.work.s.Show().Edit(c.edits...)
	if err != nil {
		a.note = note{text: err.Error(), bad: true}
		return
	}
	bare := *show
	bare.Songs = nil
	p := timeline.Compile(&bare, show.Night(a.work.night))
	p.Show = show
	a.floor.trial = a.atVenue(p)
}

// floorDrag moves the chosen thing of the plan.
type floorDrag struct {
	at     image.Point
	thing  render.Chosen
	from   timeline.Point
	to     timeline.Point
	begun  bool
	change *change
}

func newFloorDrag(a *App) *floorDrag {
	g := &floorDrag{at: a.in.Pointer, thing: a.floor.chosen}
	g.from, _ = a.thingAt(g.thing)
	g.to = g.from
	return g
}

func (g *floorDrag) move(a *App, in *widget.Input) {
	d := in.Pointer.Sub(g.at)
	if !g.begun {
		if far := a.Scale().Px(slack); max(d.X, -d.X, d.Y, -d.Y) < far {
			return
		}
		if why := needThing(a); why != "" {
			a.note = note{text: why, bad: true}
			return
		}
		g.begun = true
	}
	metre := a.floor.view.PerMetre
	to := timeline.Point{X: g.from.X + float64(d.X)/metre, Y: g.from.Y - float64(d.Y)/metre}
	if in.Mods&widget.Shift != 0 {
		if max(d.X, -d.X) >= max(d.Y, -d.Y) {
			to.Y = g.from.Y
		} else {
			to.X = g.from.X
		}
	}
	to = a.floorSnap(to, in.Mods&widget.Alt != 0)
	if g.change != nil && to == g.to {
		return
	}
	g.to = to
	c := a.moveThing(g.thing, to)
	g.change = &c
	a.tryFloor(c)
}

func (g *floorDrag) done(a *App) {
	a.floor.trial = nil
	if g.change != nil && g.to != g.from {
		a.do(*g.change)
	}
}

func (g *floorDrag) cancel(a *App) { a.floor.trial = nil }

func (g *floorDrag) help() string {
	return fmt.Sprintf("at %s   Alt: snap the other way   Shift: keep to one axis   Esc: leave it", placeText(g.to))
}

// floorPan moves the view.
type floorPan struct {
	from   image.Point
	middle timeline.Point
}

func (g *floorPan) move(a *App, in *widget.Input) {
	v := &a.floor.view
	d := in.Pointer.Sub(g.from)
	a.floor.own = a.floor.own || d != (image.Point{})
	v.Middle = timeline.Point{X: g.middle.X - float64(d.X)/v.PerMetre, Y: g.middle.Y + float64(d.Y)/v.PerMetre}
}

func (g *floorPan) done(*App)     {}
func (g *floorPan) cancel(a *App) { a.floor.view.Middle = g.middle }
func (g *floorPan) help() string  { return "Drag moves the view   Ctrl+wheel: zoom" }

// floorMeasure measures a distance.
type floorMeasure struct{ from timeline.Point }

func (g *floorMeasure) move(a *App, in *widget.Input) {
	a.floor.measure = []timeline.Point{g.from, a.floorCatch(in.Pointer)}
}

func (g *floorMeasure) done(a *App) {
	a.floor.measuring = false
	if m := a.floor.measure; m[0] == m[1] {
		a.floor.measure = nil
	} else {
		a.tell("%s from %s to %s", render.Metres(math.Hypot(m[1].X-m[0].X, m[1].Y-m[0].Y)), placeText(m[0]), placeText(m[1]))
	}
}

func (g *floorMeasure) cancel(a *App) { a.floor.measure, a.floor.measuring = nil, false }

func (g *floorMeasure) help() string {
	return "Release on the other thing: positions, ends of lines and marks are caught   Esc: leave it"
}

// catchReach is how near in logical pixels a measured end must be to a thing to be caught by it.
const catchReach = 12

// floorCatch gives the place under a pixel, or that of the thing nearest to it within reach.
func (a *App) floorCatch(p image.Point) timeline.Point {
	v := &a.floor.view
	best, place := float64(a.Scale().Px(catchReach)), v.Place(p)
	at := timeline.Point{X: roundTo(place.X, 0.01), Y: roundTo(place.Y, 0.01)}
	for _, c := range a.things() {
		q, ok := a.thingAt(c)
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

// fitFloor brings all of the stage into view.
func (a *App) fitFloor() { a.floor.own, a.floor.fitted = false, image.Rectangle{} }
