package app

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
)

// Whatever keys are pressed on the pages, nothing falls over, and undo leads back to the show that was opened.
func TestKeysAtRandomInTheBook(t *testing.T) {
	h := withExample(t)
	a := h.a
	first := a.work.s.Show()
	keys := []string{"Insert", "Delete", "Ctrl+D", "Shift+Insert", "Ctrl+Shift+W", "Tab", "Tab", "Shift+Tab", "Enter", "Enter", "Ctrl+Enter", "Esc", "Up", "Down", "Down", "Shift+Down",
		"Left", "Right", "Home", "End", "PgDn", "Ctrl+A", "Ctrl+Z", "Ctrl+Y", "F6", "F2", "Shift+F10", "F1", "P", "Ctrl+Shift+F", "Ctrl+Shift+C", "Ctrl+Shift+PgDn", "Ctrl+Shift+PgUp", "F5", "F9"}
	var ids []string
	for i := range table {
		if c := &table[i]; c.group == "Book" {
			ids = append(ids, c.id)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		a.dialog = nil
		for range rapid.IntRange(10, 40).Draw(t, "steps") {
			switch rapid.IntRange(0, 9).Draw(t, "kind") {
			case 0:
				a.Use(rapid.SampledFrom(ids).Draw(t, "command"))
				h.step()
			case 1:
				h.typed(rapid.SampledFrom([]string{"1", "0.5", "-3", "x", "1.100", "99999", "co2", "", "é"}).Draw(t, "text"))
			case 2:
				h.a.size.X = rapid.SampledFrom([]int{640, 1024, 1440}).Draw(t, "wide")
				h.size.X = a.size.X
				h.step()
			default:
				h.key(rapid.SampledFrom(keys).Draw(t, "key"))
			}
		}
		a.dialog = nil
		a.ui.Blur() // so that no draft is handed over after undo
		h.step()
		h.step()
		a.dialog = nil
		for needUndo(a) == "" {
			a.undo()
		}
		h.step()
		if len(timeline.Diff(first, a.work.s.Show())) > 0 {
			t.Fatalf("undo does not lead back: %v", timeline.Diff(first, a.work.s.Show()))
		}
	})
	require.NotNil(t, a.work)
}
