package app

import (
	"image"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render/desk/page/sets"
	"emberbeat/render/desk/page/timecode"
	"emberbeat/render/widget"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// openSets opens the page of sets on a night of the example.
func openSets(t *testing.T) *hand {
	t.Helper()
	h := withExample(t)
	h.a.goNight(h.a.work.Show.Nights[0].ID)
	h.key("Ctrl+6")
	h.checked()
	return h
}

// checked waits until the plan in view has been checked.
func (h *hand) checked() {
	h.t.Helper()
	h.until(func() bool { w := h.a.work; return w.Checked() })
	h.step()
}

// entryPoint gives the middle of a row of the running order.
func (h *hand) entryPoint(row int) image.Point {
	h.t.Helper()
	for _, hit := range h.frame.Panels.Hits {
		if hit.ID == "entries" {
			return image.Pt(hit.Area.Min.X+120, hit.Area.Min.Y+widget.RowHeight+row*widget.LineHeight+widget.LineHeight/2)
		}
	}
	require.Fail(h.t, "there is no table of entries")
	return image.Point{}
}

// sets gives what the page of sets remembers.
func (h *hand) sets() *sets.Sets { return h.a.families[setFamily].State.(*sets.Sets) }

func (h *hand) songs() []timeline.ID {
	var ids []timeline.ID
	for _, e := range h.sets().Shown().Entries {
		ids = append(ids, e.Song)
	}
	return ids
}

func TestRunningOrderIsDragged(t *testing.T) {
	h := openSets(t)
	was := h.songs()
	require.Greater(t, len(was), 2)
	h.move(h.entryPoint(0))
	h.down(widget.Primary)
	h.move(h.entryPoint(1).Add(image.Pt(0, widget.LineHeight/2+2)))
	require.True(t, h.sets().Dragged)
	h.until(func() bool {
		f := h.a.work.Foreseen()
		return f != nil && f.Findings != nil
	})
	require.Equal(t, was, h.songs(), "before it is let go nothing is changed")
	foretold := h.a.work.Foreseen().Findings
	h.up()
	require.Equal(t, []timeline.ID{was[1], was[0], was[2]}, h.songs()[:3])
	h.checked()
	require.Equal(t, foretold, h.a.work.Delta, "what was foretold came")
	h.key("Ctrl+Z")
	require.Equal(t, was, h.songs())
	h.later()
	h.move(h.entryPoint(0))
	h.down(widget.Primary)
	h.move(h.entryPoint(2))
	h.key("Esc")
	h.up()
	require.Equal(t, was, h.songs(), "Esc leaves it")
}

func TestRunningOrderByKeys(t *testing.T) {
	h := openSets(t)
	was := h.songs()
	h.key("Alt+Down")
	require.Equal(t, []timeline.ID{was[1], was[0]}, h.songs()[:2])
	h.key("Alt+Up")
	require.Equal(t, was, h.songs())
	h.key("Alt+Up")
	require.Contains(t, h.a.note.text, "at the end already")
	h.key("H")
	require.True(t, h.sets().Shown().Entries[0].Out)
	h.checked()
	require.NotNil(t, h.a.work.Delta)
	h.key("H", "E")
	require.False(t, h.sets().Shown().Entries[0].Out)
	require.True(t, h.sets().Shown().Entries[0].Encore)
	h.key("Ctrl+G")
	require.Contains(t, h.a.note.text, "two songs or more")
	h.key("Shift+Down", "Ctrl+G")
	require.NotEmpty(t, h.sets().Shown().Entries[0].Alt)
	require.Equal(t, h.sets().Shown().Entries[0].Alt, h.sets().Shown().Entries[1].Alt)
	h.key("Ctrl+Shift+G")
	require.Empty(t, h.sets().Shown().Entries[0].Alt)
	h.key("Delete")
	require.Len(t, h.songs(), len(was)-2)
	h.key("Insert")
	require.NotNil(t, h.a.dialog)
	h.key("Enter", "Esc")
}

// Gap and talk are typed; nonsense is refused with what would be right.
func TestGapIsTyped(t *testing.T) {
	h := openSets(t)
	h.button("gap")
	h.key("Ctrl+A")
	h.typed("45")
	h.key("Enter")
	require.Equal(t, 45*timeline.Second, h.sets().Shown().Entries[0].Gap)
	h.button("gap")
	h.key("Ctrl+A")
	h.typed("soon")
	h.key("Enter")
	require.Contains(t, textsOf(h.frame.Panels), "write a number as in 1.5")
	require.Equal(t, 45*timeline.Second, h.sets().Shown().Entries[0].Gap)
}

func TestSetsAreMadeCopiedAndPlayed(t *testing.T) {
	h := openSets(t)
	n := len(h.a.work.Show.Sets)
	h.a.Use("set-new")
	h.step()
	require.Len(t, h.a.work.Show.Sets, n+1)
	require.Len(t, h.songs(), len(h.a.work.Show.Songs))
	h.a.Use("set-play")
	h.step()
	require.Same(t, h.sets().Shown(), h.a.work.Plan.Set)
	require.Equal(t, h.sets().Shown().ID, h.a.work.Plan.Night.Set, "of the night, not of the tour")
	h.a.Use("set-remove")
	require.True(t, h.a.note.bad, "a night plays it")
	h.a.Use("set-copy")
	h.step()
	h.a.Use("set-remove")
	require.Len(t, h.a.work.Show.Sets, n+1)
}

func TestTimecodePlanListsRanges(t *testing.T) {
	h := withExample(t)
	rows := h.open("timecode").Rows()
	require.Len(t, rows, len(h.a.work.Show.Songs))
	last := int64(0)
	for i := range rows {
		c := rows[i].More.(timecode.Claim)
		require.LessOrEqual(t, last, c.First)
		require.Less(t, c.First, c.Last)
		last = c.First
	}
}

// What the set verb does, the window does: a number, a gap with talk, songs that are not in the set, and nothing but the chosen ones.
func TestRunningOrderByForms(t *testing.T) {
	h := openSets(t)
	was := h.songs()
	h.a.Use("set-move")
	h.give("n", "9")
	require.Contains(t, h.form().why(), "is no place in the order")
	h.give("n", "2")
	h.foreseen()
	h.button("Move")
	require.Equal(t, []timeline.ID{was[1], was[0]}, h.songs()[:2])
	h.sets().Rows.Only(0)
	h.a.Use("set-gap")
	h.give("seconds", "45", "talk", "thanks")
	h.button("Set")
	require.Equal(t, timeline.Entry{Song: was[1], Gap: 45 * timeline.Second, Talk: "thanks"}, h.sets().Shown().Entries[0])
	h.a.Use("set-take")
	require.Len(t, h.songs(), len(was)-1)
	h.sets().Rows.Only(0)
	h.a.Use("set-order")
	set := h.sets().Shown()
	require.Equal(t, []timeline.ID{was[0]}, []timeline.ID{set.Order()[0].Song})
	require.Len(t, set.Order(), 1)
	h.a.Use("set-songs")
	h.give("songs", string(was[1])+"; "+string(was[2]))
	h.button("Add")
	require.Equal(t, was[1], h.songs()[len(was)-1], "one that was not in it comes at the end")
	require.Len(t, h.sets().Shown().Order(), 3, "one that was left out is played again")
}

// Of a song that stands twice in a set the entry is meant that was chosen.
func TestChosenEntryOfASongThatStandsTwice(t *testing.T) {
	h := openSets(t)
	set := h.sets().Shown()
	twice := append([]timeline.Entry{}, set.Entries...)
	twice = append(twice, set.Entries[0])
	require.True(t, h.a.do(change{"twice", []timeline.Edit{timeline.EditSet(set.ID, func(_ *timeline.Show, s *timeline.Set) error { s.Entries = twice; return nil })}}))
	h.sets().Rows.Only(len(twice) - 1)
	h.a.Use("set-out")
	h.a.Use("set-encore")
	last := h.sets().Shown().Entries[len(twice)-1]
	require.True(t, last.Out && last.Encore)
	require.False(t, h.sets().Shown().Entries[0].Out)
	h.a.Use("set-out")
	require.False(t, h.sets().Shown().Entries[len(twice)-1].Out)
}

// A running order on the clipboard is read, its doubts are offered one by one, and it is played as one step.
func TestPasteRunningOrder(t *testing.T) {
	h := withExample(t)
	h.a.Use("book-sets")
	h.step()
	h.a.ui.Clip.Write("1. Kettle Lightning\n2. Band on\n3. Slow Maches 3:45\n4. Lanterns\n")
	h.a.Use("set-paste")
	h.step()
	f := h.form()
	require.Contains(t, f.why(), "2 lines are in doubt")
	require.NotNil(t, f.out.offer)
	require.Equal(t, "Line 2 is no song", f.out.offer.Label)
	h.put("choose", f.out.offer.Texts["choose"])
	h.step()
	require.Equal(t, "Line 4 is Lanterns Over the Weir", f.out.offer.Label)
	h.put("choose", f.out.offer.Texts["choose"])
	h.step()
	require.Empty(t, f.why())
	require.True(t, f.take(h.a))
	h.step()
	var played []string
	for _, ps := range h.a.work.Plan.Songs {
		played = append(played, ps.Song.Title)
	}
	require.Equal(t, []string{"Kettle Lightning", "Slow Matches", "Lanterns Over the Weir"}, played)
	h.a.Use("undo")
	h.step()
	require.Len(t, h.a.work.Plan.Songs, 4)
}

// A version that shares its cues is seen with them; to change one there is refused with where it is changed.
func TestSharedCuesInTheWindow(t *testing.T) {
	h := withExample(t)
	song := h.a.work.Song
	require.True(t, h.a.Carry(operation.Find("arrange", "new"), timeline.Ref{}, &operation.NewVersion{Song: song, Name: "edit", ID: "edit"}))
	h.step()
	h.a.song.GoSong("edit")
	h.step()
	shared := h.a.work.InView()
	require.Equal(t, timeline.ID("edit"), shared.ID)
	require.NotEmpty(t, shared.Cues)
	require.Empty(t, h.a.work.Show.Song("edit").Cues)
	h.a.work.View().Choose(shared.Cues[0].ID)
	was := h.a.work.Session.Show()
	for _, id := range []string{"nudge-on", "disable", "delete", "quantise"} {
		h.a.Use(id)
		h.step()
		require.Same(t, was, h.a.work.Session.Show(), id)
	}

	// Where the cue is programmed, the same commands do what they say.
	h.a.song.GoSong(song)
	h.step()
	for _, id := range []string{"nudge-on", "disable", "delete"} {
		h.a.work.View().Choose(shared.Cues[0].ID)
		was = h.a.work.Session.Show()
		h.a.Use(id)
		h.step()
		require.NotSame(t, was, h.a.work.Session.Show(), id)
	}
}
