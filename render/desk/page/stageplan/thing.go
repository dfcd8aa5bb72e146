package stageplan

import (
	"fmt"
	"slices"
	"strconv"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/timeline"
)

// venueShown gives the venue whose lines and marks the page shows, or nil.
func (st *Stage) venueShown() *timeline.Venue {
	if v := st.h.Plan().Venue; v != nil {
		return st.h.Show().Venue(v.ID)
	}
	return st.h.Show().Venue(st.Venue)
}

// At gives where a thing of the stage plan stands now; false where it is gone.
func (st *Stage) At(c render.Chosen) (timeline.Point, bool) {
	if c.Kind == render.HitPosition {
		p := st.h.Show().Rig.Position(timeline.ID(c.ID))
		if p == nil {
			return timeline.Point{}, false
		}
		return timeline.Point{X: p.X, Y: p.Y}, true
	}
	v := st.venueShown()
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

// name names a thing of the stage plan.
func (st *Stage) name(c render.Chosen) string {
	show, v := st.h.Show(), st.venueShown()
	i, _ := strconv.Atoi(c.ID)
	switch {
	case c.Kind == render.HitPosition:
		if p := show.Rig.Position(timeline.ID(c.ID)); p != nil {
			return "position " + show.Called(p)
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

// move gives the change that brings a thing to a place. A whole line keeps its length and direction.
func (st *Stage) move(c render.Chosen, to timeline.Point) change {
	label := "move " + st.name(c) + " to " + st.placeText(to)
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
	return st.venueChange(label, func(v *timeline.Venue) error {
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
func (st *Stage) venueChange(label string, set func(*timeline.Venue) error) change {
	shown := st.venueShown()
	if shown == nil {
		return change{label, []timeline.Edit{func(*timeline.Draft) error {
			return fmt.Errorf("no venue is chosen; choose one above the plan, or add one with %s", st.h.Key("book-venues"))
		}}}
	}
	return change{label, []timeline.Edit{timeline.EditVenue(shown.ID, func(_ *timeline.Show, v *timeline.Venue) error { return set(v) })}}
}

// Choose chooses a thing on the plan; a position is shown in the inspector as well.
func (st *Stage) Choose(c render.Chosen) {
	st.Chosen = c
	st.h.Choose()
	if c.Kind == render.HitPosition {
		st.h.Choose(timeline.Ref{Kind: "position", ID: timeline.ID(c.ID)})
	}
	st.h.Forget()
	st.h.Again()
}

// things lists all that can be chosen, in the order of the Tab key.
func (st *Stage) things() []render.Chosen {
	var list []render.Chosen
	for _, p := range st.h.Show().Rig.Positions {
		list = append(list, render.Chosen{Kind: render.HitPosition, ID: string(p.ID)})
	}
	v := st.venueShown()
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

// next chooses the thing after or before the one that is chosen.
func (st *Stage) next(n int) {
	list := st.things()
	if len(list) == 0 {
		st.h.Tell(fmt.Sprintf("there is nothing on the plan yet; %s adds a position", st.h.Key("row-add")))
		return
	}
	at := slices.Index(list, st.Chosen)
	if at < 0 && n < 0 {
		at = 0
	}
	st.Choose(list[(at+n+len(list))%len(list)])
}

// nudge moves the chosen thing by steps of the snap, as one step of undo with those that follow quickly.
func (st *Stage) nudge(dx, dy float64) {
	c := st.Chosen
	at, ok := st.At(c)
	if !ok {
		return
	}
	step := st.steps()[st.Step]
	to := timeline.Point{X: roundTo(at.X+dx*step, 0.001), Y: roundTo(at.Y+dy*step, 0.001)}
	st.doAs("nudge "+string(c.Kind)+c.ID, st.move(c, to))
}

// needThing says why nothing on the plan can be moved or deleted.
func (st *Stage) needThing() string {
	if why := page.NeedEdit(st.h); why != "" {
		return why
	}
	if _, ok := st.At(st.Chosen); !ok {
		return "choose something on the plan first, with the pointer or " + st.h.Key("cue-on")
	}
	return ""
}

// remove takes the chosen thing out; a line goes whole.
func (st *Stage) remove() {
	c := st.Chosen
	label := "remove " + st.name(c)
	i, _ := strconv.Atoi(c.ID)
	var ch change
	switch c.Kind {
	case render.HitPosition:
		ch = change{label, []timeline.Edit{func(d *timeline.Draft) error {
			return d.Remove(timeline.Ref{Kind: "position", ID: timeline.ID(c.ID)})
		}}}
	case render.HitMark:
		ch = st.venueChange(label, func(v *timeline.Venue) error { v.Performers = slices.Delete(v.Performers, i, i+1); return nil })
	case render.HitZone:
		ch = st.venueChange(label, func(v *timeline.Venue) error { v.Clear = slices.Delete(v.Clear, i, i+1); return nil })
	default:
		ch = st.venueChange(label, func(v *timeline.Venue) error { v.Audience = slices.Delete(v.Audience, i, i+1); return nil })
	}
	if st.do(ch) {
		st.Choose(render.Chosen{})
	}
}

// newPlace is where a new thing goes: the middle of what is in view, on the snap.
func (st *Stage) newPlace() timeline.Point { return st.snap(st.View.Middle, !st.h.Snap()) }

func (st *Stage) addPosition() {
	at := st.newPlace()
	id := st.h.NewIDs()("position", "")
	p := timeline.KindOf("position").New(id).(*timeline.StagePosition)
	p.Name, p.X, p.Y = "Position "+strconv.Itoa(len(st.h.Show().Rig.Positions)+1), at.X, at.Y
	if st.do(change{"add " + p.Name, []timeline.Edit{page.Put("", p)}}) {
		st.Choose(render.Chosen{Kind: render.HitPosition, ID: string(id)})
	}
}

func (st *Stage) addLine() {
	at, n := st.newPlace(), 0
	c := st.venueChange("add audience line", func(v *timeline.Venue) error {
		n = len(v.Audience)
		v.Audience = append(v.Audience, timeline.PlanLine{Name: "line " + strconv.Itoa(n+1), From: timeline.Point{X: at.X - 5, Y: at.Y}, To: timeline.Point{X: at.X + 5, Y: at.Y}})
		return nil
	})
	if st.do(c) {
		st.Choose(render.Chosen{Kind: render.HitLine, ID: strconv.Itoa(n)})
	}
}

func (st *Stage) addMark() {
	st.addCircle("add performer's mark", "performer ", 1, render.HitMark, func(v *timeline.Venue) *[]timeline.PlanMark { return &v.Performers })
}

func (st *Stage) addZone() {
	st.addCircle("add clear zone", "zone ", 2, render.HitZone, func(v *timeline.Venue) *[]timeline.PlanMark { return &v.Clear })
}

// addCircle adds a mark of a radius in metres to one of the venue's lists, and chooses it.
func (st *Stage) addCircle(label, name string, radius float64, hit render.HitKind, list func(*timeline.Venue) *[]timeline.PlanMark) {
	at, n := st.newPlace(), 0
	c := st.venueChange(label, func(v *timeline.Venue) error {
		marks := list(v)
		n = len(*marks)
		*marks = append(*marks, timeline.PlanMark{Name: name + strconv.Itoa(n+1), At: at, Radius: radius})
		return nil
	})
	if st.do(c) {
		st.Choose(render.Chosen{Kind: hit, ID: strconv.Itoa(n)})
	}
}

// nothing is nothing chosen.
var nothing render.Chosen
