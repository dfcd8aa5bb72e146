package song

import (
	"image"

	"emberbeat/render"
	"emberbeat/render/widget"
)

// Logical heights of the stage's part of the dock. The picture is two thirds as high as wide, as long as the inspector below has room.
const (
	stageHead  = 32
	stageNext  = 54
	leastStage = 150
	dockRest   = 560
	lowDock    = stageHead + stageNext + leastStage + 120 // below, the head stands alone
)

// StageHigh gives the logical height of the stage's picture in a dock of a logical size.
func StageHigh(width, high int) int {
	if high < lowDock {
		return 0
	}
	return max(min(width*2/3, high-dockRest), leastStage)
}

// Stage draws the stage at the top of a dock: every placed effect where it stands, seen from front of house, full while it is open at the playhead
// and faint where it comes in the next two bars; what comes next stands below. It gives what is left of the dock. The stage is drawn with what moves.
func (sp *Page) Stage(r image.Rectangle) (rest image.Rectangle) {
	u := sp.h.UI()
	s := u.Scene()
	k := u.Stack(r, 0)
	sp.stageHead(k.Top(stageHead))
	high := StageHigh(r.Dx()*100/int(s.Scale), r.Dy()*100/int(s.Scale))
	if sp.h.Prefs().NoStage || high == 0 {
		return k.Rest()
	}
	if sp.large {
		h := u.Paragraph(image.Rect(r.Min.X+s.Px(12), k.Rest().Min.Y, r.Max.X-s.Px(8), k.Rest().Max.Y), render.TypeSmall, render.InkSecondary, "It has the place of the lanes; "+sp.h.Key("stage-large")+" brings them back.")
		k.Top(h*100/int(s.Scale) + 6)
		return k.Rest()
	}
	sp.stageFront(k.Top(high + stageNext)) // what comes next is part of that picture
	return k.Rest()
}

// stageHead names the stage, with what can be done with it.
func (sp *Page) stageHead(r image.Rectangle) {
	u := sp.h.UI()
	s := u.Scene()
	in := image.Rect(r.Min.X+s.Px(12), r.Min.Y+s.Px(3), r.Max.X-s.Px(8), r.Max.Y-s.Px(3))
	var items []widget.BarItem
	for _, it := range []widget.BarItem{{ID: "stage-turn", Label: "From above", Wide: "From the front", Sign: "↕"}, {ID: "stage-large", Label: "Large", Sign: "□"}, {ID: "stage-hide", Label: "Hide", Wide: "Show", Sign: "–"}} {
		if !sp.h.Has(it.ID) {
			continue
		}
		if it.ID == "stage-turn" && sp.above {
			it.Label = "From the front"
		}
		if it.ID == "stage-hide" && sp.h.Prefs().NoStage {
			it.Label, it.Sign = "Show", "+"
		}
		it.Off, it.Tip, it.On = sp.h.Off(it.ID), sp.h.Help(it.ID), it.ID != "stage-hide" && sp.IsOn(it.ID)
		items = append(items, it)
	}
	wide := 0
	for i := range items {
		wide += max(u.ButtonWidth(items[i].Label), u.ButtonWidth(items[i].Wide)) + 6
	}
	name := s.Face(render.TypeStrong).Measure("Stage")
	u.Label(image.Rect(in.Min.X, in.Min.Y, in.Min.X+name+1, in.Max.Y), render.TypeStrong, render.InkText, "Stage")
	room := image.Rect(max(in.Max.X-s.Px(wide), in.Min.X+name+s.Px(8)), in.Min.Y, in.Max.X, in.Max.Y)
	from := "from the front"
	if sp.above {
		from = "from above"
	}
	s.TextIn(image.Rect(in.Min.X+name+s.Px(10), in.Min.Y, room.Min.X, in.Max.Y), render.Left, render.TypeSmall, render.InkSecondary, from)
	if id, ok := u.Bar("stage-tools", room, items); ok {
		sp.h.Use(id)
	}
}

// hideStage leaves the stage out of the dock, or brings it back.
func (sp *Page) hideStage() {
	sp.h.Prefs().NoStage = !sp.h.Prefs().NoStage
	sp.h.Prefs().Save()
}
