package patch

import (
	"fmt"
	"image"

	"emberbeat/render"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// slotMap draws the 512 slots in rows, each device's run named, and moves the cursor.
func (p *Patch) slotMap(r image.Rectangle, m *Map) {
	u := p.h.UI()
	s := u.Scene()
	c := u.Canvas("map", r)
	if p.h.Fresh() {
		u.Focus("map")
	}
	if p.Slot < 1 {
		p.Slot = 1
	}
	if c.Focus {
		p.slotKeys(m)
	}
	s.Rect(r, render.InkLane)
	head := s.Px(46)
	rows := slotsInUniverse / universeWide
	cell := image.Pt((r.Dx()-head-s.Px(8))/universeWide, min((r.Dy()-s.Px(8))/rows, s.Px(52)))
	origin := image.Pt(r.Min.X+head, r.Min.Y+s.Px(4))
	s.PushClip(r)
	every := (s.Face(render.TypeSmall).Height() + max(cell.Y, 1) - 1) / max(cell.Y, 1) // rows too low for a number each
	for row := range rows {
		y := origin.Y + row*cell.Y
		number := s.TextIn
		if row%every != 0 {
			number = func(image.Rectangle, render.Align, render.Type, render.Ink, string) bool { return false }
		}
		number(image.Rect(r.Min.X, y, r.Min.X+head-s.Px(8), y+cell.Y), render.Right, render.TypeSmall, render.InkFaint, fmt.Sprint(row*universeWide+1))
		for col := range universeWide {
			slot := row*universeWide + col + 1
			box := image.Rect(origin.X+col*cell.X, y, origin.X+(col+1)*cell.X, y+cell.Y)
			p.slotCell(m, slot, box)
			if c.Hot && c.Pressed&widget.Primary != 0 && u.Input().Pointer.In(box) {
				p.Slot = slot
				p.chooseSlot(m)
			}
		}
		p.slotNames(m, row, origin, cell)
	}
	p.slotCursor(origin, cell, c.Focus)
	s.PopClip()
	if c.Focus {
		s.Frame(r, s.Px(2), render.InkFocus)
	} else {
		s.Frame(r, s.Px(1), render.InkBar)
	}
}

// slotCell draws one slot: empty, used, or used twice, which is hatched and marked.
func (p *Patch) slotCell(m *Map, slot int, box image.Rectangle) {
	s := p.h.UI().Scene()
	in := image.Rect(box.Min.X, box.Min.Y+s.Px(1), box.Max.X, box.Max.Y-s.Px(1))
	claims := m.by[slot]
	switch {
	case len(claims) == 0:
		s.Rect(image.Rect(in.Min.X+s.Px(1), in.Max.Y-s.Px(1), in.Max.X-s.Px(1), in.Max.Y), render.InkBeat)
	case m.Clash(slot) != nil:
		s.Rect(in, render.InkBar)
		for d := s.Px(6); d < in.Dx()+in.Dy(); d += s.Px(6) {
			x0, y0 := in.Min.X+min(d, in.Dx()), in.Min.Y+max(d-in.Dx(), 0)
			x1, y1 := in.Min.X+max(d-in.Dy(), 0), in.Min.Y+min(d, in.Dy())
			s.Line(float32(s.Px(1)), render.InkText, 200, render.Point{X: float32(x0), Y: float32(y0)}, render.Point{X: float32(x1), Y: float32(y1)})
		}
		size := s.Px(render.BadgeSize)
		s.Badge(image.Pt((in.Min.X+in.Max.X-size)/2, (in.Min.Y+in.Max.Y-size)/2), render.SevError)
	default:
		s.Rect(in, render.InkBeat)
		if c := claims[0]; c.number == 1 {
			s.Rect(image.Rect(in.Min.X, in.Min.Y, in.Min.X+s.Px(2), in.Max.Y), render.InkEdge)
		}
		if box.Dy() < s.Px(slotLow) {
			return
		}
		s.TextIn(image.Rect(in.Min.X, (in.Min.Y+in.Max.Y)/2, in.Max.X, in.Max.Y), render.Middle, render.TypeSmall, render.InkSecondary, roleSign(claims[0].slot.Role))
	}
}

// roleSign gives the letters of a role.
func roleSign(role timeline.SlotRole) string {
	switch role {
	case timeline.EffectSlot:
		return "E"
	case timeline.LevelSlot:
		return "L"
	case timeline.ArmSlot:
		return "A"
	case timeline.ConditionSlot:
		return "C"
	case timeline.WarmUpSlot:
		return "W"
	case timeline.OpenSlot:
		return "?"
	}
	return "·"
}

// slotNames sets the name of each device over its run in a row.
func (p *Patch) slotNames(m *Map, row int, origin, cell image.Point) {
	s := p.h.UI().Scene()
	for col := 0; col < universeWide; {
		slot := row*universeWide + col + 1
		claims := m.by[slot]
		end := col + 1
		if len(claims) == 0 {
			col = end
			continue
		}
		for end < universeWide && m.Claimed(row*universeWide+end+1, claims[0].device) {
			end++
		}
		y := origin.Y + row*cell.Y
		box := image.Rect(origin.X+col*cell.X+s.Px(5), y+s.Px(2), origin.X+end*cell.X-s.Px(2), y+cell.Y/2+s.Px(2))
		if cell.Y < s.Face(render.TypeSmall).Height()*3/4 {
			return // the line below the map names what the cursor is on
		}
		if cell.Y < s.Px(slotLow) {
			box = image.Rect(box.Min.X, y, box.Max.X, y+cell.Y)
		}
		s.TextCut(box, render.TypeSmall, render.InkText, claims[0].device.Name)
		col = end
	}
}

// slotCursor draws the frame of the slot that the keys move.
func (p *Patch) slotCursor(origin, cell image.Point, focus bool) {
	s := p.h.UI().Scene()
	row, col := (p.Slot-1)/universeWide, (p.Slot-1)%universeWide
	at := origin.Add(image.Pt(col*cell.X, row*cell.Y))
	ink := render.InkEdge
	if focus {
		ink = render.InkFocus
	}
	s.Frame(image.Rectangle{Min: at, Max: at.Add(cell)}, s.Px(2), ink)
}
