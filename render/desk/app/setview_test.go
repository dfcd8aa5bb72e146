package app

import (
	"image"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render"
	"emberbeat/render/desk/page/setview"
	"emberbeat/render/setpicture"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// openWhole opens the whole set of the example's first night, once it was checked and its recordings are read.
func openWhole(t *testing.T) *hand {
	t.Helper()
	h := withExample(t)
	h.a.goNight(h.a.work.Show.Nights[0].ID)
	h.key("W")
	h.checked()
	h.settle()
	h.step()
	require.Equal(t, "set-view", h.a.book.at)
	return h
}

func (h *hand) whole() *setview.View { return h.a.families[wholeFamily].State.(*setview.View) }

// partOf gives an area of the picture by what it is and its id.
func (h *hand) partOf(kind render.HitKind, id string) image.Rectangle {
	h.t.Helper()
	for _, hit := range h.frame.Panels.Hits {
		if hit.Kind == kind && (id == "" || hit.ID == id) {
			return hit.Area
		}
	}
	require.Fail(h.t, "the picture has no "+string(kind)+" "+id)
	return image.Rectangle{}
}

func (h *hand) played() []timeline.ID {
	var ids []timeline.ID
	for i := range h.a.work.Plan.Songs {
		ids = append(ids, h.a.work.Plan.Songs[i].Song.ID)
	}
	return ids
}

// The head of a song is dragged: the evening follows, what would come and go is foretold, and letting go is one step.
func TestSongIsMovedInTheWholeSet(t *testing.T) {
	h := openWhole(t)
	was, plan := h.played(), h.a.work.Plan
	require.Greater(t, len(was), 2)
	second := h.partOf(setpicture.HitHead, "1")
	h.move(middle(h.partOf(setpicture.HitHead, "0")))
	h.down(widget.Primary)
	h.move(image.Pt(second.Max.X-4, second.Min.Y+8))
	h.step()
	require.NotNil(t, h.whole().Moved)
	require.Equal(t, 1, h.whole().Moved.To)
	require.Same(t, plan, h.a.work.Plan, "nothing is changed before it is let go")
	require.Equal(t, was, h.played())
	h.until(func() bool { f := h.a.work.Foreseen(); return f != nil && f.Findings != nil })
	foretold := h.a.work.Foreseen().Findings
	h.step()
	require.Contains(t, textsOf(h.frame.Panels), "As number 2")
	h.up()
	require.Equal(t, []timeline.ID{was[1], was[0]}, h.played()[:2])
	h.checked()
	require.Equal(t, foretold, h.a.work.Delta, "what was foretold came")
	h.key("Ctrl+Z")
	require.Equal(t, was, h.played(), "one step")

	h.later()
	h.move(middle(h.partOf(setpicture.HitHead, "0")))
	h.down(widget.Primary)
	h.move(image.Pt(second.Max.X-4, second.Min.Y+8))
	h.key("Esc")
	h.up()
	require.Equal(t, was, h.played(), "Esc leaves it")
	require.Nil(t, h.whole().Moved)
	require.Equal(t, "set-view", h.a.book.at)
}

// Keys choose, move and open songs; a press on the line of time goes there.
func TestWholeSetByKeysAndPress(t *testing.T) {
	h := openWhole(t)
	was := h.played()
	h.key("Right")
	require.Equal(t, 1, h.whole().At)
	h.key("Alt+Left")
	require.Equal(t, []timeline.ID{was[1], was[0]}, h.played()[:2])
	require.Equal(t, 0, h.whole().At, "the song stays chosen")
	h.key("Alt+Left")
	require.Contains(t, h.a.note.text, "at the end already")
	h.key("Enter")
	require.Empty(t, h.a.book.at)
	require.Equal(t, was[1], h.a.work.Song)

	h.key("W")
	h.step()
	box := h.partOf(setpicture.HitTime, "")
	at := image.Pt(box.Max.X-60, box.Min.Y+10)
	h.move(at)
	h.step()
	place, ok := h.whole().Lay.PlaceAt(at)
	require.True(t, ok)
	h.down(widget.Primary)
	h.up()
	require.Empty(t, h.a.book.at)
	require.Equal(t, h.played()[place.Song], h.a.work.Song)
	require.InDelta(t, float64(place.At), float64(h.a.work.View().Playhead), float64(timeline.Second))
}

// A press on a badge goes to the finding; the group that stands first is told, and its way is taken as one step.
func TestWholeSetLeadsToFindings(t *testing.T) {
	h := openWhole(t)
	require.NotEmpty(t, h.a.work.Groups())
	require.Contains(t, textsOf(h.frame.Panels), "Worst: "+h.a.work.Groups()[0].Rule)
	box := h.partOf(setpicture.HitFinding, "")
	h.tap(middle(box))
	require.True(t, h.a.panel.visited)
	require.NotEmpty(t, h.a.chosenFinding().Rule)
	h.key("W")
	h.a.Use("set-worst")
	h.step()
	require.Equal(t, h.a.work.Groups()[0].Rule, h.a.chosenFinding().Rule)
}

// The values beside the picture are those under the pointer.
func TestWholeSetReadsOutThePointer(t *testing.T) {
	h := openWhole(t)
	for _, each := range []bool{false, true} {
		require.Equal(t, each, h.whole().Each)
		axis := h.whole().Lay.Axis
		h.move(image.Pt(axis.Min.X+axis.Dx()/3, axis.Min.Y+20))
		h.step()
		place, ok := h.whole().Lay.PlaceAt(h.in.Pointer)
		require.True(t, ok)
		s := &h.a.work.Plan.Songs[place.Song]
		texts := textsOf(h.frame.Panels)
		require.Contains(t, texts, strconv.Itoa(s.Number)+" "+s.Song.FullTitle())
		require.Contains(t, texts, s.Label(place.At)+" · set "+(s.At+place.At).Clock(0))
		h.a.Use("set-each")
		h.step()
	}
}

// Another set or night is compared beside the window, in the same words as everywhere.
func TestWholeSetIsCompared(t *testing.T) {
	h := openWhole(t)
	h.whole().Beside = "night:"
	h.step()
	h.settle()
	h.step()
	texts := textsOf(h.frame.Panels)
	require.Contains(t, texts, "From this to The tour")
	require.NotContains(t, texts, "Compiling it…")
	h.whole().Beside = "night:gone"
	h.step()
	require.Empty(t, h.whole().Beside, "what is gone is compared with nothing")
}

// A show without songs says what to do first.
func TestWholeSetOfNothing(t *testing.T) {
	h := newHand(t)
	h.dir = t.TempDir() + "/new"
	require.NoError(t, h.a.newShow(h.dir, "New"))
	h.settle()
	h.key("W")
	h.step()
	require.Contains(t, textsOf(h.frame.Panels), "Nothing is played yet.")
	require.NotEmpty(t, h.a.why(h.a.byID("set-song-earlier")))
	h.button("fill")
	require.NotNil(t, h.a.dialog, "audio can be added")
}
