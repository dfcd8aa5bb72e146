package song

import (
	"image"

	"emberbeat/render"
	"emberbeat/timeline"
)

// contextItems are the commands that the menu of a thing offers.
var contextItems = map[render.HitKind][]string{
	render.HitCue:      {"edit-values", "", "cut", "copy", "duplicate", "delete", "", "quantise", "group", "ungroup", "lock", "disable", "", "play-selection", "loop-selection", "zoom-selection"},
	render.HitLane:     {"place", "paste", "", "select-all", "add-lane", "", "zoom-song"},
	render.HitLaneHead: {"rename", "", "arm-lane", "mute", "solo", "lock-lane", "", "hide-others", "show-lanes", "lock-others", "unlock-lanes", "", "select-all", "add-lane", "free-lanes"},
	render.HitWave:     {"play", "loop-start", "loop-end", "marker", "section", "", "zoom-song"},
	render.HitFinding:  {"finding-on", "finding-back", "fix", "accept", "", "findings"},
}

// contextAt opens the menu for what the pointer is on.
func (sp *Page) contextAt(hit render.Hit) {
	v := sp.work().View()
	switch hit.Kind {
	case render.HitCue, render.HitCueEnd, render.HitCues:
		hit.Kind = render.HitCue
		if id := timeline.ID(hit.ID); !v.Selected[id] {
			v.Choose(id)
		}
	case render.HitLane, render.HitLaneHead, render.HitLaneArm, render.HitLaneHide, render.HitLaneOnly, render.HitLaneLock:
		if hit.Kind != render.HitLane {
			hit.Kind = render.HitLaneHead
		}
		if hit.ID != "" {
			v.Focus = timeline.ID(hit.ID)
		}
	case render.HitFinding, render.HitFindings:
		hit.Kind = render.HitFinding
	default:
		hit.Kind = render.HitWave
	}
	sp.menuFor = hit
	sp.menuAt = render.Instant{At: sp.drawn.TimeAt(sp.in().Pointer.X), On: sp.in().Pointer.X >= sp.drawn.Left && (hit.Kind == render.HitLane || hit.Kind == render.HitWave)}
	sp.h.UI().OpenMenu("context", image.Rectangle{Min: sp.in().Pointer, Max: sp.in().Pointer})
	sp.h.Again()
}

// OpenContext opens the menu for what is selected, by key.
func (sp *Page) OpenContext() {
	sp.menuFor, sp.menuAt = render.Hit{Kind: render.HitLane, Area: sp.drawn.Lanes}, render.Instant{}
	at := sp.drawn.Lanes.Min.Add(image.Pt(sp.h.UI().Px(220), sp.h.UI().Px(20)))
	v := sp.work().View()
	for _, h := range sp.scene.Hits {
		if h.Kind == render.HitCue && v.Selected[timeline.ID(h.ID)] {
			sp.menuFor, at = h, h.Area.Max
			break
		}
	}
	sp.h.UI().OpenMenu("context", image.Rectangle{Min: at, Max: at})
}

// FromMenu does what was chosen in the menu: what it places goes to where the menu was opened by the pointer, while the playhead stays.
func (sp *Page) FromMenu(do func()) {
	sp.pointed = sp.menuAt
	do()
	sp.pointed = render.Instant{}
}

// here is where commands place: what is heard, or the playhead; while one of the pointer's menu is done, where that was opened.
func (sp *Page) here() timeline.Time {
	if sp.pointed.On {
		return sp.pointed.At
	}
	return sp.Heard()
}
