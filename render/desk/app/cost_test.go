package app

import (
	"fmt"
	"image"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// play has the song in view play, and gives what lets time pass between two frames.
func (h *hand) play() (pass func()) {
	h.t.Helper()
	h.until(func() bool { return h.sound() != nil && h.sound().Ready })
	h.a.Use("play")
	h.step()
	require.True(h.t, h.a.Moving())
	return func() {
		h.now += 33 * time.Millisecond
		h.clock.Store(int64(h.now))
	}
}

// A frame in which only that moves which moves while a song plays leaves nothing for the collector, with the stage from the front and from above and
// with the counters shown.
func TestPlayingMakesNoGarbage(t *testing.T) {
	h := withExample(t)
	require.NoError(t, h.a.song.GoTo("17.1"))
	h.size = image.Pt(1920, 1080)
	pass := h.play()
	h.a.o.Debug = nil // words for a log are garbage
	for _, with := range []string{"", "stage-turn", "counters"} {
		if with != "" {
			h.a.Use(with)
			h.step()
		}
		for range 200 { // lists grow to what they need
			pass()
			h.a.Move()
		}
		require.Zero(t, testing.AllocsPerRun(100, func() {
			pass()
			h.a.Move()
		}), "with %q", with)
	}
	require.True(t, h.a.Moving(), "it still plays")
}

// While nothing is done and nothing plays, no page asks for a frame.
func TestIdleAsksForNoFrame(t *testing.T) {
	h := withExample(t)
	h.a.goNight(h.a.work.Show.Nights[0].ID)
	h.move(image.Pt(-1, -1))
	ids := []string{""}
	for i := range h.a.pages {
		ids = append(ids, h.a.pages[i].ID)
	}
	for _, counters := range []bool{false, true} {
		if counters {
			h.a.Use("counters")
		}
		for _, id := range ids {
			h.a.turn(id)
			for range 3 {
				h.step()
				h.settle()
			}
			h.a.ui.Blur() // a caret blinks
			h.later()
			h.step()
			h.settle() // the folder is looked at beside
			wait, waits := h.a.Due(h.now)
			require.False(t, waits, "page %q with counters %v wants a frame in %v", id, counters, wait)
			require.False(t, h.a.Waiting(), "page %q", id)
			require.False(t, h.a.Moving(), "page %q", id)
		}
	}
}

// Each step of a drag compiles the plan once, and letting go compiles nothing: the plan that was looked at becomes that of the show.
func TestDragCompilesOnceAStep(t *testing.T) {
	h := withExample(t)
	cues := h.cues("Jets, lip")
	ids := make([]timeline.ID, len(cues))
	for i := range cues {
		ids[i] = cues[i].Cue.ID
	}
	h.a.work.View().Choose(ids...)
	h.step()
	h.settle()
	first := h.cue(ids[0])
	at := image.Pt(first.Min.X+3, middle(first).Y)
	h.move(at)
	h.down(widget.Primary)
	h.a.prefs.Snap = false
	count := func() int { return h.a.work.Session.Effort().Compiles }
	was := count()
	for i := 1; i <= 6; i++ {
		h.move(at.Add(image.Pt(10+7*i, 0)))
		require.NotNil(t, h.a.work.Tried)
		require.Equal(t, was+i, count(), "step %d", i)
		h.move(at.Add(image.Pt(10+7*i, 0)))
		require.Equal(t, was+i, count(), "the pointer stood still")
	}
	h.up()
	require.Equal(t, was+6, count(), "letting go")
	require.True(t, h.log.has("did move"))
}

// The counters are shown by their key over any page, and say what was compiled and checked.
func TestCountersAreShown(t *testing.T) {
	h := withExample(t)
	require.NotContains(t, h.said(), "plan compiled in")
	h.key("Ctrl+F12")
	require.Contains(t, h.said(), "plan compiled in")
	require.True(t, h.a.isOn("counters"))
	e := h.a.work.Session.Effort()
	require.Positive(t, e.Compiles)
	require.Positive(t, e.Checks)
	require.Contains(t, h.said(), fmt.Sprintf(", %d times\n", e.Compiles))
	h.key("Ctrl+9")
	require.Contains(t, h.said(), "rules asked in")
	h.key("Ctrl+F12")
	require.NotContains(t, h.said(), "plan compiled in")
}

// fullShow is the example's rig and stock with 25 songs of 2,000 cues with notes, each on 25 lanes, all of which are seen at once at full HD.
func fullShow(tb testing.TB, small *timeline.Show) *timeline.Show {
	tb.Helper()
	d := timeline.NewDraft(small)
	model := small.Songs[0]
	for n := range 25 {
		head := model.SongHead
		head.ID, head.Title, head.Slug = timeline.ID(fmt.Sprintf("full%d", n)), fmt.Sprintf("Full song %d", n), fmt.Sprintf("full-%d", n)
		head.Start = timeline.Timecode{H: uint8(1 + n%22), M: uint8(n / 22 * 30)}
		head.Audio, head.Length = timeline.Audio{}, 9*timeline.Minute
		head.Beats = timeline.SteadyBeatMap(0, timeline.Second/2, timeline.Metre{Num: 4, Den: 4}, 260)
		d.Put("", &head)
		for l := range 25 {
			lane := *model.Lanes[0]
			for _, m := range model.Lanes {
				if m.Name == "Jets, lip" {
					lane = *m
				}
			}
			lane.ID, lane.Name = timeline.ID(fmt.Sprintf("lane%d", l)), fmt.Sprintf("Jets %d", l+1)
			d.Put(head.ID, &lane)
			for k := range 80 {
				bar := timeline.BarBeat{Bar: 2 + 3*k, Beat: timeline.NewRat(int64(l%4), 1)}
				if k%2 == 1 { // close to the one before, so that the next has room for its note
					bar.Bar -= 2
				}
				d.Put(head.ID, &timeline.Cue{Base: timeline.Base{ID: timeline.ID(fmt.Sprintf("c%d-%d", l, k))}, Lane: lane.ID, Note: "hit", Open: 100 * timeline.Millisecond, At: timeline.AtBar(bar)})
			}
		}
	}
	show, err := d.Done()
	require.NoError(tb, err)
	set := *show.SetOf(nil)
	set.Entries = nil
	for n := range 25 {
		set.Entries = append(set.Entries, timeline.Entry{Song: timeline.ID(fmt.Sprintf("full%d", n))})
	}
	show, err = show.Edit(page.Put("", &set))
	require.NoError(tb, err)
	return show
}

// withFull opens it with a song in view.
func withFull(b *testing.B) *App {
	a := withShown(b, "full3", func(s *timeline.Show) *timeline.Show { return fullShow(b, s) })
	frame(a, widget.Input{})
	seen := 0
	for _, h := range a.song.Scene().Hits {
		if h.Kind == render.HitCue {
			seen++
		}
	}
	require.Equal(b, 2000, seen, "all cues are in view")
	return a
}

// timed runs frames and says the worst of them.
func timed(b *testing.B, frame func(i int)) {
	worst := time.Duration(0)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		from := time.Now()
		frame(i)
		worst = max(worst, time.Since(from))
	}
	b.ReportMetric(float64(worst.Microseconds())/1000, "worst-ms")
}

// Frames of a song of 2,000 cues in a show of 50,000.
func BenchmarkFull(b *testing.B) {
	b.Run("pointer", func(b *testing.B) {
		a := withFull(b)
		timed(b, func(i int) { frame(a, widget.Input{Pointer: image.Pt(900+i%50, 700)}) })
	})
	b.Run("zoom", func(b *testing.B) {
		a := withFull(b)
		timed(b, func(i int) {
			frame(a, widget.Input{Pointer: image.Pt(900, 300), Mods: widget.Ctrl, Wheel: image.Pt(0, 2*(i%2)-1)})
		})
	})
	b.Run("moving", func(b *testing.B) {
		a := withFull(b)
		timed(b, func(int) { a.Move() })
	})
	b.Run("drag 500", func(b *testing.B) {
		a := withFull(b)
		var ids []timeline.ID
		for l := range 7 {
			for k := range 80 {
				if len(ids) < 500 {
					ids = append(ids, timeline.ID(fmt.Sprintf("c%d-%d", l, k)))
				}
			}
		}
		a.work.View().Choose(ids...)
		frame(a, widget.Input{})
		at := image.Point{}
		for _, h := range a.song.Scene().Hits {
			if h.Kind == render.HitCue && h.ID == "c3-40" {
				at = middle(h.Area)
			}
		}
		frame(a, widget.Input{Pointer: at})
		frame(a, widget.Input{Pointer: at, Pressed: widget.Primary, Down: widget.Primary, Clicks: 1})
		require.NotNil(b, a.gesture)
		timed(b, func(i int) { frame(a, widget.Input{Pointer: at.Add(image.Pt(10+i%200, 0)), Down: widget.Primary}) })
		require.NotNil(b, a.work.Tried)
		require.Len(b, a.work.View().Selected, 500)
	})
}
