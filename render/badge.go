package render

import "image"

// Severity says how much a finding matters.
type Severity uint8

// The severities.
const (
	SevError Severity = iota
	SevWarning
	SevNote
)

// Word gives the severity's word.
func (v Severity) Word() string { return [...]string{"error", "warning", "note"}[v] }

// letter is what stands in the badge.
func (v Severity) letter() string { return [...]string{"E", "W", "N"}[v] }

// badges are the shapes of the severities: octagon, triangle, circle. The triangle is larger to hold its letter.
var badges = [...]form{
	SevError:   newForm("error", 1, arc(0.5, 0.5, 0.54, 22.5, 337.5, 7)),
	SevWarning: newForm("warning", 1, []Point{{0.5, -0.16}, {1.13, 1}, {-0.13, 1}}),
	SevNote:    newForm("note", 1, arc(0.5, 0.5, 0.5, 0, 340, 17)),
}

// BadgeSize is the logical width and height of a severity badge.
const BadgeSize = 16

// Badge draws a severity's badge with its left top at p. It is neutral: shape and letter tell the severity, no colour does.
func (s *Scene) Badge(p image.Point, v Severity) {
	size := s.Px(BadgeSize)
	s.formPart(&badges[v].parts[0], Point{float32(p.X), float32(p.Y)}, float32(size), 0, InkText, 255)
	box := image.Rect(p.X, p.Y, p.X+size, p.Y+size)
	if v == SevWarning { // the middle of a triangle lies low
		box.Min.Y += s.Px(5)
	}
	s.TextIn(box, Middle, TypeMark, InkLane, v.letter())
}
