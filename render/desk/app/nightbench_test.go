package app

import (
	"image"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/desk/page/stageplan"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// withNightPage opens a page of the big show on the example's night, once its sheet is made.
func withNightPage(b *testing.B, id string) *App {
	b.Helper()
	a := withBig(b)
	a.goNight("saltglass-1")
	night := *a.work.Plan.Night
	night.Set = a.work.Show.SetOf(nil).ID
	require.True(b, a.do(change{"play all", []timeline.Edit{page.Put("", &night)}}))
	a.turn(id)
	for end := time.Now().Add(30 * time.Second); tonightOf(a) == nil; time.Sleep(5 * time.Millisecond) {
		require.True(b, time.Now().Before(end))
		frame(a, widget.Input{})
	}
	return a
}

// A frame of each page of nights on the big show, while the pointer moves over it.
func BenchmarkNightPages(b *testing.B) {
	for _, id := range []string{"set-view", "sets", "timecode", "venues", "nights", "tonight", "stage-plan"} {
		b.Run(id, func(b *testing.B) {
			a := withNightPage(b, id)
			for i := 0; b.Loop(); i++ {
				frame(a, widget.Input{Pointer: image.Pt(600+i%50, 400)})
			}
		})
	}
}

// A drag of a position on the stage plan: the provisional plan, its distances and the picture of it.
func BenchmarkStagePlanDrag(b *testing.B) {
	a := withNightPage(b, "stage-plan")
	stage := a.families[planFamily].State.(*stageplan.Stage)
	p, ok := stage.At(position("lip-l"))
	require.True(b, ok)
	q := stage.View.Point(p)
	at := image.Pt(int(q.X), int(q.Y))
	frame(a, widget.Input{Pointer: at})
	frame(a, widget.Input{Pointer: at, Pressed: widget.Primary, Down: widget.Primary, Clicks: 1})
	require.NotNil(b, a.gesture)
	require.Equal(b, render.HitPosition, stage.Chosen.Kind)
	for i := 0; b.Loop(); i++ {
		frame(a, widget.Input{Pointer: at.Add(image.Pt(10+i%300, 0)), Down: widget.Primary})
	}
}
