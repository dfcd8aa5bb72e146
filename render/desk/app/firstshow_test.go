package app

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

// TestFirstCueInFiveActions goes from the start page to a cue on a song that the program has never seen, and counts what the user does.
func TestFirstCueInFiveActions(t *testing.T) {
	b, err := os.ReadFile("../../../shows/example/show/audio/slow-matches.ogg")
	require.NoError(t, err)
	recording := filepath.Join(t.TempDir(), "My new song.ogg")
	require.NoError(t, os.WriteFile(recording, b, 0o644))

	h := newHand(t)
	require.Contains(t, textsOf(h.frame.Panels), "small invented stock and rig")
	actions := 0
	act := func(do func()) { actions++; do(); h.step() }
	act(func() { h.a.Drop([]string{recording}) })
	h.settle()
	h.until(func() bool { return h.a.work != nil && h.a.work.InView() != nil && len(h.a.work.InView().Lanes) > 0 })
	song := h.a.work.InView()
	require.Equal(t, "My new song", song.Title)
	require.False(t, song.Beats.Empty(), "it was listened to")
	h.until(func() bool { return h.sound() != nil && h.sound().Ready })
	act(func() { h.key("Space") })
	h.until(func() bool { return h.a.song.Heard() > timeline.Second })
	act(func() { h.key("1") })
	require.Len(t, h.a.work.InView().Cues, 1)
	c := h.a.work.InView().Cues[0]
	lane := h.a.work.InView().Lane(c.Lane)
	require.Equal(t, "Jets", h.a.work.Show.CalledIn(song.ID, lane), "a lane is called after what it aims at")
	at, ok := c.At.In(song.Beats)
	require.True(t, ok)
	require.Greater(t, at, timeline.Time(0))
	require.NotEmpty(t, h.a.work.Plan.Songs[0].Commands, "the cue leads to commands")
	require.LessOrEqual(t, actions, 5)

	// A second recording of that name does not touch the first show.
	h.a.leave()
	h.step()
	h.a.Drop([]string{recording})
	h.settle()
	require.Equal(t, "My new song show 2", filepath.Base(h.a.work.Session.Dir()))
}

// Without the tick a new show is empty, and the window remembers that.
func TestNewShowIsEmptyWhereThatIsAskedFor(t *testing.T) {
	h := newHand(t)
	h.button("stocked")
	require.True(t, h.a.prefs.Bare)
	require.NoError(t, h.a.newShow(filepath.Join(t.TempDir(), "bare"), "Bare"))
	require.Empty(t, h.a.work.Show.Stock.Articles)
	require.Empty(t, h.a.work.Show.Rig.Placed)
}
