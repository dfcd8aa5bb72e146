package song

import (
	"image"
	"strconv"

	"emberbeat/render"
	"emberbeat/render/widget"
	"emberbeat/timeline"
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
	if !sp.above { // what comes next is part of that picture
		sp.stageFront(k.Top(high + stageNext))
		return k.Rest()
	}
	sp.stageArea, sp.nextArea = k.Top(high), k.Top(stageNext)
	s.Rect(sp.stageArea, render.InkLane)
	s.Rect(image.Rect(sp.nextArea.Min.X, sp.nextArea.Max.Y-s.Px(1), sp.nextArea.Max.X, sp.nextArea.Max.Y), render.InkBar)
	if u.Modal() { // what moves lies under the panels then, and this panel would hide it
		sp.drawStage(s, sp.Heard())
		sp.drawNext(s, sp.Heard())
	}
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

// nextShown is how many coming cues a wide dock names, and wideDock from which logical width on; below, there is one less.
const (
	nextShown = 3
	wideDock  = 400
)

// coming is a cue that comes, as it is named below the stage.
type coming struct {
	hit   timeline.Time
	cue   *timeline.Cue
	look  render.Look
	name  string
	place string
}

// upcoming gives the cues whose hits come next after a time. Names are made when they are other cues than before, so that a song that plays makes no
// garbage.
func (sp *Page) upcoming(at timeline.Time) []coming {
	d := sp.work().Data
	n := 0
	last := (*timeline.Cue)(nil)
	first := -1
	for i := range d.Plan.Commands { // by command; a hit comes later
		c := &d.Plan.Commands[i]
		if c.Hit < at || c.Cue == last || !sp.work().Previewed(c.Lane.ID) {
			continue
		}
		last = c.Cue
		if first < 0 {
			first = i
		}
		if n++; n == nextShown {
			break
		}
	}
	if first < 0 {
		return nil
	}
	if sp.nextFrom == first && sp.nextOf == d && sp.nextShown == sp.work().Previews {
		return sp.next
	}
	sp.nextFrom, sp.nextOf, sp.nextShown = first, d, sp.work().Previews
	sp.next, last = sp.next[:0], nil
	for i := first; i < len(d.Plan.Commands) && len(sp.next) < nextShown; i++ {
		c := &d.Plan.Commands[i]
		if c.Hit < at || c.Cue == last || !sp.work().Previewed(c.Lane.ID) {
			continue
		}
		last = c.Cue
		name := ""
		if k := sp.work().LaneAt(c.Lane.ID); k >= 0 {
			name = d.Lanes[k].Name
		}
		sp.next = append(sp.next, coming{c.Hit, c.Cue, render.LookOf(c.Article), name, c.Cue.At.String()})
	}
	return sp.next
}

// drawNext names the cues that come next, with the time that is left until each.
func (sp *Page) drawNext(s *render.Scene, at timeline.Time) {
	r := sp.nextArea
	if r.Empty() || sp.work().Data == nil {
		return
	}
	s.PushClip(r)
	defer s.PopClip()
	s.TextIn(image.Rect(r.Min.X+s.Px(12), r.Min.Y, r.Max.X, r.Min.Y+s.Px(18)), render.Left, render.TypeSmall, render.InkFaint, "Next")
	list := sp.upcoming(at)
	if len(list) == 0 {
		s.TextIn(image.Rect(r.Min.X+s.Px(12), r.Min.Y+s.Px(18), r.Max.X, r.Max.Y), render.Left, render.TypeSmall, render.InkSecondary, "nothing more in this song")
		return
	}
	n := nextShown
	if r.Dx() < s.Px(wideDock) {
		n--
	}
	for i := range list[:min(n, len(list))] {
		c := &list[i]
		box := widget.Columns(image.Rect(r.Min.X+s.Px(12), r.Min.Y+s.Px(17), r.Max.X-s.Px(4), r.Max.Y-s.Px(2)), n, i, s.Px(6))
		h := s.Px(16)
		s.Glyph(sp.h.UI().Theme(), image.Pt(box.Min.X, box.Min.Y+(box.Dy()-h)/2), h, c.look)
		words := image.Rect(box.Min.X+s.Px(20), box.Min.Y, box.Max.X, box.Min.Y+box.Dy()/2)
		s.TextCut(words, render.TypeSmall, render.InkText, c.name)
		words = words.Add(image.Pt(0, box.Dy()/2))
		text := append(append(sp.text[:0], c.place...), " · in "...)
		sp.text = appendTenths(text, c.hit-at)
		s.BytesIn(words, render.Left, render.TypeSmall, render.InkSecondary, sp.text)
	}
}

// appendTenths writes a time that is not negative in seconds, with tenths that do not run ahead: 0.0 is the moment itself.
func appendTenths(b []byte, t timeline.Time) []byte {
	tenths := int64((t + timeline.Second/10 - 1) / (timeline.Second / 10))
	b = strconv.AppendInt(b, tenths/10, 10)
	return append(append(b, '.', byte('0'+tenths%10)), " s"...)
}
