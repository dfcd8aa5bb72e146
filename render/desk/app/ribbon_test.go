package app

import (
	"image"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render/desk/page"
	strip "emberbeat/render/frame"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// tile gives where the tile of the nth song of the ribbon stands.
func (h *hand) tile(n int) image.Rectangle {
	h.t.Helper()
	id := string(h.a.work.Setlist()[n].ID)
	for _, hit := range h.frame.Panels.Hits {
		if hit.Kind == strip.HitTile && hit.ID == id {
			return hit.Area
		}
	}
	require.Fail(h.t, "tile is not drawn", "%d", n)
	return image.Rectangle{}
}

// order gives the songs of the set that is played.
func (h *hand) order() []timeline.ID {
	var ids []timeline.ID
	for _, e := range h.a.work.Plan.Set.Entries {
		ids = append(ids, e.Song)
	}
	return ids
}

// A click on a tile brings its song into view and leaves the keys to the page; a double click shows its values; a menu does the rest.
func TestTileBringsItsSong(t *testing.T) {
	h := withExample(t)
	h.tap(middle(h.tile(2)))
	h.settle()
	require.Equal(t, h.a.work.Setlist()[2].ID, h.a.work.Song)
	require.False(t, h.a.ui.HasFocus())
	before := h.a.work.View().Playhead
	h.key("Right")
	require.Greater(t, h.a.work.View().Playhead, before, "the arrow moves the playhead, not the song")
	h.later()
	h.tap(middle(h.tile(1)))
	h.tap(middle(h.tile(1)))
	require.Equal(t, []timeline.Ref{{Kind: "song", ID: h.a.work.Setlist()[1].ID}}, h.a.inspected())
	h.move(middle(h.tile(0)))
	h.down(widget.Secondary)
	h.up()
	require.Contains(t, textsOf(h.frame.Panels), "Song later in the set")
	require.Equal(t, h.a.work.Setlist()[0].ID, h.a.work.Song)
}

// The row stands above every page that leaves the window its frame, and the keys walk along it.
func TestRibbonStandsAboveEveryPage(t *testing.T) {
	h := withExample(t)
	for _, p := range append([]page.Page{{}}, h.a.pages...) {
		h.a.turn(p.ID)
		h.step()
		h.step()
		if p.Whole {
			continue // it is all that the window shows
		}
		for n := range h.a.work.Setlist() {
			require.NotZero(t, h.tile(n), p.ID)
		}
	}
	h.a.turn("")
	h.a.ui.Focus("songs")
	h.step()
	first := h.a.work.Setlist()
	h.key("End")
	require.Equal(t, first[len(first)-1].ID, h.a.work.Song)
	h.key("Left", "Left")
	require.Equal(t, first[len(first)-3].ID, h.a.work.Song)
	h.key("Home")
	require.Equal(t, first[0].ID, h.a.work.Song)
	h.key("Enter")
	require.Equal(t, []timeline.Ref{{Kind: "song", ID: first[0].ID}}, h.a.inspected())
}

// A tile that is dragged changes the running order as one step, by the edit that the page of sets makes; keys do the same.
func TestDraggedTileReorders(t *testing.T) {
	h := withExample(t)
	was := h.order()
	h.drag(middle(h.tile(0)), middle(h.tile(2)).Add(image.Pt(8, 0)), 0)
	h.settle()
	want := append(slices.Clone(was[1:3]), was[0])
	require.Equal(t, want, h.order()[:3])
	require.Contains(t, h.a.note.text, "to place 3")
	h.key("Ctrl+Z")
	require.Equal(t, was, h.order(), "one step")
	h.a.song.GoSong(was[1])
	h.key("Alt+PgUp")
	require.Equal(t, []timeline.ID{was[1], was[0]}, h.order()[:2])
	h.key("Alt+PgDn")
	require.Equal(t, was, h.order())
	h.drag(middle(h.tile(3)), image.Pt(h.tile(0).Min.X+2, middle(h.tile(0)).Y), 0)
	require.Equal(t, was[3], h.order()[0])
	h.key("Ctrl+Z")
	h.later()
	h.move(middle(h.tile(0)))
	h.down(widget.Primary)
	h.move(middle(h.tile(2)))
	h.key("Esc")
	h.up()
	require.Equal(t, was, h.order(), "Esc leaves it")
}

// The choice of the set that the list of songs had stands beside the tiles.
func TestRibbonChoosesTheSet(t *testing.T) {
	h := withExample(t)
	require.Greater(t, len(h.a.work.Show.Sets), 1)
	was := h.a.work.Plan.Set.ID
	h.button("set")
	h.key("Down", "Enter")
	if h.a.work.Plan.Set.ID == was {
		h.button("set")
		h.key("Up", "Enter")
	}
	require.NotEqual(t, was, h.a.work.Plan.Set.ID)
}

// Song and Book are two ways to look at the show; others are offered where there is such a page.
func TestRibbonSwitchesViews(t *testing.T) {
	h := withExample(t)
	h.button("view-book")
	require.NotEmpty(t, h.a.book.at)
	at := h.a.book.at
	h.button("view-timeline")
	require.Empty(t, h.a.book.at)
	h.button("view-book")
	require.Equal(t, at, h.a.book.at)
	for _, v := range h.a.Views() {
		require.NotNil(t, h.a.byID(v.Command), v.Name)
	}
}

// While a tile is dragged, the status line says at which place its song would be played and, once that is known, what it would come to; nothing is done.
func TestDraggedTileSaysWhatItWouldComeTo(t *testing.T) {
	h := withExample(t)
	was := h.a.work.Session.Show()
	h.move(middle(h.tile(0)))
	h.down(widget.Primary)
	h.move(middle(h.tile(2)).Add(image.Pt(40, 0)))
	require.Contains(t, h.a.gesture.Help(), "Place 3: ")
	h.until(func() bool { f := h.a.work.Foreseen(); return f != nil && f.Findings != nil })
	h.step()
	require.Contains(t, h.a.gesture.Help(), "Place 3: "+h.a.work.Foreseen().Text())
	require.Contains(t, textsOf(h.frame.Panels), "Place 3: ")
	h.key("Esc")
	h.up()
	require.Same(t, was, h.a.work.Session.Show())
}
