package app

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// The history lists every step with how much it changed, goes to any of them and back, and marks where the show was saved.
func TestHistoryGoesToAnyStep(t *testing.T) {
	h := withExample(t)
	opened := h.a.work.Session.Show()
	c := h.cues("Sparks")[0].Cue.ID
	h.a.work.View().Choose(c)
	for _, id := range []string{"disable", "lock", "disable"} {
		h.later()
		require.True(t, h.a.Use(id))
		h.step()
		if id == "lock" {
			require.NoError(t, h.a.work.Session.Save())
		}
	}
	last := h.a.work.Session.Show()
	h.key("Ctrl+Shift+H")
	require.Equal(t, "history", h.a.book.at)
	texts := textsOf(h.frame.Panels)
	require.Contains(t, texts, "3 steps made, 0 of them taken back")
	require.Contains(t, texts, "as it was opened")
	require.Equal(t, 2, strings.Count(texts, "\nsaved\n"), "as it was opened, and where it was saved")
	require.Contains(t, h.a.why(h.a.byID("history-go")), "stands there now")
	h.key("End", "Enter")
	require.Same(t, opened, h.a.work.Session.Show())
	texts = textsOf(h.frame.Panels)
	require.Contains(t, texts, "3 of them taken back")
	require.Equal(t, 3, strings.Count(texts, "taken back: "))
	h.key("Home", "Enter")
	require.Same(t, last, h.a.work.Session.Show())
	h.key("Ctrl+Z")
	require.Contains(t, textsOf(h.frame.Panels), "1 of them taken back")
}
