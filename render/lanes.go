package render

import (
	"image"
)

// lanes draws the lanes in view, each with its cues.
func (p *SongDrawer) lanes() {
	area := p.Lanes
	p.s.PushClip(area)
	p.ground(p.axis(area))
	p.s.Ground(HitLane, "", p.axis(area))
	y := area.Min.Y - p.scroll
	for i := range p.d.Lanes {
		if row := image.Rect(area.Min.X, y, area.Max.X, y+p.laneHeight); row.Overlaps(area) {
			p.lane(&p.d.Lanes[i], i+1, row)
		}
		y += p.laneHeight
	}
	if len(p.d.Lanes) == 0 {
		p.s.TextIn(inset(p.axis(area), p.px(12), 0), Middle, TypeLabel, InkSecondary, "No lanes yet: a lane aims cues at a placed effect or a group.")
	}
	p.s.PopClip()
	p.rule(area, InkBar)
}

// ground lays the lanes' ground with its grid, as far down as there are lanes.
func (p *SongDrawer) ground(area image.Rectangle) {
	area.Max.Y = min(area.Max.Y, area.Min.Y+max(p.lanesHeight(p.d)-p.scroll, p.px(minLanesHeight)))
	p.s.Rect(area, InkLane)
	p.s.PushClip(area)
	p.grid(area)
	p.s.PopClip()
}

// lane draws the lane that is the nth from above.
func (p *SongDrawer) lane(lane *LaneData, n int, row image.Rectangle) {
	axis := p.axis(row)
	p.rule(axis, InkBeat)
	id := ""
	if lane.Lane != nil {
		id = string(lane.Lane.ID)
	}
	p.s.Ground(HitLane, id, axis)
	p.laneHead(lane, id, n, p.gutter(row))
	p.s.PushClip(axis)
	if lane.Lane != nil && lane.Lane.Locked {
		p.stripes(axis)
	}
	p.cues(lane, axis)
	if p.hidden(lane) {
		p.s.Tint(axis, InkLane, hiddenCover)
	}
	p.s.PopClip()
}

// hiddenCover is how much of a lane, of 255, is covered that the stage leaves out.
const hiddenCover = 153

// stripes mark a lane that is locked.
func (p *SongDrawer) stripes(row image.Rectangle) {
	h, step := row.Dy(), p.px(12)
	for x := row.Min.X - h; x < row.Max.X; x += step {
		p.s.Line(p.s.Scale.Pxf(1), InkBeat, 255, Point{float32(x), float32(row.Max.Y)}, Point{float32(x + h), float32(row.Min.Y)})
	}
}
