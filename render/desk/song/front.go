package song

import (
	"image"

	"emberbeat/render"
	"emberbeat/render/front"
	"emberbeat/timeline"
)

// fromFront is what the page remembers of the stage, as it is seen from the audience or from above.
type fromFront struct {
	drawer   front.Drawer
	stage    *front.Stage
	of       *timeline.Plan // that the stage was made for
	view     front.View
	above    bool // it is looked at from above
	large    bool // it has the place of the lanes
	selected bool // only the selected cues are seen
}

// stageFront gives the panel to the stage.
func (sp *Page) stageFront(r image.Rectangle) {
	u := sp.h.UI()
	sp.stageArea = r
	u.Scene().Rect(r, render.InkLane)
	if u.Modal() && sp.work().Data != nil { // what moves lies under the panels then, and this panel would hide it
		sp.DrawFront(u.Scene(), r, sp.Heard())
	}
}

// drawLarge gives the stage the place of the lanes, below the transport.
func (sp *Page) drawLarge(r image.Rectangle) {
	r.Min.Y = sp.drawn.Transport.Max.Y
	u := sp.h.UI()
	u.Scene().Rect(r, render.InkPanel)
	k := u.Stack(r, 6)
	k.Top(0)
	sp.h.Buttons(&k, "stage-turn", "stage-heights", "stage-reach", "stage-zones", "stage-large")
	sp.stageFront(k.Rest())
	sp.transport(sp.drawn.Transport)
}

// DrawFront draws the stage, from the front or from above, at a time into any rectangle. While something is dragged it is that of before.
func (sp *Page) DrawFront(s *render.Scene, r image.Rectangle, at timeline.Time) {
	w := sp.work()
	if sp.stage == nil || (sp.stage.Song != w.Data.Plan || sp.of != w.Plan) && !sp.h.Dragging() {
		sp.stage, sp.of = front.New(w.Plan, w.Data.Plan), w.Plan
	}
	v := &sp.view
	v.Stage, v.Area, v.At, v.Large, v.Above, v.Still, v.Only = sp.stage, r, at, sp.large, sp.above, sp.h.Prefs().Still, nil
	if sp.selected && len(w.View().Selected) > 0 {
		v.Only = w.View().Selected
	}
	sp.drawer.Draw(s, sp.h.UI().Theme(), v)
}

func (sp *Page) turnStage() {
	sp.above = !sp.above
	sp.large = sp.large && !sp.above
	sp.h.Log("stage above=%v", sp.above)
}

func (sp *Page) enlargeStage() {
	sp.large = !sp.large
	sp.above = false
	sp.Unhover()
	sp.h.Log("stage large=%v", sp.large)
}

func (sp *Page) toggleStill() {
	p := sp.h.Prefs()
	p.Still = !p.Still
	p.Save()
	sp.h.Log("still %v", p.Still)
}
