package render

import (
	"image"
	"strconv"
)

// countBox stands for several cues that are too near each other: how many, and a tick for each hit.
func (p *SongDrawer) countBox(list []CueData, x int, r cueRow) {
	box := image.Rect(x, r.axis.Min.Y+p.px(2), x+p.px(boxWidth)-p.px(2), r.axis.Max.Y-p.px(3))
	p.s.Rect(box, InkPanel)
	p.s.Frame(box, p.px(1), InkEdge)
	tick := max(box.Dy()/4, p.px(3))
	worst, found, selected := SevNote, false, false
	for i := range list {
		c := &list[i]
		x := min(p.X(c.Hit), box.Max.X-p.px(3))
		p.tick(c, image.Rect(x, box.Max.Y-tick, x+p.px(2), box.Max.Y-p.px(1)))
		if v, ok := p.v.Marks.OfCue(c.Cue.ID); ok {
			worst, found = min(worst, v), true
		}
		selected = selected || p.v.Selected[c.Cue.ID]
	}
	text := image.Rect(box.Min.X, box.Min.Y, box.Max.X, box.Max.Y-tick)
	if found {
		p.badge(text.Min.X+p.px(1), text, worst)
		text.Min.X += p.px(BadgeSize + 1)
	}
	p.text = strconv.AppendInt(append(p.text[:0], "×"...), int64(len(list)), 10)
	p.s.BytesIn(text, Middle, TypeMark, InkText, p.text)
	if selected {
		p.s.Frame(box.Inset(-p.px(2)), p.px(2), InkFocus)
	}
	p.s.Hit(HitCues, string(list[0].Cue.ID), box)
}

// tick marks one hit inside a count box, fainter where nothing is played.
func (p *SongDrawer) tick(c *CueData, box image.Rectangle) {
	cover := p.th.GlyphEdge
	if c.Cue.Disabled || c.Dead {
		cover /= 2
	}
	p.s.Tint(box, c.Look.Ink, cover)
}
