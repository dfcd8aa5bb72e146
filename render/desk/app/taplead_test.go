package app

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render/desk/prefs"
	"emberbeat/timeline"
)

// What a user taps while the song plays is placed earlier by the output delay and by the user's own lead; at rest by neither.
func TestTapLead(t *testing.T) {
	h := withExample(t)
	a := h.a
	placed := func() timeline.Time {
		t.Helper()
		before := map[timeline.ID]bool{}
		for _, c := range a.work.InView().Cues {
			before[c.ID] = true
		}
		a.Use("tap-1")
		for _, c := range a.work.Session.Show().Song(a.work.Song).Cues {
			if !before[c.ID] {
				got, ok := c.At.In(a.work.InView().Beats)
				require.True(t, ok)
				return got
			}
		}
		require.Fail(t, "nothing was placed", "%s", a.note.text)
		return 0
	}
	a.prefs.LeadMS = 120
	a.song.Seek(20 * timeline.Second)
	at := a.song.Heard()
	require.InDelta(t, at.Seconds(), placed().Seconds(), timeline.EntryStep.Seconds(), "at rest there is nothing to lead")

	a.song.Seek(30 * timeline.Second)
	a.Use("play")
	h.until(func() bool { return a.song.Heard() > 30*timeline.Second+200*timeline.Millisecond })
	at = a.song.Heard()
	require.InDelta(t, at.Seconds()-0.12, placed().Seconds(), 0.01)

	a.prefs.LeadMS = 5000
	a.prefs.Save()
	require.Equal(t, prefs.MaxLead, prefs.Load(a.o.State).LeadMS, "what cannot be set is not read either")
}
