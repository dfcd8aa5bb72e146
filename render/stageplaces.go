package render

import (
	"image"

	"emberbeat/timeline"
)

// stagePlaces are what a venue has beside lines and marks: a letter and a word for each.
var stagePlaces = []struct {
	letter, word string
	of           func(*timeline.Venue) []timeline.PlanMark
}{
	{"X", "exit", func(v *timeline.Venue) []timeline.PlanMark { return v.Exits }},
	{"F", "extinguisher", func(v *timeline.Venue) []timeline.PlanMark { return v.Extinguisher }},
	{"C", "control", func(v *timeline.Venue) []timeline.PlanMark { return v.Control }},
	{"S", "spotter", func(v *timeline.Venue) []timeline.PlanMark { return v.SpotterMarks }},
}

// placesOf lists them all.
func placesOf(p *timeline.Plan) (list []timeline.PlanMark) {
	if p.Venue == nil {
		return nil
	}
	for _, kind := range stagePlaces {
		list = append(list, kind.of(p.Venue)...)
	}
	return list
}

// StagePlacesIn reports whether a part of the stage holds all exits, extinguishers, control positions and spotters of a plan.
func StagePlacesIn(p *timeline.Plan, b StageBox) bool {
	for _, m := range placesOf(p) {
		if !b.Holds(m.At) {
			return false
		}
	}
	return true
}

// places draws exits, extinguishers, control position and spotters: a letter in a frame, with the name.
func (d *stageDrawer) places() {
	if d.v.Plan.Venue == nil {
		return
	}
	for _, kind := range stagePlaces {
		for _, m := range kind.of(d.v.Plan.Venue) {
			p := d.v.Point(m.At)
			if !image.Pt(floor(p.X), floor(p.Y)).In(d.v.Area) {
				continue
			}
			if at := image.Pt(floor(p.X), floor(p.Y)); d.free(image.Rectangle{Min: at, Max: at.Add(image.Pt(1, 1))}) { // of signs at one place one can be read
				d.taken = append(d.taken, d.s.StageSign(at, kind.letter))
			}
			d.caption(caption{p, d.s.Px(9), TypeSmall, InkText, kind.word + ": " + m.Name, rankPeople})
		}
	}
}

// StageSign draws a letter in a frame about a point and gives its box.
func (s *Scene) StageSign(at image.Point, letter string) image.Rectangle {
	half := s.Px(8)
	box := image.Rect(at.X-half, at.Y-half, at.X+half, at.Y+half)
	s.Rect(box, InkLane)
	s.Frame(box, s.Px(1), InkText)
	s.TextIn(box, Middle, TypeMark, InkText, letter)
	return box
}
