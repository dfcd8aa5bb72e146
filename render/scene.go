package render

import "image"

// Kind says what a Shape is.
type Kind uint8

// The kinds of shapes. A KindClip shape is no picture: it says what following shapes may touch.
const (
	KindRect Kind = iota
	KindLine
	KindPoly
	KindText
	KindClip
)

// Point is a place in a scene in device pixels; whole numbers are the corners between pixels.
type Point struct{ X, Y float32 }

// Shape is one entry of a scene's list. Which fields count depends on the Kind:
//
//	KindRect  Box, already cut to the clip
//	KindLine  Points, Width: a polyline
//	KindPoly  Points: a filled polygon, closed by itself, no edge crossing another
//	KindText  Label, Type, Box: the line's area; the baseline is Face.Ascent below its top
//	KindClip  Box: the area that shapes after this one may touch, until the next KindClip
type Shape struct {
	Kind  Kind
	Ink   Ink
	Cover uint8 // 255 hides what is below, 0 nothing
	Type  Type
	Width float32
	Box   image.Rectangle

	from, to int32 // into the scene's points or letters
}

// Scene is a list of shapes, to be drawn in order, and of areas that can be hit. Reset keeps its memory, so that building the next
// frame makes no garbage. A Scene belongs to one goroutine while it is built; afterwards it may be read by several.
type Scene struct {
	Size   image.Point // device pixels
	Scale  Scale
	Shapes []Shape
	Hits   []Hit

	faces   *Faces
	recent  [8]faceMemo
	points  []Point
	letters []byte
	clips   []image.Rectangle
}

type faceMemo struct {
	key  faceKey
	face *Face
}

// NewScene gives an empty scene that sets text with the given faces. Call Reset before adding to it.
func NewScene(faces *Faces) *Scene { return &Scene{faces: faces} }

// Reset empties the scene for a new frame of a size in device pixels at a scale.
func (s *Scene) Reset(size image.Point, scale Scale) {
	s.Size, s.Scale = size, scale
	s.Shapes, s.Hits, s.points, s.letters = s.Shapes[:0], s.Hits[:0], s.points[:0], s.letters[:0]
	s.clips = append(s.clips[:0], image.Rectangle{Max: size})
}

// Px gives n logical pixels in device pixels at the scene's scale.
func (s *Scene) Px(n int) int { return s.Scale.Px(n) }

// Bounds gives the whole area of the scene.
func (s *Scene) Bounds() image.Rectangle { return image.Rectangle{Max: s.Size} }

// Clip gives the area that shapes added now may touch.
func (s *Scene) Clip() image.Rectangle { return s.clips[len(s.clips)-1] }

// PushClip keeps all that is added before the matching PopClip inside r and inside the clip that holds now.
func (s *Scene) PushClip(r image.Rectangle) { s.setClip(append(s.clips, r.Intersect(s.Clip()))) }

// PopClip ends the last PushClip.
func (s *Scene) PopClip() { s.setClip(s.clips[:len(s.clips)-1]) }

// setClip makes the last of clips the current one. Of two clips with nothing between them only the later is kept.
func (s *Scene) setClip(clips []image.Rectangle) {
	s.clips = clips
	if n := len(s.Shapes); n > 0 && s.Shapes[n-1].Kind == KindClip {
		s.Shapes = s.Shapes[:n-1]
	}
	s.Shapes = append(s.Shapes, Shape{Kind: KindClip, Box: s.Clip()})
}

// Rect fills r.
func (s *Scene) Rect(r image.Rectangle, ink Ink) { s.Tint(r, ink, 255) }

// Tint lays ink over r with a cover of 0 to 255.
func (s *Scene) Tint(r image.Rectangle, ink Ink, cover uint8) {
	if r = r.Intersect(s.Clip()); !r.Empty() && cover > 0 {
		s.Shapes = append(s.Shapes, Shape{Kind: KindRect, Ink: ink, Cover: cover, Box: r})
	}
}

// Frame draws the edge of r, width device pixels thick, inside r.
func (s *Scene) Frame(r image.Rectangle, width int, ink Ink) {
	s.Rect(image.Rect(r.Min.X, r.Min.Y, r.Max.X, r.Min.Y+width), ink)
	s.Rect(image.Rect(r.Min.X, r.Max.Y-width, r.Max.X, r.Max.Y), ink)
	s.Rect(image.Rect(r.Min.X, r.Min.Y+width, r.Min.X+width, r.Max.Y-width), ink)
	s.Rect(image.Rect(r.Max.X-width, r.Min.Y+width, r.Max.X, r.Max.Y-width), ink)
}

// Line draws a polyline of the given width in device pixels through points.
func (s *Scene) Line(width float32, ink Ink, cover uint8, points ...Point) {
	s.shape(Shape{Kind: KindLine, Ink: ink, Cover: cover, Width: width}, points)
}

// Poly fills the polygon with the given corners.
func (s *Scene) Poly(ink Ink, cover uint8, corners ...Point) {
	s.shape(Shape{Kind: KindPoly, Ink: ink, Cover: cover}, corners)
}

// shape adds a shape made of points, with the smallest whole box around what it can touch, unless that is all out of sight.
func (s *Scene) shape(sh Shape, points []Point) {
	if len(points) < 2 || sh.Cover == 0 {
		return
	}
	sh.Box = around(points, sh.Width/2)
	if !sh.Box.Overlaps(s.Clip()) {
		return
	}
	sh.from = int32(len(s.points))
	s.points = append(s.points, points...)
	sh.to = int32(len(s.points))
	s.Shapes = append(s.Shapes, sh)
}

// around gives the whole pixels that points, grown by more on all sides, touch.
func around(points []Point, more float32) image.Rectangle {
	lo, hi := points[0], points[0]
	for _, p := range points[1:] {
		lo.X, lo.Y = min(lo.X, p.X), min(lo.Y, p.Y)
		hi.X, hi.Y = max(hi.X, p.X), max(hi.Y, p.Y)
	}
	return image.Rect(floor(lo.X-more), floor(lo.Y-more), -floor(-hi.X-more), -floor(-hi.Y-more))
}

func floor(v float32) int {
	n := int(v)
	if float32(n) > v {
		n--
	}
	return n
}

// Points gives the points of a line or polygon of this scene. They must not be changed.
func (s *Scene) Points(sh *Shape) []Point { return s.points[sh.from:sh.to] }

// Label gives the letters of a text of this scene. They must not be changed.
func (s *Scene) Label(sh *Shape) []byte { return s.letters[sh.from:sh.to] }

// Face gives the face of a type at the scene's scale.
func (s *Scene) Face(t Type) *Face {
	key := faceKey{t, s.Scale}
	slot := &s.recent[(int(t.Size)/2+b2i(t.Bold))%len(s.recent)]
	if slot.face == nil || slot.key != key {
		*slot = faceMemo{key, s.faces.Face(t, s.Scale)}
	}
	return slot.face
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}
