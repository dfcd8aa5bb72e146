package app

import (
	"image"

	"emberbeat/render"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// contextItems are the commands that the menu of a thing offers.
var contextItems = map[render.HitKind][]string{
	render.HitCue:      {"edit-values", "", "cut", "copy", "duplicate", "delete", "", "quantise", "group", "ungroup", "lock", "disable", "", "play-selection", "loop-selection", "zoom-selection"},
	render.HitLane:     {"place", "paste", "", "select-all", "add-lane", "", "zoom-song"},
	render.HitLaneHead: {"rename", "lock-lane", "mute", "solo", "", "select-all", "add-lane"},
	render.HitWave:     {"play", "loop-start", "loop-end", "marker", "section", "", "zoom-song"},
	render.HitFinding:  {"finding-on", "finding-back", "fix", "accept", "", "findings"},
}

// contextAt opens the menu for what the pointer is on.
func (a *App) contextAt(hit render.Hit) {
	v := a.work.View()
	switch hit.Kind {
	case render.HitCue, render.HitCueEnd, render.HitCues:
		hit.Kind = render.HitCue
		if id := timeline.ID(hit.ID); !v.Selected[id] {
			v.Choose(id)
		}
	case render.HitLane, render.HitLaneHead:
		if hit.ID != "" {
			v.Focus = timeline.ID(hit.ID)
		}
		if hit.Kind == render.HitLane && !a.player.Playing() {
			v.Playhead = a.catch(a.song.TimeAt(a.in.Pointer.X), nil, false).at
		}
	case render.HitFinding, render.HitFindings:
		hit.Kind = render.HitFinding
	default:
		hit.Kind = render.HitWave
	}
	a.menuFor = hit
	a.ui.OpenMenu("context", image.Rectangle{Min: a.in.Pointer, Max: a.in.Pointer})
	a.again = true
}

// openContext opens the menu for what is selected, by key.
func (a *App) openContext() {
	a.menuFor = render.Hit{Kind: render.HitLane, Area: a.song.Lanes}
	at := a.song.Lanes.Min.Add(image.Pt(a.Scale().Px(220), a.Scale().Px(20)))
	v := a.work.View()
	for _, h := range a.scenes.song.Hits {
		if h.Kind == render.HitCue && v.Selected[timeline.ID(h.ID)] {
			a.menuFor, at = h, h.Area.Max
			break
		}
	}
	a.ui.OpenMenu("context", image.Rectangle{Min: at, Max: at})
}

// contextMenu draws the menu while it is open.
func (a *App) contextMenu() {
	if !a.ui.MenuOpen("context") {
		return
	}
	var items []widget.Item
	for _, id := range contextItems[a.menuFor.Kind] {
		c := a.byID(id)
		if c == nil {
			items = append(items, widget.Item{Rule: true})
			continue
		}
		items = append(items, widget.Item{ID: id, Label: c.name, Keys: a.key(id), Off: a.why(c), Check: a.isOn(id)})
	}
	if id, ok := a.ui.Menu("context", items); ok {
		a.Use(id)
	}
}
