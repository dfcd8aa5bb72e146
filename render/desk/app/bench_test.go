package app

import (
	"fmt"
	"image"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"emberbeat/render"
	"emberbeat/render/widget"
	"emberbeat/shows"
	"emberbeat/timeline"
)

// bigShow is the example's rig and stock with 25 songs of 1,000 cues each, all on bars.
func bigShow(tb testing.TB, small *timeline.Show) *timeline.Show {
	tb.Helper()
	d := timeline.NewDraft(small)
	model := small.Songs[0]
	for _, s := range small.Songs {
		if s.Slug == "slow-matches" {
			model = s
		}
	}
	var jets []*timeline.Lane // what can be used again soon, so that the show has few findings, as a real one
	for _, l := range model.Lanes {
		if strings.HasPrefix(l.Name, "Jets") {
			jets = append(jets, l)
		}
	}
	require.Len(tb, jets, 2)
	for n := range 25 {
		head := model.SongHead
		head.ID, head.Title, head.Slug = timeline.ID(fmt.Sprintf("big%d", n)), fmt.Sprintf("Song %d", n), fmt.Sprintf("big-%d", n)
		head.Start = timeline.Timecode{H: uint8(1 + n%22), M: uint8(n / 22 * 30)}
		head.Audio = timeline.Audio{}
		head.Length = 9 * timeline.Minute
		head.Beats = timeline.SteadyBeatMap(0, timeline.Second/2, timeline.Metre{Num: 4, Den: 4}, 260)
		d.Put("", &head)
		for _, l := range model.Lanes {
			c := *l
			d.Put(head.ID, &c)
		}
		for k := range 1000 {
			d.Put(head.ID, &timeline.Cue{Base: timeline.Base{ID: timeline.ID(fmt.Sprintf("c%d", k))}, Lane: jets[k%len(jets)].ID, Note: "hit",
				Open: 100 * timeline.Millisecond, At: timeline.AtBar(timeline.BarBeat{Bar: 2 + k/4, Beat: timeline.NewRat(int64(k%4), 1)})})
		}
	}
	show, err := d.Done()
	require.NoError(tb, err)
	set := *show.SetOf(nil)
	for n := range 25 {
		set.Entries = append(set.Entries, timeline.Entry{Song: timeline.ID(fmt.Sprintf("big%d", n))})
	}
	show, err = show.Edit(put("", &set)...)
	require.NoError(tb, err)
	return show
}

// withBig opens the big show at full HD with all its cues in view.
func withBig(b *testing.B) *App {
	b.Helper()
	home := b.TempDir()
	b.Setenv("HOME", home)
	b.Setenv(shows.StateEnv, home+"/state")
	b.Setenv("EMBERBEAT_CACHE", home+"/cache")
	l, err := shows.LoadFrom(shows.FS(exampleFiles()))
	require.NoError(b, err)
	require.NoError(b, shows.Create(home+"/show", bigShow(b, l.Show)))
	a := New(Options{})
	b.Cleanup(a.Close)
	begun := time.Now()
	require.NoError(b, a.Open(home+"/show"))
	b.Logf("opened in %v", time.Since(begun))
	frame(a, widget.Input{})
	a.goSong("big3")
	for a.work.marks == nil {
		time.Sleep(5 * time.Millisecond)
		frame(a, widget.Input{})
	}
	b.Logf("%d findings", len(a.work.findings))
	return a
}

func frame(a *App, in widget.Input) { a.Frame(in, image.Pt(1920, 1080), render.Unit) }

// A frame in which the view moves: everything is laid out and drawn into scenes anew.
func BenchmarkFrameScrolling(b *testing.B) {
	a := withBig(b)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		frame(a, widget.Input{Pointer: image.Pt(900, 700), Wheel: image.Pt(2*(i%2)-1, 0)})
	}
}

// A frame in which the pointer moves over panels and timeline.
func BenchmarkFramePointer(b *testing.B) {
	a := withBig(b)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		frame(a, widget.Input{Pointer: image.Pt(900+i%50, 700)})
	}
}

// What is drawn while the song plays.
func BenchmarkFramePlaying(b *testing.B) {
	a := withBig(b)
	b.ReportAllocs()
	for b.Loop() {
		a.Move()
	}
}

// A drag moves 1 cue of the song: the provisional plan and the picture of it.
func BenchmarkFrameDragging(b *testing.B) {
	a := withBig(b)
	a.work.view().set(a.work.data.Whole(), 0, 60*timeline.Second)
	frame(a, widget.Input{})
	var at image.Point
	for _, h := range a.scenes.song.Hits {
		if h.Kind == render.HitCue && h.Area.Min.X > 700 {
			at = middle(h.Area)
			break
		}
	}
	frame(a, widget.Input{Pointer: at})
	frame(a, widget.Input{Pointer: at, Pressed: widget.Primary, Down: widget.Primary, Clicks: 1})
	require.NotNil(b, a.gesture)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		frame(a, widget.Input{Pointer: at.Add(image.Pt(10+i%300, 0)), Down: widget.Primary})
	}
}

// From an edit to findings that are drawn.
func BenchmarkEditToFindings(b *testing.B) {
	a := withBig(b)
	a.work.view().choose("c500")
	for i := 0; b.Loop(); i++ {
		a.nudge(int64(1 - 2*(i%2)))
		frame(a, widget.Input{})
		for a.work.checks.busy || a.work.checks.asked != a.work.plan {
			time.Sleep(100 * time.Microsecond)
			frame(a, widget.Input{})
		}
	}
}

// A frame of a table of 2,000 placed effects, with the pointer moving over it.
func BenchmarkFrameTable(b *testing.B) {
	a := withBig(b)
	var recs []timeline.Record
	model := a.work.shown.Rig.Placed[0]
	for i := range 2000 {
		p := *model
		timeline.SetID(&p, timeline.ID(fmt.Sprintf("bench%d", i)))
		p.Name = fmt.Sprintf("Effect %d", i)
		recs = append(recs, &p)
	}
	require.True(b, a.do(change{"place many", []timeline.Edit{func(d *timeline.Draft) error {
		d.Put("", recs...)
		return nil
	}}}))
	a.turn("placed")
	frame(a, widget.Input{})
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		frame(a, widget.Input{Pointer: image.Pt(600+i%50, 700)})
	}
}
