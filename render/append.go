package render

// Append adds all shapes and hit areas of another scene of the same size and scale on top of this one. Panels that float, such as menus and
// dialogs, are built in a scene of their own beside what they cover, and added last.
func (s *Scene) Append(o *Scene) {
	points, letters := int32(len(s.points)), int32(len(s.letters))
	s.points = append(s.points, o.points...)
	s.letters = append(s.letters, o.letters...)
	for _, sh := range o.Shapes {
		switch sh.Kind {
		case KindLine, KindPoly:
			sh.from, sh.to = sh.from+points, sh.to+points
		case KindText:
			sh.from, sh.to = sh.from+letters, sh.to+letters
		}
		s.Shapes = append(s.Shapes, sh)
	}
	s.Hits = append(s.Hits, o.Hits...)
}

// Another gives an empty scene that sets text with the same faces.
func (s *Scene) Another() *Scene { return NewScene(s.faces) }
