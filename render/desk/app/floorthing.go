package app

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"

	"emberbeat/render"
	"emberbeat/timeline"
)

// venueOnFloor gives the venue whose lines and marks the page shows, or nil.
func (a *App) venueOnFloor() *timeline.Venue {
	if v := a.work.plan.Venue; v != nil {
		return a.work.s.Show().Venue(v.ID)
	}
	return a.work.s.Show().Venue(a.floor.venue)
}

// thingAt gives where a thing of the stage plan stands now; false where it is gone.
func (a *App) thingAt(c render.Chosen) (timeline.Point, bool) {
	if c.Kind == render.HitPosition {
		p := a.work.s.Show().Rig.Position(timeline.ID(c.ID))
		if p == nil {
			return timeline.Point{}, false
		}
		return timeline.Point{X: p.X, Y: p.Y}, true
	}
	v := a.venueOnFloor()
	i, err := strconv.Atoi(c.ID)
	if v == nil || err != nil {
		return timeline.Point{}, false
	}
	switch c.Kind {
	case render.HitLine, render.HitLineFrom, render.HitLineTo:
		if i < len(v.Audience) {
			if c.Kind == render.HitLineTo {
				return v.Audience[i].To, true
			}
			return v.Audience[i].From, true
		}
	case render.HitMark:
		if i < len(v.Performers) {
			return v.Performers[i].At, true
		}
	case render.HitZone:
		if i < len(v.Clear) {
			return v.Clear[i].At, true
		}
	}
	return timeline.Point{}, false
}

// thingName names a thing of the stage plan.
func (a *App) thingName(c render.Chosen) string {
	show, v := a.work.s.Show(), a.venueOnFloor()
	i, _ := strconv.Atoi(c.ID)
	switch {
	case c.Kind == render.HitPosition:
		if p := show.Rig.Position(timeline.ID(c.ID)); p != nil {
			return "position " + cmp.Or(p.Name, string(p.ID))
		}
	case v == nil:
	case c.Kind == render.HitMark && i < len(v.Performers):
		return "performer's mark " + v.Performers[i].Name
	case c.Kind == render.HitZone && i < len(v.Clear):
		return "clear zone " + v.Clear[i].Name
	case i < len(v.Audience):
		return "audience line " + v.Audience[i].Name
	}
	return ""
}

// moveThing gives the change that brings a thing to a place. A whole line keeps its length and direction.
func (a *App) moveThing(c render.Chosen, to timeline.Point) change {
	label := "move " + a.thingName(c) + " to " + placeText(to)
	if c.Kind == render.HitPosition {
		return change{label, []timeline.Edit{func(d *timeline.Draft) error {
			old := d.Show().Rig.Position(timeline.ID(c.ID))
			if old == nil {
				return fmt.Errorf("position:%s: there is no such record", c.ID)
			}
			p := *old
			p.X, p.Y = to.X, to.Y
			d.Put("", &p)
			return nil
		}}}
	}
	return a.venueChange(label, func(v *timeline.Venue) error {
		i, _ := strconv.Atoi(c.ID)
		switch c.Kind {
		case render.HitMark:
			v.Performers[i].At = to
		case render.HitZone:
			v.Clear[i].At = to
		case render.HitLineFrom:
			v.Audience[i].From = to
		case render.HitLineTo:
			v.Audience[i].To = to
		case render.HitLine:
			l := &v.Audience[i]
			l.To = timeline.Point{X: roundTo(l.To.X+to.X-l.From.X, 0.001), Y: roundTo(l.To.Y+to.Y-l.From.Y, 0.001)}
			l.From = to
		}
		return nil
	})
}

// venueChange gives a change of the venue on the page, whose lists may be written into.
func (a *App) venueChange(label string, set func(*timeline.Venue) error) change {
	shown := a.venueOnFloor()
	if shown == nil {
		return change{label, []timeline.Edit{func(*timeline.Draft) error {
			return fmt.Errorf("no venue is chosen; choose one above the plan, or add one with %s", a.key("book-venues"))
		}}}
	}
	return change{label, []timeline.Edit{timeline.EditVenue(shown.ID, func(_ *timeline.Show, v *timeline.Venue) error { return set(v) })}}
}

// chooseThing chooses a thing on the plan; a position is shown in the inspector as well.
func (a *App) chooseThing(c render.Chosen) {
	a.floor.chosen = c
	a.book.refs = nil
	if c.Kind == render.HitPosition {
		a.book.refs = []timeline.Ref{{Kind: "position", ID: timeline.ID(c.ID)}}
	}
	a.panel.record = timeline.Ref{}
	a.again = true
}

// things lists all that can be chosen, in the order of the Tab key.
func (a *App) things() []render.Chosen {
	var list []render.Chosen
	for _, p := range a.work.s.Show().Rig.Positions {
		list = append(list, render.Chosen{Kind: render.HitPosition, ID: string(p.ID)})
	}
	v := a.venueOnFloor()
	if v == nil {
		return list
	}
	for i := range v.Audience {
		for _, kind := range []render.HitKind{render.HitLine, render.HitLineFrom, render.HitLineTo} {
			list = append(list, render.Chosen{Kind: kind, ID: strconv.Itoa(i)})
		}
	}
	for i := range v.Performers {
		list = append(list, render.Chosen{Kind: render.HitMark, ID: strconv.Itoa(i)})
	}
	for i := range v.Clear {
		list = append(list, render.Chosen{Kind: render.HitZone, ID: strconv.Itoa(i)})
	}
	return list
}

// stepThing chooses the thing after or before the one that is chosen.
func (a *App) stepThing(n int) {
	list := a.things()
	if len(list) == 0 {
		a.tell("there is nothing on the plan yet; %s adds a position", a.key("row-add"))
		return
	}
	at := slices.Index(list, a.floor.chosen)
	if at < 0 && n < 0 {
		at = 0
	}
	a.chooseThing(list[(at+n+len(list))%len(list)])
}

// nudgeThing moves the chosen thing by steps of the snap, as one step of undo with those that follow quickly.
func (a *App) nudgeThing(dx, dy float64) {
	c := a.floor.chosen
	at, ok := a.thingAt(c)
	if !ok {
		return
	}
	step := floorSteps[a.floor.step]
	to := timeline.Point{X: roundTo(at.X+dx*step, 0.001), Y: roundTo(at.Y+dy*step, 0.001)}
	a.doAs("nudge "+string(c.Kind)+c.ID, a.moveThing(c, to))
}

// needThing says why nothing on the plan can be moved or deleted.
func needThing(a *App) string {
	if why := needEdit(a); why != "" {
		return why
	}
	if _, ok := a.thingAt(a.floor.chosen); !ok {
		return "choose something on the plan first, with the pointer or " + a.key("cue-on")
	}
	return ""
}

// removeThing takes the chosen thing out; a line goes whole.
func (a *App) removeThing() {
	c := a.floor.chosen
	label := "remove " + a.thingName(c)
	i, _ := strconv.Atoi(c.ID)
	var ch change
	switch c.Kind {
	case render.HitPosition:
		ch = change{label, []timeline.Edit{func(d *timeline.Draft) error {
			return d.Remove(timeline.Ref{Kind: "position", ID: timeline.ID(c.ID)})
		}}}
	case render.HitMark:
		ch = a.venueChange(label, func(v *timeline.Venue) error { v.Performers = slices.Delete(v.Performers, i, i+1); return nil })
	case render.HitZone:
		ch = a.venueChange(label, func(v *timeline.Venue) error { v.Clear = slices.Delete(v.Clear, i, i+1); return nil })
	default:
		ch = a.venueChange(label, func(v *timeline.Venue) error { v.Audience = slices.Delete(v.Audience, i, i+1); return nil })
	}
	if a.do(ch) {
		a.chooseThing(render.Chosen{})
	}
}

// newPlace is where a new thing goes: the middle of what is in view, on the snap.
func (a *App) newPlace() timeline.Point { return a.floorSnap(a.floor.view.Middle, !a.prefs.Snap) }

func (a *App) addPosition() {
	at := a.newPlace()
	id := a.work.ids()("position", "")
	p := timeline.KindOf("position").New(id).(*timeline.StagePosition)
	p.Name, p.X, p.Y = "Position "+strconv.Itoa(len(a.work.shown.Rig.Positions)+1), at.X, at.Y
	if a.do(change{"add " + p.Name, put("", p)}) {
		a.chooseThing(render.Chosen{Kind: render.HitPosition, ID: string(id)})
	}
}

func (a *App) addLine() {
	at, n := a.newPlace(), 0
	c := a.venueChange("add audience line", func(v *timeline.Venue) error {
		n = len(v.Audience)
		v.Audience = append(v.Audience, timeline.PlanLine{Name: "line " + strconv.Itoa(n+1), From: timeline.Point{X: at.X - 5, Y: at.Y}, To: timeline.Point{X: at.X + 5, Y: at.Y}})
		return nil
	})
	if a.do(c) {
		a.chooseThing(render.Chosen{Kind: render.HitLine, ID: strconv.Itoa(n)})
	}
}

func (a *App) addMark() {
	a.addCircle("add performer's mark", "performer ", 1, render.HitMark, func(v *timeline.Venue) *[]timeline.PlanMark { return &v.Performers })
}

func (a *App) addZone() {
	a.addCircle("add clear zone", "zone ", 2, render.HitZone, func(v *timeline.Venue) *[]timeline.PlanMark { return &v.Clear })
}

// addCircle adds a mark of a radius in metres to one of the venue's lists, and chooses it.
func (a *App) addCircle(label, name string, radius float64, hit render.HitKind, list func(*timeline.Venue) *[]timeline.PlanMark) {
	at, n := a.newPlace(), 0
	c := a.venueChange(label, func(v *timeline.Venue) error {
		marks := list(v)
		n = len(*marks)
		*marks = append(*marks, timeline.PlanMark{Name: name + strconv.Itoa(n+1), At: at, Radius: radius})
		return nil
	})
	if a.do(c) {
		a.chooseThing(render.Chosen{Kind: hit, ID: strconv.Itoa(n)})
	}
}

// thingNone is nothing chosen.
var thingNone render.Chosen
