package app

import (
	"image"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render"
	"emberbeat/render/desk/prefs"
	"emberbeat/render/widget"
	"emberbeat/timeline"
	"emberbeat/timeline/grid"
	"emberbeat/timeline/snap"
)

// Hits that are heard are snapped to once they are chosen, by key or menu: what is dragged stands on one at its time, and the target is drawn
// and named; quantising puts cues on hits within reach and says which stay; all of it is remembered of the user.
func TestSnapToHits(t *testing.T) {
	h := withHeard(t, "slow-matches")
	a := h.a
	require.Contains(t, a.song.SnapName(), "beats")
	require.Nil(t, h.a.song.Strip().View(), "the strip is closed")

	a.Use("snap-menu") // by menu
	h.step()
	require.True(t, h.seen("Snap to hits"))
	on := []string{}
	for _, it := range a.menuItems([]string{"snap", "snap-beats", "snap-hits", "snap-both", "snap-strong", "snap-middle", "snap-weak"}) {
		if it.Check {
			on = append(on, it.ID)
		}
	}
	require.Equal(t, []string{"snap", "snap-beats", "snap-middle"}, on, "what is on is marked")
	h.key("Esc")
	h.key("Shift+S") // by key
	require.True(t, a.isOn("snap-hits"))
	h.until(func() bool { return !strings.Contains(a.song.SnapName(), "listening") })
	hits := a.song.Strip().Attacks(a.work.Song)
	require.NotEmpty(t, hits)
	require.Contains(t, a.song.SnapName(), "(strong, middle)")

	i := slices.IndexFunc(hits, func(x grid.Attack) bool { // one that stands off the beat, so that nothing else is meant
		d := x.At - a.work.InView().Beats.At(a.work.InView().Beats.Snap(x.At, timeline.NewRat(1, 1)))
		return snap.Of(x.Strength) == snap.Strong && max(d, -d) > 5*timeline.Millisecond && x.At > 20*timeline.Second
	})
	require.GreaterOrEqual(t, i, 0)
	hit := hits[i].At.RoundTo(timeline.EntryStep)
	a.work.View().Set(a.work.Data.Whole(), hit-timeline.Second, 2*timeline.Second)
	h.step()
	lane := a.work.Data.Lanes[0]
	id := func() timeline.ID {
		for _, c := range a.work.InView().Cues {
			if at, _ := c.At.In(a.work.InView().Beats); at == hit {
				return c.ID
			}
		}
		return ""
	}
	require.Empty(t, id())
	a.work.View().Focus = lane.Lane.ID
	a.song.Seek(hit + 3*timeline.Millisecond)
	h.key("Enter") // placed
	require.NotEmpty(t, id(), "%s", a.note.text)
	placed := a.work.Session.Show().Song(a.work.Song).Cue(id())
	require.Equal(t, timeline.AtTime(hit), placed.At, "it stands at the time of what is heard")

	// dragged away with Alt, which turns snapping off, and back without
	at := middle(h.cue(placed.ID))
	h.drag(at, at.Add(image.Pt(60, 0)), widget.Alt)
	moved := a.work.Session.Show().Song(a.work.Song).Cue(placed.ID)
	require.NotEqual(t, placed.At, moved.At)
	h.later()
	at = middle(h.cue(placed.ID))
	x := a.song.Drawn().X(hit) - a.song.Drawn().X(moved.At.Time)
	h.move(at)
	h.down(widget.Primary)
	for i := 1; i <= 8; i++ {
		h.move(at.Add(image.Pt((x+3)*i/8, 0)))
	}
	beat := a.work.InView().Beats.Snap(hit, timeline.NewRat(1, 4)).String()
	named := false
	for i := range h.frame.Moving.Shapes {
		if sh := &h.frame.Moving.Shapes[i]; sh.Kind == render.KindText {
			text := string(h.frame.Moving.Label(sh))
			named = named || strings.HasPrefix(text, "hit "+beat+" ") && strings.HasSuffix(text, " ms, strong")
		}
	}
	require.True(t, named, "the target is drawn with its name")
	h.up()
	require.Equal(t, timeline.AtTime(hit), a.work.Session.Show().Song(a.work.Song).Cue(placed.ID).At)

	// quantised: a little beside it goes back
	to := *placed
	to.At = timeline.AtTime(hit + 8*timeline.Millisecond)
	require.True(t, a.do(change{"aside", []timeline.Edit{func(d *timeline.Draft) error { d.Put(a.work.Song, &to); return nil }}}))
	a.work.View().Choose(placed.ID)
	h.step()
	h.key("Q")
	require.Equal(t, timeline.AtTime(hit), a.work.Session.Show().Song(a.work.Song).Cue(placed.ID).At)
	h.a.Use("snap-strong")
	again := prefs.Load(a.o.State)
	require.Equal(t, []string{"hits", "strong"}, []string{again.SnapTo, again.SnapHits})
	h.key("Shift+S")
	require.True(t, a.isOn("snap-both"))
	h.key("Shift+S")
	require.True(t, a.isOn("snap-beats"))
}

// seen reports whether a text stands in the panels of the frame.
func (h *hand) seen(text string) bool {
	for i := range h.frame.Panels.Shapes {
		if sh := &h.frame.Panels.Shapes[i]; sh.Kind == render.KindText && string(h.frame.Panels.Label(sh)) == text {
			return true
		}
	}
	return false
}

// seenPart reports whether a text with a part stands in the panels of the frame.
func (h *hand) seenPart(part string) bool {
	for i := range h.frame.Panels.Shapes {
		if sh := &h.frame.Panels.Shapes[i]; sh.Kind == render.KindText && strings.Contains(string(h.frame.Panels.Label(sh)), part) {
			return true
		}
	}
	return false
}
