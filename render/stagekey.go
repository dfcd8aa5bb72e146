package render

import (
	"fmt"
	"image"

	"emberbeat/timeline"
	"emberbeat/timeline/rule"
	"emberbeat/timeline/units"
)

// StageKey lists the positions of a plan that have a number, in an area: number, name and height, and the signs of the effects placed there.
// Below each other they take as many columns as there is room for; it gives how many find none.
func (s *Scene) StageKey(th *Theme, p *timeline.Plan, numbers map[timeline.ID]string, order []timeline.ID, area image.Rectangle) (left int) {
	index := map[timeline.ID]spot{}
	for _, sp := range spotsOf(p, rule.PlayedOn(p)) {
		index[sp.position.ID] = sp
	}
	high, wide := s.Px(36), min(s.Px(230), area.Dx())
	x, y := area.Min.X, area.Min.Y
	for i, id := range order {
		if y+high > area.Max.Y {
			x, y = x+wide, area.Min.Y
		}
		if x+wide > area.Max.X || y+high > area.Max.Y {
			return len(order) - i
		}
		if sp, ok := index[id]; ok {
			s.keyEntry(p.Show.Told(), th, &sp, numbers[id], image.Rect(x, y, x+wide-s.Px(10), y+high))
		}
		y += high
	}
	return 0
}

func (s *Scene) keyEntry(told units.System, th *Theme, sp *spot, number string, box image.Rectangle) {
	name := sp.name
	if sp.position.Z != 0 {
		name += fmt.Sprintf(", %s up", Length(told, sp.position.Z))
	}
	text := box.Min.X + s.Px(26)
	s.TextIn(image.Rect(box.Min.X, box.Min.Y, text, box.Min.Y+s.Px(17)), Left, TypeStrong, InkText, number)
	s.TextCut(image.Rect(text, box.Min.Y, box.Max.X, box.Min.Y+s.Px(17)), TypeSmall, InkText, name)
	s.PushClip(box)
	s.spotLooks(th, sp, image.Pt(text, box.Min.Y+s.Px(18)), s.Px(17), nil)
	s.PopClip()
}
