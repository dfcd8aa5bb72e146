package setpicture_test

import (
	"image"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render"
	"emberbeat/render/setpicture"
	"emberbeat/shows/report/course"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
)

// A picture of 25 songs with 50,000 cues, and what it takes to have their course when one of them is played elsewhere.
func BenchmarkLargeSet(b *testing.B) {
	show := testshow.Tour(b, 25, 2000)
	v := viewOf(show)
	b.Run("picture", func(b *testing.B) {
		s := render.NewScene(render.NewFaces())
		for b.Loop() {
			s.Reset(image.Pt(1600, 1000), 100)
			v.Area = s.Bounds()
			setpicture.Draw(s, &render.Dark, v)
		}
	})
	b.Run("pointer", func(b *testing.B) {
		for i := 0; b.Loop(); i++ {
			v.Course.At(course.Place{Song: i % 25, At: timeline.Minute})
		}
	})
	compiler, maker := timeline.NewCompiler(), course.Maker{}
	maker.Of(compiler.Compile(show, nil))
	other, err := show.Edit(timeline.MoveEntry("main", 3, 9))
	require.NoError(b, err)
	plans := []*timeline.Plan{compiler.Compile(other, nil), compiler.Compile(show, nil)}
	b.Run("order", func(b *testing.B) {
		for i := 0; b.Loop(); i++ {
			maker.Of(plans[i%2])
		}
	})
}
