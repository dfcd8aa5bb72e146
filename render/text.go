package render

import "image"

// Text sets a line of text with its top left at p and gives the x where it ends.
func (s *Scene) Text(p image.Point, t Type, ink Ink, text string) int { return set(s, p, t, ink, text) }

// TextBytes is Text for UTF-8 in bytes, which are copied.
func (s *Scene) TextBytes(p image.Point, t Type, ink Ink, text []byte) int {
	return set(s, p, t, ink, text)
}

func set[T string | []byte](s *Scene, p image.Point, t Type, ink Ink, text T) int {
	f := s.Face(t)
	end := p.X + measure(f, text)
	box := image.Rect(p.X, p.Y, end, p.Y+f.Height())
	if !box.Overlaps(s.Clip()) {
		return end
	}
	from := len(s.letters)
	s.letters = append(s.letters, text...)
	s.Shapes = append(s.Shapes, Shape{Kind: KindText, Ink: ink, Cover: 255, Type: t, Box: box, from: int32(from), to: int32(len(s.letters))})
	return end
}

// Align says where a text stands in a box: at its left, in its middle, at its right. Up and down it always stands in the middle.
type Align uint8

// The alignments.
const (
	Left Align = iota
	Middle
	Right
)

// TextIn sets text in a box if it fits there, and says whether it did.
func (s *Scene) TextIn(box image.Rectangle, a Align, t Type, ink Ink, text string) bool {
	w := s.Face(t).Measure(text)
	if w > box.Dx() {
		return false
	}
	s.Text(s.corner(box, a, t, w), t, ink, text)
	return true
}

// BytesIn is TextIn for UTF-8 in bytes.
func (s *Scene) BytesIn(box image.Rectangle, a Align, t Type, ink Ink, text []byte) bool {
	w := s.Face(t).MeasureBytes(text)
	if w > box.Dx() {
		return false
	}
	s.TextBytes(s.corner(box, a, t, w), t, ink, text)
	return true
}

// TextCut sets as much of text as fits in a box, with an ellipsis where something is missing, and gives the x where it ends.
func (s *Scene) TextCut(box image.Rectangle, t Type, ink Ink, text string) int {
	cut, all := s.Face(t).Fit(text, box.Dx())
	if all {
		return s.Text(s.corner(box, Left, t, 0), t, ink, cut)
	}
	if cut == "" {
		return box.Min.X
	}
	return s.Text(image.Pt(s.Text(s.corner(box, Left, t, 0), t, ink, cut), s.corner(box, Left, t, 0).Y), t, ink, "…")
}

// corner gives the top left of a line of text w wide that stands in box. Its capitals, not its line, are centred.
func (s *Scene) corner(box image.Rectangle, a Align, t Type, w int) image.Point {
	p := image.Pt(box.Min.X, (box.Min.Y+box.Max.Y)/2-s.Face(t).middle)
	switch a {
	case Middle:
		p.X += (box.Dx() - w) / 2
	case Right:
		p.X += box.Dx() - w
	}
	return p
}

// OnRaised makes faint texts secondary that were added since the scene had so many shapes: they stand on a raised ground, where faint ones
// cannot be read.
func (s *Scene) OnRaised(from int) {
	for i := from; i < len(s.Shapes); i++ {
		if sh := &s.Shapes[i]; sh.Kind == KindText && sh.Ink == InkFaint {
			sh.Ink = InkSecondary
		}
	}
}
