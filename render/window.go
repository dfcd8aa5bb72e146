package render

import (
	"image"

	"emberbeat/timeline"
)

// window draws the time in which a slot is on: arm, condition or warm-up; what is written in it ends before limit.
func (p *SongDrawer) window(c *CueData, limit int, r cueRow) {
	x, end := p.X(c.Hit), p.X(c.End)
	box := image.Rect(x, r.top+p.px(3), max(end, x+p.px(3)), r.bottom-p.px(1))
	if !c.Cue.Disabled && !c.Dead {
		p.s.Tint(box, InkSecondary, 40)
	}
	line := p.px(2)
	p.s.Rect(image.Rect(box.Min.X, box.Min.Y, box.Max.X, box.Min.Y+p.px(1)), InkSecondary)
	p.s.Rect(image.Rect(box.Min.X, box.Max.Y-p.px(1), box.Max.X, box.Max.Y), InkSecondary)
	p.s.Rect(image.Rect(box.Min.X, box.Min.Y-p.px(3), box.Min.X+line, box.Max.Y+p.px(1)), InkSecondary)
	if !c.Endless {
		p.s.Rect(image.Rect(box.Max.X-line, box.Min.Y-p.px(3), box.Max.X, box.Max.Y+p.px(1)), InkSecondary)
	}
	glyph := image.Rect(box.Min.X, r.top, min(box.Max.X, box.Min.X+p.px(12)), r.bottom)
	p.signs(c, glyph, box.Max.X, r)
	p.s.Hit(HitCue, string(c.Cue.ID), box)
	if box.Dx() >= p.px(Reach) && !c.Endless {
		p.s.Hit(HitCueEnd, string(c.Cue.ID), image.Rect(box.Max.X-p.px(4), r.top, box.Max.X+p.px(4), r.bottom))
	}
	text := box.Intersect(r.axis)
	text.Max.X = min(text.Max.X, limit-p.px(4))
	text.Min.X += p.px(8)
	if v, found := p.v.Marks.OfCue(c.Cue.ID); found && text.Dx() > p.px(BadgeSize) {
		p.badge(text.Min.X, text, v)
		text.Min.X += p.px(BadgeSize + 6)
	}
	p.s.TextIn(text, Left, TypeSmall, InkText, windowText(c))
}

// windowWords says what a window of a role is: one that ends, and one that does not.
var windowWords = map[timeline.SlotRole][2]string{
	timeline.ArmSlot:       {"armed", "armed: nothing takes it down"},
	timeline.ConditionSlot: {"condition on", "condition on: nothing ends it"},
	timeline.WarmUpSlot:    {"warm", "warm: nothing ends it"},
}

// windowText says what a window is.
func windowText(c *CueData) string {
	switch {
	case c.Label != "":
		return c.Label
	case c.Cue.Disabled:
		return "disabled"
	case c.Dead:
		return "not played"
	}
	on := windowWords[c.Role]
	if c.Endless {
		return on[1]
	}
	return on[0]
}
