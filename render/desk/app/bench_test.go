package app

import (
	"fmt"
	"image"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"emberbeat/render"
	"emberbeat/render/desk/page"
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
	show, err = show.Edit(page.Put("", &set))
	require.NoError(tb, err)
	return show
}

// withBig opens the big show at full HD with all its cues in view.
func withBig(b *testing.B) *App {
	b.Helper()
	return withShown(b, "big3", func(s *timeline.Show) *timeline.Show { return bigShow(b, s) })
}

// withShown opens what is made of the example at full HD, with a song in view, once it is checked.
func withShown(b *testing.B, song timeline.ID, of func(*timeline.Show) *timeline.Show) *App {
	b.Helper()
	home := b.TempDir()
	b.Setenv("HOME", home)
	b.Setenv(shows.StateEnv, home+"/state")
	b.Setenv("EMBERBEAT_CACHE", home+"/cache")
	l, err := shows.LoadFrom(shows.FS(exampleFiles()))
	require.NoError(b, err)
	require.NoError(b, shows.Create(home+"/show", of(l.Show)))
	a := New(Options{})
	b.Cleanup(a.Close)
	begun := time.Now()
	require.NoError(b, a.Open(home+"/show"))
	b.Logf("opened in %v", time.Since(begun))
	frame(a, widget.Input{})
	a.song.GoSong(song)
	for !a.work.Checked() {
		time.Sleep(5 * time.Millisecond)
		frame(a, widget.Input{})
	}
	b.Logf("%d findings", len(a.work.Findings))
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
	a.work.View().Set(a.work.Data.Whole(), 0, 60*timeline.Second)
	frame(a, widget.Input{})
	var at image.Point
	for _, h := range a.song.Scene().Hits {
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

// What a drag of 1 cue costs beside its picture: a step of the pointer, and the release that makes the change.
func BenchmarkDrag(b *testing.B) {
	for _, c := range []struct {
		name string
		song func(*timeline.Show) timeline.ID
		of   func(*timeline.Show) *timeline.Show
	}{
		{"example", func(s *timeline.Show) timeline.ID { return s.SongsByStart()[0].ID }, func(s *timeline.Show) *timeline.Show { return s }},
		{"big", func(*timeline.Show) timeline.ID { return "big3" }, func(s *timeline.Show) *timeline.Show { return bigShow(b, s) }},
	} {
		begin := func(b *testing.B) (a *App, press func(), step func(int)) {
			var song timeline.ID
			a = withShown(b, "", func(s *timeline.Show) *timeline.Show {
				s = c.of(s)
				song = c.song(s)
				return s
			})
			a.song.GoSong(song)
			frame(a, widget.Input{})
			a.work.View().Set(a.work.Data.Whole(), 0, 60*timeline.Second)
			frame(a, widget.Input{})
			for end := time.Now().Add(time.Minute); !a.work.Checked(); time.Sleep(time.Millisecond) {
				require.True(b, time.Now().Before(end))
				frame(a, widget.Input{})
			}
			at := slices.IndexFunc(a.song.Scene().Hits, func(h render.Hit) bool { return h.Kind == render.HitCue && h.Area.Min.X > 700 })
			require.Positive(b, at)
			id, from := timeline.ID(a.song.Scene().Hits[at].ID), middle(a.song.Scene().Hits[at].Area)
			press = func() {
				a.in = widget.Input{Pointer: from, Down: widget.Primary}
				a.work.View().Choose(id)
				*a.ui.Input() = a.in
				a.song.PressCue(id)
			}
			step = func(n int) {
				a.in = widget.Input{Pointer: from.Add(image.Pt(10+n%300, 0)), Down: widget.Primary}
				a.drive(widget.Primary)
			}
			return a, press, step
		}
		b.Run(c.name+"/step", func(b *testing.B) {
			a, press, step := begin(b)
			press()
			for i := 0; b.Loop(); i++ {
				step(i)
			}
			require.NotNil(b, a.work.Tried)
		})
		b.Run(c.name+"/release", func(b *testing.B) {
			a, press, step := begin(b)
			for i := 0; b.Loop(); i++ {
				b.StopTimer()
				press()
				step(100 + i%2)
				b.StartTimer()
				a.in.Down = 0
				a.drive(widget.Primary)
				a.work.Refresh()
				b.StopTimer()
				a.undo()
				a.work.Refresh()
				b.StartTimer()
			}
			_, redo := a.work.Session.Labels()
			require.NotEmpty(b, redo, "each release has made a change")
		})
	}
}

// From an edit to findings that are drawn.
func BenchmarkEditToFindings(b *testing.B) {
	a := withBig(b)
	a.work.View().Choose("c500")
	for i := 0; b.Loop(); i++ {
		a.Use([]string{"nudge-on", "nudge-back"}[i%2])
		frame(a, widget.Input{})
		for !a.work.Checked() {
			time.Sleep(100 * time.Microsecond)
			frame(a, widget.Input{})
		}
	}
}

// A frame of a table of 2,000 placed effects, with the pointer moving over it.
func BenchmarkFrameTable(b *testing.B) {
	a := withBig(b)
	var recs []timeline.Record
	model := a.work.Show.Rig.Placed[0]
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
