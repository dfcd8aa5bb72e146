package app

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render"
)

// Notes of a crew page are taken in as one step, stand at their bar in the picture, and
// a press shows their values; a second time nothing changes.
func TestNotesAreTakenIn(t *testing.T) {
	h := withExample(t)
	song := h.a.work.Song
	path := filepath.Join(t.TempDir(), "notes.json")
	text := `{"emberbeat_notes":1,"show":"` + string(h.a.work.Show.Head.ID) + `","night":"","revision":"","page":"0123456789abcdef","notes":[{"id":"note-1","song":"` + string(song) + `","at":202000,"text":"late by a beat","by":"Ada"}]}`
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	h.a.takeNotes(path)
	h.step()
	require.Contains(t, h.a.note.text, "1 note new, 0 known already")
	notes := h.a.work.Session.Show().Song(song).Notes
	require.Len(t, notes, 1)
	h.press(h.grip(render.HitNote, "note-1"), 0)
	h.step()
	require.Equal(t, "note", h.a.panel.record.Kind)

	h.a.takeNotes(path)
	require.Contains(t, h.a.note.text, "0 notes new, 1 known already")
	h.key("Ctrl+Z")
	require.Empty(t, h.a.work.Session.Show().Song(song).Notes, "one step takes them back")

	require.NoError(t, os.WriteFile(path, []byte("{}"), 0o600))
	h.a.takeNotes(path)
	require.Contains(t, h.a.note.text, "no file of notes")
}
