package rule

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
	joined "emberbeat/timeline/merge"
)

// What a merge has left open is an error until somebody chooses, and none after.
func TestUndecidedIsFoundUntilItIsSettled(t *testing.T) {
	base, err := timeline.NewShow("show", "Tour", timeline.Rate25).Edit(func(d *timeline.Draft) error {
		a := timeline.KindOf("article").New("jet").(*timeline.Article)
		a.Name = "jet"
		d.Put("", a)
		return nil
	})
	require.NoError(t, err)
	lead := func(text string) *timeline.Show {
		s, err := base.Edit(func(d *timeline.Draft) error {
			return d.Set(timeline.Ref{Kind: "article", ID: "jet"}, "lead", timeline.Value{Text: text})
		})
		require.NoError(t, err)
		return s
	}
	undecided := func(s *timeline.Show) (list []Finding) {
		for _, f := range Check(timeline.Compile(s, nil), Facts{}) {
			if f.Rule == "undecided" {
				list = append(list, f)
			}
		}
		return list
	}
	r, err := joined.Shows(base, lead("0.2"), lead("0.3"))
	require.NoError(t, err)
	open := joined.WithOpen(r.Show, r.Conflicts)
	found := undecided(open)
	require.Len(t, found, 1)
	require.Equal(t, Error, found[0].Severity)
	require.Equal(t, timeline.Ref{Kind: "article", ID: "jet"}, found[0].Ref)
	require.Equal(t, `not decided after a merge: article "jet": both changed its lead`, found[0].Text)
	require.Empty(t, undecided(r.Show), "the same show without the open question")

	list, err := joined.Open(open)
	require.NoError(t, err)
	edit, err := list[0].Settle(joined.Theirs)
	require.NoError(t, err)
	settled, err := open.Edit(edit)
	require.NoError(t, err)
	require.Empty(t, undecided(settled))

	h := *open.Head
	h.Kept = &timeline.Kept{Unknown: []timeline.KeptPair{{Key: joined.Table, Raw: joined.Table + "\nkind = 'jet'"}}}
	broken := timeline.NewDraft(open)
	broken.Put("", &h)
	found = undecided(broken.Show())
	require.Len(t, found, 1)
	require.Contains(t, found[0].Text, "not to be read")
}
