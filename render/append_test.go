package render

import (
	"image"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestAppendKeepsLettersAndPoints(t *testing.T) {
	faces := NewFaces()
	build := func(s *Scene, words ...string) {
		for i, w := range words {
			s.Text(image.Pt(0, 20*i), TypeLabel, InkText, w)
			s.Line(1, InkBar, 255, Point{0, float32(i)}, Point{9, float32(i)})
			s.Hit("word", w, image.Rect(0, 20*i, 30, 20*i+14))
		}
	}
	size := image.Pt(200, 100)
	under, over, both := NewScene(faces), NewScene(faces), NewScene(faces)
	for _, s := range []*Scene{under, over, both} {
		s.Reset(size, Unit)
	}
	build(under, "gerb", "mine")
	build(over, "comet")
	build(both, "gerb", "mine")
	build(both, "comet")
	under.Append(over)
	require.Equal(t, both.Dump(), under.Dump())
}
