package app

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

// A plain value of a table is edited where it stands: F2 begins, Enter keeps as one step, Escape leaves it; the arrows go along the row.
func TestCellsAreEditedInPlace(t *testing.T) {
	h := withExample(t)
	l := h.open("positions")
	h.row(l, l.Columns()[0].Text(&l.Rows()[0]))
	id := l.Rows()[0].Ref
	position := func() *timeline.StagePosition {
		return find(h.a.work.Session.Show(), id).(*timeline.StagePosition)
	}
	was := *position()
	h.a.ui.Focus("nothing")
	h.key("F2")
	h.typed("Lip far left")
	if dir := os.Getenv("EMBERBEAT_PICTURES"); dir != "" {
		writePicture(t, dir+"/cell.png", h.picture())
	}
	h.key("Enter")
	require.Equal(t, "Lip far left", position().Name)
	require.Equal(t, "positions", h.a.book.at)
	h.key("Down")
	require.Equal(t, 1, l.Sel.Cursor, "the table has the keys again")
	h.key("Up")

	h.key("F2")
	h.typed("Nowhere")
	h.key("Esc")
	require.Equal(t, "Lip far left", position().Name, "Escape leaves the value")
	require.Equal(t, "positions", h.a.book.at, "and the page in view")
	h.key("Ctrl+Z")
	require.Equal(t, was.Name, position().Name, "it was one step")
}

// Along the row Enter edits the cell at the keys; a choice is found by its letters, and what cannot be is refused beside the cell.
func TestCellsOfChoicesAndOfSeveralRows(t *testing.T) {
	h := withExample(t)
	l := h.open("placed")
	h.row(l, "Comet 1")
	h.key("Shift+Down")
	refs := h.a.Chosen()
	require.Len(t, refs, 2)
	placed := func(i int) *timeline.Placed { return find(h.a.work.Session.Show(), refs[i]).(*timeline.Placed) }
	was := []string{string(placed(0).Article), string(placed(1).Article)}
	h.key("Right", "Right", "Enter")
	h.typed("gas")
	h.key("Enter")
	if h.a.dialog != nil {
		h.key("Enter")
	}
	article := h.a.work.Session.Show().Stock.Article(placed(0).Article)
	require.NotEqual(t, was[0], string(article.ID))
	require.Contains(t, article.Name, "as", "it was found by its letters")
	require.Equal(t, placed(0).Article, placed(1).Article, "both rows have it")
	h.key("Ctrl+Z")
	require.Equal(t, was, []string{string(placed(0).Article), string(placed(1).Article)}, "as one step")
}
