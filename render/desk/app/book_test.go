package app

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

// Every page has all it needs, opens by its command, draws in the example and in an empty show, and Esc goes back to the timeline.
func TestEveryPageOpens(t *testing.T) {
	ids := map[string]bool{}
	blank := New(Options{})
	for _, p := range blank.pages {
		require.False(t, ids[p.ID], "two pages %s", p.ID)
		ids[p.ID] = true
		require.NotEmpty(t, p.Part, p.ID)
		require.NotEmpty(t, p.Help, p.ID)
		require.NotNil(t, blank.byID("book-"+p.ID), p.ID)
		for id := range p.Acts {
			require.NotNil(t, blank.byID(id), "%s acts on no command %s", p.ID, id)
		}
	}
	empty := newHand(t)
	require.NoError(t, empty.a.newShow(t.TempDir()+"/mine", "Mine"))
	for _, h := range []*hand{empty, withExample(t)} {
		for _, p := range h.a.pages {
			require.True(t, h.a.Use("book-"+p.ID))
			h.step()
			require.Equal(t, p.ID, h.a.book.at)
			require.Nil(t, h.frame.Song, "a page takes the timeline's place")
			h.key("Esc")
			require.Empty(t, h.a.book.at, p.ID)
		}
	}
	require.NotNil(t, withExample(t).frame.Song)
}

// The book remembers its page, turns by keys, and keys of the timeline rest while a page is in view.
func TestBookTurnsAndTimelineRests(t *testing.T) {
	h := withExample(t)
	cues := len(h.a.work.InView().Cues)
	h.key("Ctrl+B")
	require.Equal(t, h.a.pages[0].ID, h.a.book.at)
	h.key("Ctrl+Shift+PgDn")
	require.Equal(t, h.a.pages[1].ID, h.a.book.at)
	h.key("Ctrl+B", "Ctrl+B")
	require.Equal(t, h.a.pages[1].ID, h.a.book.at)
	h.a.ui.Blur()
	h.key("Enter", "M")
	require.Len(t, h.a.work.InView().Cues, cues, "no cue is placed where none is seen")
	require.Empty(t, needShow(h.a))
	require.Equal(t, hidden, h.a.why(h.a.byID("place")))
	h.key("F6", "F6", "F6", "Esc")
	require.Empty(t, h.a.book.at)
	require.Empty(t, h.a.why(h.a.byID("place")))
}

// A record is added, copied, found by the filter, changed with others in one step, and removed; each is one step back.
func TestRowsOfAPage(t *testing.T) {
	h := withExample(t)
	a := h.a
	a.turn("supplies")
	h.step()
	before := len(a.work.Show.Rig.Supplies)
	h.key("Insert")
	require.Len(t, a.work.Show.Rig.Supplies, before+1)
	require.Len(t, a.book.refs, 1)
	require.True(t, a.ui.Typing(), "its first field is ready for a name")
	h.typed("Spare bottle")
	h.key("Enter", "Esc")
	a.turn("supplies")
	h.step()
	l := a.tableOf("supplies")
	l.Filter = "SPARE bot"
	h.step()
	require.Len(t, l.Rows(), 1)
	l.Sel.Only(0)
	h.step()
	h.key("Ctrl+D")
	require.Len(t, a.work.Show.Rig.Supplies, before+2)
	require.Equal(t, "Spare bottle copy", find(a.work.Show, a.book.refs[0]).(*timeline.Supply).Name)
	h.key("Delete")
	require.Len(t, a.work.Show.Rig.Supplies, before+1)
	h.key("Ctrl+Z", "Ctrl+Z", "Ctrl+Z", "Ctrl+Z")
	require.Len(t, a.work.Show.Rig.Supplies, before)
}

// What was chosen and is taken back by undo is chosen no more: no command stumbles over it.
func TestChosenRowsThatAreUndone(t *testing.T) {
	h := withExample(t)
	for _, p := range h.a.pages {
		if add, ok := p.Acts["row-add"]; !ok || add.Off() != "" {
			continue
		}
		h.open(p.ID)
		before := h.a.work.Session.Show()
		h.key("Insert")
		if h.a.dialog != nil {
			h.key("Esc", "Esc")
			h.a.dialog = nil
		}
		if h.a.work.Session.Show() == before {
			continue
		}
		h.a.undo()
		for i := range h.a.table {
			if c := &h.a.table[i]; c.group == "Book" && !strings.HasPrefix(c.id, "book") && h.a.why(c) == "" {
				h.a.use(c)
				h.a.dialog = nil
				h.a.turn(p.ID)
			}
		}
		h.step()
		for h.a.work.Session.Show() != before && needUndo(h.a) == "" {
			h.a.undo()
		}
		h.step()
	}
}
