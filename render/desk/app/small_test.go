package app

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/session"
	"emberbeat/timeline"
)

// What would double cues of the same lane at the same place is asked before it is pasted; elsewhere nothing is asked.
func TestPasteAsksWhereItWouldDouble(t *testing.T) {
	h := withExample(t)
	cues := h.cues("Sparks")
	require.NotEmpty(t, cues)
	h.a.work.View().Choose(cues[0].Cue.ID)
	h.key("Ctrl+C")
	before := len(h.a.work.InView().Cues)
	h.key("Ctrl+Shift+V")
	require.NotNil(t, h.a.dialog)
	require.Len(t, h.a.work.InView().Cues, before)
	h.key("Enter")
	require.Nil(t, h.a.dialog, "Enter takes what does no harm")
	require.Len(t, h.a.work.InView().Cues, before)
	h.key("Ctrl+Shift+V")
	h.button("Paste all the same")
	require.Len(t, h.a.work.InView().Cues, before+1, "it is done where that is meant")
	h.key("Ctrl+Z")

	// Where one of two is there already, the other is pasted alone.
	other := h.cues("Jets, lip")[0].Cue.ID
	h.a.work.View().Choose(cues[0].Cue.ID, other)
	h.key("Ctrl+C")
	h.a.work.View().Choose(other)
	h.key("Delete")
	h.key("Ctrl+Shift+V")
	require.NotNil(t, h.a.dialog)
	h.key("Enter")
	require.Len(t, h.a.work.InView().Cues, before)
	require.Nil(t, h.a.dialog)
}

// Quantising leaves arms and conditions where they are, unless nothing else is selected.
func TestQuantiseLeavesWindowsAlone(t *testing.T) {
	h := withExample(t)
	song := h.a.work.InView()
	var window, hit timeline.ID
	for _, c := range song.Cues {
		if l := song.Lane(c.Lane); l != nil && l.Window() {
			window = c.ID
		} else if l != nil {
			hit = c.ID
		}
	}
	require.NotEmpty(t, window)
	off := timeline.AtTime(10*timeline.Second + 137*timeline.Millisecond)
	move := func(d *timeline.Draft) error {
		for _, id := range []timeline.ID{window, hit} {
			c := *d.Show().Song(song.ID).Cue(id)
			c.At = off
			d.Put(song.ID, &c)
		}
		return nil
	}
	require.True(t, h.a.do(change{"off the beat", []timeline.Edit{move}}))
	h.a.work.View().Choose(window, hit)
	h.key("Q")
	require.Equal(t, off, h.a.work.InView().Cue(window).At)
	require.True(t, h.a.work.InView().Cue(hit).At.OnBeat)
	h.a.work.View().Choose(window)
	h.key("Q")
	require.True(t, h.a.work.InView().Cue(window).At.OnBeat, "it was asked for")
}

// A folder that is not there is said to be none, and is not taken for one in which nothing was found.
func TestRelinkSaysNoSuchFolder(t *testing.T) {
	_, err := findByHash(t.Context(), filepath.Join(t.TempDir(), "gone"), map[string]*timeline.Song{})
	require.ErrorContains(t, err, "no such folder")
	_, err = findByHash(t.Context(), t.TempDir(), map[string]*timeline.Song{})
	require.NoError(t, err)
}

// Of a show that another program has open, a second window offers to edit a copy.
func TestSecondWindowEditsACopy(t *testing.T) {
	h := newHand(t)
	dir := filepath.Join(t.TempDir(), "show")
	copyLight(t, dir, false)
	other, err := session.Open(dir, session.Options{})
	require.NoError(t, err)
	defer other.Close()
	require.NoError(t, h.a.Open(dir))
	h.settle()
	h.step()
	require.True(t, h.a.work.Session.ReadOnly())
	h.button("Edit a copy")
	h.settle()
	require.Equal(t, dir+" copy", h.a.work.Session.Dir())
	require.False(t, h.a.work.Session.ReadOnly())
	require.NotEmpty(t, h.a.why(h.a.byID("edit-copy")), "it is edited here")
	require.Equal(t, other.Show().Head.Title, h.a.work.Show.Head.Title)
}
