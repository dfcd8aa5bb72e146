package app

import (
	"image"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"emberbeat/render"
	"emberbeat/render/widget"
	"emberbeat/shows"
	"emberbeat/shows/example"
)

// exampleFolder is a copy of the example show, away from the user's own state and cache.
func exampleFolder(b *testing.B) string {
	b.Helper()
	home := b.TempDir()
	b.Setenv("HOME", home)
	b.Setenv(shows.StateEnv, filepath.Join(home, "state"))
	b.Setenv("EMBERBEAT_CACHE", filepath.Join(home, "cache"))
	dir := filepath.Join(home, "show")
	require.NoError(b, example.CopyTo(dir))
	return dir
}

// From nothing to the first frame of the example.
func BenchmarkStart(b *testing.B) {
	dir := exampleFolder(b)
	for b.Loop() {
		a := New(Options{})
		require.NoError(b, a.Open(dir))
		frame(a, widget.Input{})
		b.StopTimer()
		a.Close()
		b.StartTimer()
	}
}

// cueInHand opens the example and gives a place on a cue of the song in view.
func cueInHand(b *testing.B) (*App, func() image.Point) {
	b.Helper()
	a := New(Options{})
	b.Cleanup(a.Close)
	require.NoError(b, a.Open(exampleFolder(b)))
	checked(b, a)
	view := a.work.View()
	view.Set(a.work.Data.Whole(), 0, a.work.Data.Length()/4)
	frame(a, widget.Input{})
	return a, func() image.Point {
		for _, h := range a.song.Scene().Hits {
			if h.Kind == render.HitCue && h.Area.Min.X > 700 {
				return middle(h.Area)
			}
		}
		b.Fatal("no cue in view")
		return image.Point{}
	}
}

// checked runs frames until what is shown is checked.
func checked(b *testing.B, a *App) {
	b.Helper()
	for end := time.Now().Add(30 * time.Second); ; time.Sleep(100 * time.Microsecond) {
		frame(a, widget.Input{})
		if a.work.Marks != nil && a.work.Checked() {
			return
		}
		require.True(b, time.Now().Before(end), "not checked in time")
	}
}

// grasp takes hold of what lies at a place.
func grasp(a *App, at image.Point) {
	frame(a, widget.Input{Pointer: at})
	frame(a, widget.Input{Pointer: at, Pressed: widget.Primary, Down: widget.Primary, Clicks: 1})
}

// A step of a drag of one of the example's cues.
func BenchmarkDragStep(b *testing.B) {
	a, cue := cueInHand(b)
	at := cue()
	grasp(a, at)
	require.NotNil(b, a.gesture)
	for i := 0; b.Loop(); i++ {
		frame(a, widget.Input{Pointer: at.Add(image.Pt(10+i%300, 0)), Down: widget.Primary})
	}
}

// The end of such a drag: the frame in which it becomes part of the show.
func BenchmarkDragRelease(b *testing.B) {
	a, cue := cueInHand(b)
	for i := 0; b.Loop(); i++ {
		b.StopTimer()
		checked(b, a)
		at := cue()
		grasp(a, at)
		to := at.Add(image.Pt(40-80*(i%2), 0))
		frame(a, widget.Input{Pointer: to, Down: widget.Primary})
		require.NotNil(b, a.gesture)
		was := a.work.Session.Show()
		b.StartTimer()
		frame(a, widget.Input{Pointer: to})
		b.StopTimer()
		require.Nil(b, a.gesture)
		require.NotSame(b, was, a.work.Session.Show(), "nothing was moved")
		b.StartTimer()
	}
}

// From an edit of the example to findings that are drawn.
func BenchmarkExampleEditToFindings(b *testing.B) {
	a, cue := cueInHand(b)
	at := cue()
	grasp(a, at)
	frame(a, widget.Input{Pointer: at})
	require.NotEmpty(b, a.work.View().Selected)
	for i := 0; b.Loop(); i++ {
		a.Use([]string{"nudge-on", "nudge-back"}[i%2])
		checked(b, a)
	}
}
