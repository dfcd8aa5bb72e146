package app

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render/desk/page/against"
	"emberbeat/timeline"
)

// A list of the desk is read from the menu Show, and compared with the plan in view; how it is read is a step of the show, and the list stays as
// it is.
func TestListAgainstPlan(t *testing.T) {
	h := withExample(t)
	dir := t.TempDir()
	file := filepath.Join(dir, "desk.csv")
	const text = "Time,Pin\n01:00:12:00,A-1\n01:00:13:00,A-2\n"
	require.NoError(t, os.WriteFile(file, []byte(text), 0o600))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "song.wav"), nil, 0o600))
	page := h.a.families[listFamily].State.(*against.Against)
	require.Contains(t, h.a.byID("compare-again").off(h.a), "choose a list first")

	require.True(t, h.a.Use("compare-list"))
	d := h.a.dialog.(*browseDialog)
	files, err := d.disk.List(dir)
	require.NoError(t, err)
	require.Len(t, files, 1, "only what a list may be is offered")
	h.a.dialog = nil
	d.take(file)
	h.step()
	require.Equal(t, against.ID, h.a.book.at)
	require.Contains(t, textsOf(h.frame.Panels), "desk.csv cannot be compared: the columns of the list: no column says when")

	words := []timeline.DeskWord{{What: timeline.DeskMap, Name: "timecode", Text: "Time"}, {What: timeline.DeskMap, Name: "address", Text: "Pin"}, {What: timeline.DeskMeans, Name: "A-{n}", Text: "bank A:{n}"}}
	require.True(t, h.a.Do("how the list is read", timeline.RememberDeskList(words)))
	h.checked()
	h.step()
	require.NotNil(t, page.Made)
	require.Equal(t, 2, page.Made.Read)
	require.NotEmpty(t, page.Made.Differences)
	texts := textsOf(h.frame.Panels)
	require.Contains(t, texts, "missing")
	require.Contains(t, texts, "what was not compared: ")
	before := page.Made

	require.NoError(t, os.WriteFile(file, []byte(text+"01:00:14:00,A-3\n"), 0o600))
	require.True(t, h.a.Use("compare-again"))
	h.step()
	require.Equal(t, 3, page.Made.Read)
	require.NotSame(t, before, page.Made)
	h.key("Ctrl+Z")
	h.checked()
	h.step()
	require.Nil(t, page.Made, "one step took back how it is read")
	now, err := os.ReadFile(file)
	require.NoError(t, err)
	require.Equal(t, text+"01:00:14:00,A-3\n", string(now), "nothing is written into the list")

	require.NoError(t, os.Remove(file))
	require.True(t, h.a.Use("compare-again"))
	h.step()
	require.Contains(t, textsOf(h.frame.Panels), "desk.csv cannot be compared")
}
