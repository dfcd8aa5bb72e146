package render

import (
	"image"
)

// lanes draws the lanes in view, each with its cues, under headings for the places on stage.
func (p *SongDrawer) lanes() {
	area := p.Lanes
	p.s.PushClip(area)
	p.ground(p.axis(area))
	p.s.Ground(HitLane, "", p.axis(area))
	y := area.Min.Y - p.scroll
	for i := range p.d.Lanes {
		lane := &p.d.Lanes[i]
		if lane.Place != "" {
			p.heading(lane.Place, image.Rect(area.Min.X, y, area.Max.X, y+p.headHeight))
			y += p.headHeight
		}
		if row := image.Rect(area.Min.X, y, area.Max.X, y+p.laneHeight); row.Overlaps(area) {
			p.lane(lane, row)
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

// heading names the place on stage where the lanes below it stand.
func (p *SongDrawer) heading(place string, row image.Rectangle) {
	if !row.Overlaps(p.Lanes) {
		return
	}
	p.s.Rect(row, InkPanel)
	p.s.Rect(image.Rect(row.Min.X, row.Min.Y, row.Max.X, row.Min.Y+p.px(1)), InkBar)
	p.s.TextCut(inset(row, p.px(12), 0), TypeMark, InkSecondary, place)
}

func (p *SongDrawer) lane(lane *LaneData, row image.Rectangle) {
	axis := p.axis(row)
	p.rule(axis, InkBeat)
	id := ""
	if lane.Lane != nil {
		id = string(lane.Lane.ID)
	}
	p.s.Ground(HitLane, id, axis)
	p.laneHead(lane, id, p.gutter(row))
	p.s.PushClip(axis)
	p.cues(lane, axis)
	p.s.PopClip()
}

// laneHead draws a lane's name with the look of its article, and how many cues it has.
func (p *SongDrawer) laneHead(lane *LaneData, id string, row image.Rectangle) {
	p.rule(row, InkBeat)
	p.s.Ground(HitLaneHead, id, row)
	if id != "" && id == string(p.v.Focus) {
		p.s.Rect(image.Rect(row.Min.X, row.Min.Y, row.Min.X+p.px(4), row.Max.Y), InkFocus)
	}
	h := p.px(16)
	if !lane.Plain {
		p.s.Glyph(p.th, image.Pt(row.Min.X+p.px(12), row.Min.Y+(row.Dy()-h)/2), h, lane.Look)
	} else if lane.Lane != nil {
		box := image.Rect(row.Min.X+p.px(12), row.Min.Y+(row.Dy()-h)/2+p.px(2), row.Min.X+p.px(12)+h, row.Min.Y+(row.Dy()+h)/2-p.px(2))
		p.s.Frame(box, p.px(2), InkSecondary)
	}
	p.text = append(p.text[:0], p.id(len(lane.Cues))...)
	right := row.Max.X - p.px(10)
	w := p.s.Face(TypeSmall).MeasureBytes(p.text)
	p.s.BytesIn(image.Rect(right-w, row.Min.Y, right, row.Max.Y), Left, TypeSmall, InkFaint, p.text)
	name := image.Rect(row.Min.X+p.px(36), row.Min.Y, right-w-p.px(8), row.Max.Y)
	end := p.s.TextCut(name, TypeLabel, InkText, lane.Name)
	if lane.Lane != nil && lane.Lane.Locked {
		y := (row.Min.Y+row.Max.Y)/2 + p.px(9)
		p.s.Rect(image.Rect(name.Min.X, y, end, y+p.px(3)), InkSecondary)
	}
}
