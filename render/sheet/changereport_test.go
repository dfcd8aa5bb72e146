package sheet

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/shows/report"
	"emberbeat/shows/report/changed"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
)

func TestChangeReportCountsCues(t *testing.T) {
	was := testshow.Staged(t)
	is, err := was.Edit(func(d *timeline.Draft) error {
		ember := d.Show().Song("ember")
		for id, change := range map[timeline.ID]func(*timeline.Cue){
			"q1": func(c *timeline.Cue) { c.At = timeline.AtTime(5 * timeline.Second) }, // moved
			"q3": func(c *timeline.Cue) { c.Open = timeline.Second },                    // held otherwise
			"q0": func(c *timeline.Cue) { c.Target = "f1" },                             // on another effect
		} {
			c := *ember.Cue(id)
			change(&c)
			d.Put("ember", &c)
		}
		d.Put("", &timeline.Wire{Base: timeline.Base{ID: "w1"}, Placed: "j1", Driver: "b1", Output: 7})
		d.Put("tide", &timeline.Cue{Base: timeline.Base{ID: "q9"}, Lane: "ljet", At: timeline.AtTime(20 * timeline.Second)})
		return d.Remove(timeline.Ref{Kind: "cue", Song: "ember", ID: "q2"})
	})
	require.NoError(t, err)
	r := changed.NewReport(timeline.Compile(was, was.Night("n1")), timeline.Compile(is, is.Night("n1")), nil)
	require.False(t, r.Same())
	require.Equal(t, []string{
		"in all: 1 cue moved, 1 cue lost, 1 cue added, 1 cue on other effects, 2 cues commanded or held otherwise",
		`song "Ember, slowly": 1 cue moved, 1 cue lost, 1 cue on other effects, 1 cue commanded or held otherwise`,
		`song "Tide": 1 cue added, 1 cue commanded or held otherwise`,
		"bank 1 output 3 now nothing (was jet 1 (CO2 jet))",
		"bank 1 output 7 now jet 1 (CO2 jet) (was nothing)",
		"CO2 kg 1.2 → 1.2",
	}[:5], r.Summary[:5])
	require.Equal(t, 2, r.Songs[0].Same, "the windows of the arm")
}

// A night beside the tour: what it cuts is lost, what it swaps plays another
// article.
func TestChangeReportOfTwoNights(t *testing.T) {
	p := testshow.CutNight(t, func(n *timeline.Night) {
		n.Cuts = []timeline.Cut{{Selector: timeline.Selector{What: "family", ID: "comet"}, Reason: "low roof"}}
		n.Swaps = []timeline.Swap{{Selector: timeline.Selector{What: "article", ID: "flame"}, To: "jet", Reason: "flames banned"}}
	})
	r := changed.NewReport(timeline.Compile(p.Show, nil), p, nil)
	require.Equal(t, []int{1, 1, 0}, []int{r.Songs[0].Lost, r.Songs[0].Articles, r.Songs[0].Moved})
	require.Len(t, r.Night, 2)
	back := changed.NewReport(p, timeline.Compile(p.Show, nil), nil)
	require.Equal(t, []int{1, 1}, []int{back.Songs[0].Added, back.Songs[0].Articles})
}

// A plan and itself have nothing between them, and what one direction loses the
// other adds.
func TestChangeReportBothWays(t *testing.T) {
	plain := testshow.Charged(t)
	rapid.Check(t, func(rt *rapid.T) {
		a, b := timeline.Compile(testshow.Random(rt, plain), nil), timeline.Compile(testshow.Random(rt, plain), nil)
		require.True(rt, changed.NewReport(a, a, nil).Same())
		there, back := changed.NewReport(a, b, nil), changed.NewReport(b, a, nil)
		for i, s := range there.Songs {
			o := back.Songs[i]
			require.Equal(rt, []int{s.Lost, s.Added, s.Moved, s.Aimed, s.Articles, s.Timed, s.Same}, []int{o.Added, o.Lost, o.Moved, o.Aimed, o.Articles, o.Timed, o.Same})
		}
		require.Equal(rt, len(there.Outputs), len(back.Outputs))
		require.Equal(rt, there.Same(), back.Same())
	})
}

// Sheets that were printed and have changed are told from those that have not.
func TestPrintStates(t *testing.T) {
	s := testshow.Staged(t)
	p := timeline.Compile(s, s.Night("n1"))
	var marks []timeline.PrintMark
	for _, name := range []string{"cue-list", "patch-sheet"} {
		o, _ := KindNamed(name)
		made, err := o.Make(p, report.Filter{})
		require.NoError(t, err)
		marks = append(marks, PrintedMark(p, name, made))
	}
	marks = append(marks, timeline.PrintMark{Sheet: "star-chart", Revision: "A", Digest: "0f"})
	s, err := s.Edit(timeline.MarkPrinted("n1", marks), func(d *timeline.Draft) error {
		c := *d.Show().Song("ember").Cue("q3")
		c.Open = timeline.Second
		d.Put("ember", &c)
		return nil
	}, timeline.EditNight("n1", func(_ *timeline.Show, n *timeline.Night) error { n.Revision = "D"; return nil }))
	require.NoError(t, err)
	p = timeline.Compile(s, s.Night("n1"))
	require.Equal(t, []report.PrintState{{Sheet: "cue-list", Title: "Cue list", State: report.Changed, Revision: "C", Why: ""}, {Sheet: "patch-sheet", Title: "Patch sheet", State: report.AsPrinted, Revision: "C", Why: ""}, {Sheet: "star-chart", Title: "star-chart", State: report.NotMade, Revision: "A", Why: "there is no such sheet"}}, PrintStates(p, false))
	require.Greater(t, len(PrintStates(p, true)), 8)
	require.Empty(t, report.SameRevision(p, []timeline.PrintMark{{Sheet: "cue-list", Revision: "D", Digest: "1"}}))
	require.Equal(t, "cue-list printed as revision D looked otherwise: the next revision is E", func() string {
		s, err := s.Edit(timeline.MarkPrinted("n1", []timeline.PrintMark{{Sheet: "cue-list", Revision: "D", Digest: "2"}}))
		require.NoError(t, err)
		return report.SameRevision(timeline.Compile(s, s.Night("n1")), []timeline.PrintMark{{Sheet: "cue-list", Revision: "D", Digest: "1"}})
	}())
}

// Every sheet is either among those that look otherwise or among those that look
// the same, unless neither plan makes it; a letter of a revision changes none.
func TestSheetsThatLookOtherwiseAreNamed(t *testing.T) {
	was := testshow.Staged(t)
	is := testshow.Edited(t, was, func(d *timeline.Draft) error {
		return d.Set(timeline.Ref{Kind: "article", ID: "jet"}, "lead", timeline.Value{Text: "0.2"})
	})
	plan := func(s *timeline.Show) *timeline.Plan { return timeline.Compile(s, s.Night("n1")) }
	s := Otherwise(plan(was), plan(is))
	require.Contains(t, s.Changed, "Cue list")
	require.Contains(t, s.Same, "Patch sheet")
	for _, title := range s.Changed {
		require.NotContains(t, s.Same, title)
	}
	same := Otherwise(plan(was), plan(testshow.Edited(t, was, func(d *timeline.Draft) error {
		return d.Set(timeline.Ref{Kind: "night", ID: "n1"}, "revision", timeline.Value{Text: "Z"})
	})))
	require.Equal(t, []string{"Rewire sheet"}, same.Changed, "which names the revisions in its text")
	require.Len(t, same.Same, len(s.Changed)+len(s.Same)-1)
}
