package app

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

// An older save is chosen from a list, looked at without changing anything, and
// restored as a step that can be undone.
func TestOlderSavesAreLookedAtAndRestored(t *testing.T) {
	h := withExample(t)
	title := h.a.work.Session.Show().Head.Title
	h.a.Use("saves")
	require.Nil(t, h.a.dialog)
	require.Contains(t, h.a.note.text, "nothing has been saved over this show")
	h.a.Do("another title", func(d *timeline.Draft) error {
		return d.Set(timeline.Ref{Kind: "show", ID: d.Show().Head.ID}, "title", timeline.Value{Text: "Another"})
	})
	require.NoError(t, h.a.work.Session.Save())
	h.a.Use("saves")
	d := h.a.dialog.(*savesDialog)
	h.step()
	require.Contains(t, textsOf(h.frame.Panels), d.list.Saves[0].At(time.Local))
	require.Len(t, d.list.Saves, 1)

	h.a.dialog = &saveDialog{line: d.list.Saves[0]}
	h.step()
	h.button("Restore")
	h.step()
	require.Equal(t, title, h.a.work.Session.Show().Head.Title)
	h.a.Use("undo")
	require.Equal(t, "Another", h.a.work.Session.Show().Head.Title)

	require.NoError(t, h.a.Open(h.dir+"@1"))
	h.settle()
	require.Equal(t, title, h.a.work.Session.Show().Head.Title)
	require.True(t, h.a.work.Session.ReadOnly())
	require.Contains(t, h.a.note.text, "this is the save of")
}
