package app

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// What was set aside comes back by a form, where somebody says that it stands now; a
// show without any says why nothing can.
func TestBringBackInTheWindow(t *testing.T) {
	h := withExample(t)
	require.Equal(t, "nothing is set aside in any song", needAsides(h.a))
	in := h.a.work.InView()
	cue := in.Cues[0]
	require.NoError(t, h.a.work.Session.Do("set aside", func(d *timeline.Draft) error {
		aside := timeline.SetAside("aside1", in, cue, cue.At, "the music there is not heard in the new recording")
		aside.Recording = "another"
		d.Put(in.ID, aside)
		return d.Remove(timeline.Ref{Kind: "cue", Song: in.ID, ID: cue.ID})
	}))
	h.a.work.Refresh()
	require.Nil(t, h.a.work.Session.Show().Song(in.ID).Cue(cue.ID))
	require.Empty(t, needAsides(h.a))
	h.a.askBringBack(operation.Find("bring-back", ""))
	h.give("aside", string(in.ID)+"/aside1")
	require.Contains(t, h.form().why(), "write where it stands now")
	h.button("at")
	h.typed("0:10.0000")
	h.step()
	require.Empty(t, h.form().why())
	h.key("Enter")
	song := h.a.work.Session.Show().Song(in.ID)
	require.NotNil(t, song.Cue(cue.ID))
	require.Equal(t, "0:10.0000", song.Cue(cue.ID).At.String())
	require.Equal(t, cue.Lane, song.Cue(cue.ID).Lane)
	require.Empty(t, song.Asides)
}
