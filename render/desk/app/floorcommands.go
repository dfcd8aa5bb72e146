package app

import (
	"emberbeat/render/desk/page"
)

// onFloor says that a command needs the page of the stage plan.
func onFloor(a *App) string {
	if why := needShow(a); why != "" {
		return why
	}
	if a.book.at != "stage-plan" {
		return "turn to the stage plan first, with " + a.key("book-stage-plan")
	}
	return ""
}

// needFloor says why nothing can be added to the stage plan.
func needFloor(a *App) string {
	if why := onFloor(a); why != "" {
		return why
	}
	return needEdit(a)
}

// needFloorVenue says why nothing of a venue can be added to the stage plan.
func needFloorVenue(a *App) string {
	if why := needFloor(a); why != "" {
		return why
	}
	if a.venueOnFloor() == nil {
		return "no venue is chosen: add one on the page Venues, with " + a.key("book-venues")
	}
	return ""
}

// floorButtons are the commands above the stage plan.
var floorButtons = []string{"stage-position", "stage-line", "stage-mark", "stage-zone", "stage-measure", "delete", "stage-fit"}

func floorCommands() []command {
	return []command{
		{id: "stage-position", name: "Add position", help: "adds a position in the middle of the stage plan in view", group: "Book", off: needFloor, run: (*App).addPosition},
		{id: "stage-line", name: "Add audience line", help: "adds an audience line to the venue of the stage plan", group: "Book", off: needFloorVenue, run: (*App).addLine},
		{id: "stage-mark", name: "Add mark", help: "adds a performer's mark to the venue of the stage plan", group: "Book", off: needFloorVenue, run: (*App).addMark},
		{id: "stage-zone", name: "Add clear zone", help: "adds a zone that stays clear to the venue of the stage plan", group: "Book", off: needFloorVenue, run: (*App).addZone},
		{id: "stage-measure", name: "Measure", help: "the next drag on the stage plan measures the distance between two things", group: "Book", keys: []string{"D"}, off: onFloor,
			run: func(a *App) { a.floor.measuring, a.floor.measure = !a.floor.measuring, nil }},
		{id: "stage-fit", name: "Fit the stage", help: "zooms the stage plan so that all of it is in view", group: "Book", off: onFloor, run: (*App).fitFloor},
	}
}

// floorActs are what commands of the timeline do on the stage plan.
func (a *App) floorActs() map[string]page.Act {
	free := func(*App) string { return "" }
	nudge := func(dx, dy float64) page.Act { return a.act(needThing, func(a *App) { a.nudgeThing(dx, dy) }) }
	step := func(n int) page.Act {
		return a.act(free, func(a *App) { a.floor.step = min(max(a.floor.step+n, 0), len(floorSteps)-1) })
	}
	return map[string]page.Act{
		"row-add": a.act(needFloor, (*App).addPosition), "delete": a.act(needThing, (*App).removeThing), "row-remove": a.act(needThing, (*App).removeThing),
		"frame-back": nudge(-1, 0), "frame-on": nudge(1, 0), "lane-up": nudge(0, 1), "lane-down": nudge(0, -1),
		"beat-back": nudge(-5, 0), "beat-on": nudge(5, 0),
		"cue-on": a.act(free, func(a *App) { a.stepThing(1) }), "cue-back": a.act(free, func(a *App) { a.stepThing(-1) }),
		"grid-coarser": step(1), "grid-finer": step(-1),
		"zoom-in": a.act(free, func(a *App) { a.zoomFloorBy(1.25) }), "zoom-out": a.act(free, func(a *App) { a.zoomFloorBy(0.8) }),
		"zoom-song":   a.act(free, (*App).fitFloor),
		"select-none": a.act(free, func(a *App) { a.floor.measure = nil; a.chooseThing(thingNone) }),
	}
}
