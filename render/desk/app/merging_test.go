package app

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render/desk/page/conflicts"
	"emberbeat/shows"
	"emberbeat/shows/example"
	"emberbeat/timeline"
	"emberbeat/timeline/merge"
)

// copied makes a copy of the example elsewhere, edited by somebody else.
func copied(t *testing.T, edits ...timeline.Edit) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "colleague")
	require.NoError(t, example.CopyTo(dir))
	l, err := shows.Load(dir)
	require.NoError(t, err)
	next, err := l.Show.Edit(edits...)
	require.NoError(t, err)
	require.NoError(t, shows.Save(dir, next, l.Show))
	return dir
}

func setField(kind string, id timeline.ID, field, text string) timeline.Edit {
	return func(d *timeline.Draft) error {
		return d.Set(timeline.Ref{Kind: kind, ID: id}, field, timeline.Value{Text: text})
	}
}

// A colleague's copy is merged: what neither the other touched is there, the conflict
// stands side by side with what each choice does to the findings, and a choice is
// one step that can be undone.
func TestColleaguesCopyIsMerged(t *testing.T) {
	h := withExample(t)
	theirs := copied(t, setField("article", "cold-six", "lead", "0.3"), setField("article", "cold-six", "open", "2.5"), setField("article", "comet-twelve", "note", "theirs"))
	h.a.merge(theirs)
	require.IsType(t, &errorDialog{}, h.a.dialog)
	require.Contains(t, h.a.dialog.(*errorDialog).text, "no save of this folder is kept")
	h.a.dialog = nil

	h.a.Do("our lead", setField("article", "cold-six", "lead", "0.2"))
	require.NoError(t, h.a.work.Session.Save())
	h.a.merge(theirs)
	require.Nil(t, h.a.dialog)
	h.checked()
	show := h.a.work.Session.Show()
	require.Equal(t, "theirs", show.Stock.Article("comet-twelve").Note)
	require.Equal(t, "2.5000", timeline.KindOf("article").Field("open").Get(show.Stock.Article("cold-six")).Text)
	require.Contains(t, h.a.note.text, "1 conflict to be settled")
	require.Equal(t, conflicts.ID, h.a.book.at, "the page of conflicts came into view")

	h.step()
	page := h.a.families[conflictFamily].State.(*conflicts.Conflicts)
	rows := h.a.tableOf(conflicts.ID).Rows()
	require.Len(t, rows, 1)
	require.NotEmpty(t, h.a.byID("conflict-take").off(h.a), "nothing is chosen yet")
	h.a.tableOf(conflicts.ID).Choose(rows[0].Key)
	h.until(func() bool {
		h.step()
		return page.Known() == 3
	})
	texts := textsOf(h.frame.Panels)
	require.Contains(t, texts, "0.3000")
	require.Contains(t, texts, "0.2000  (held)")
	page.Side.Only(1)
	f := h.foreseen()
	require.NoError(t, f.Err)
	h.step()
	require.Contains(t, textsOf(h.frame.Panels), "Here: "+f.Text())
	require.Equal(t, 1, len(openOf(t, h)), "nothing is settled before it is taken")
	require.True(t, h.a.Use("conflict-take"))
	require.Equal(t, "0.3000", timeline.KindOf("article").Field("lead").Get(h.a.work.Session.Show().Stock.Article("cold-six")).Text)
	require.Empty(t, openOf(t, h))
	h.key("Ctrl+Z")
	require.Len(t, openOf(t, h), 1)
	h.key("Ctrl+Z")
	require.Empty(t, openOf(t, h))
	require.Empty(t, h.a.work.Session.Show().Stock.Article("comet-twelve").Note, "the merge was one step")
}

// What both did by itself was right, and is wrong together: the page names it as long as the merge stands.
func TestWhatAMergeMadeIsNamed(t *testing.T) {
	h := withExample(t)
	bank := h.a.work.Show.Rig.Banks[0]
	add := func(id timeline.ID) timeline.Edit {
		return func(d *timeline.Draft) error {
			d.Put("", &timeline.Bank{Base: timeline.Base{ID: id}, Name: string(id), Type: bank.Type, Space: bank.Space, Address: 77})
			return nil
		}
	}
	theirs := copied(t, add("theirs"))
	h.a.Do("our bank", add("ours"))
	require.NoError(t, h.a.work.Session.Save())
	h.a.merge(theirs)
	h.settle()
	h.step()
	require.Equal(t, conflicts.ID, h.a.book.at)
	require.Empty(t, openOf(t, h))
	texts := textsOf(h.frame.Panels)
	require.Contains(t, texts, "made by the merge with colleague, which neither of the two had")
	require.Contains(t, texts, "bank-address")
	h.key("Ctrl+Z")
	h.settle()
	h.step()
	require.NotContains(t, textsOf(h.frame.Panels), "made by the merge")
}

func openOf(t *testing.T, h *hand) []merge.Conflict {
	t.Helper()
	list, err := merge.Open(h.a.work.Session.Show())
	require.NoError(t, err)
	return list
}
