package stageplan

import (
	"emberbeat/render/desk/page"
)

// inView says that a command needs the page of the stage plan.
func (st *Stage) inView() string {
	if why := page.NeedShow(st.h); why != "" {
		return why
	}
	if st.h.InView() != ID {
		return "turn to the stage plan first, with " + st.h.Key("book-stage-plan")
	}
	return ""
}

// needEdit says why nothing can be added to the stage plan.
func (st *Stage) needEdit() string {
	if why := st.inView(); why != "" {
		return why
	}
	return page.NeedEdit(st.h)
}

// needVenue says why nothing of a venue can be added to the stage plan.
func (st *Stage) needVenue() string {
	if why := st.needEdit(); why != "" {
		return why
	}
	if st.venueShown() == nil {
		return "no venue is chosen: add one on the page Venues, with " + st.h.Key("book-venues")
	}
	return ""
}

// buttons are the commands above the stage plan.
var buttons = []string{"stage-position", "stage-line", "stage-mark", "stage-zone", "stage-measure", "stage-rings", "delete", "stage-fit"}

func (st *Stage) commands() []page.Command {
	return []page.Command{
		{ID: "stage-position", Name: "Add position", Help: "adds a position in the middle of the stage plan in view", Off: st.needEdit, Run: st.addPosition},
		{ID: "stage-line", Name: "Add audience line", Help: "adds an audience line to the venue of the stage plan", Off: st.needVenue, Run: st.addLine},
		{ID: "stage-mark", Name: "Add mark", Help: "adds a performer's mark to the venue of the stage plan", Off: st.needVenue, Run: st.addMark},
		{ID: "stage-zone", Name: "Add clear zone", Help: "adds a zone that stays clear to the venue of the stage plan", Off: st.needVenue, Run: st.addZone},
		{ID: "stage-measure", Name: "Measure", Help: "the next drag on the stage plan measures the distance between two things", Keys: []string{"D"}, Off: st.inView,
			Run: func() { st.measuring, st.Measure = !st.measuring, nil }},
		{ID: "stage-rings", Name: "All circles", Help: "draws on the stage plan the circles of every position, or only those of what is chosen or too near to something", Off: st.inView,
			Run: func() { st.AllRings = !st.AllRings }},
		{ID: "stage-fit", Name: "Fit the stage", Help: "zooms the stage plan so that all of it is in view", Off: st.inView, Run: st.fit},
	}
}

// acts are what commands of the timeline do on the stage plan.
func (st *Stage) acts() map[string]page.Act {
	nudge := func(dx, dy float64) page.Act { return page.Act{Off: st.needThing, Run: func() { st.nudge(dx, dy) }} }
	step := func(n int) page.Act {
		return page.Act{Off: page.Free, Run: func() { st.Step = min(max(st.Step+n, 0), len(st.steps())-1) }}
	}
	return map[string]page.Act{
		"row-add": {Off: st.needEdit, Run: st.addPosition}, "delete": {Off: st.needThing, Run: st.remove}, "row-remove": {Off: st.needThing, Run: st.remove},
		"frame-back": nudge(-1, 0), "frame-on": nudge(1, 0), "lane-up": nudge(0, 1), "lane-down": nudge(0, -1),
		"beat-back": nudge(-5, 0), "beat-on": nudge(5, 0),
		"cue-on": {Off: page.Free, Run: func() { st.next(1) }}, "cue-back": {Off: page.Free, Run: func() { st.next(-1) }},
		"grid-coarser": step(1), "grid-finer": step(-1),
		"zoom-in": {Off: page.Free, Run: func() { st.zoomBy(1.25) }}, "zoom-out": {Off: page.Free, Run: func() { st.zoomBy(0.8) }},
		"zoom-song":   {Off: page.Free, Run: st.fit},
		"select-none": {Off: page.Free, Run: func() { st.Measure = nil; st.Choose(nothing) }},
	}
}
