package changed

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report"
	"emberbeat/shows/report/night"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// What a night takes out of the rig is the same number of cues wherever they are
// counted: in a forecast, on the cut list, on the tonight page and in the change
// report. A dead output plays nothing, though its command stands.
func TestCuesAreCountedInOneWay(t *testing.T) {
	for _, c := range []struct {
		out  timeline.RigChange
		cues int
	}{
		{timeline.RigChange{Kind: "bank", ID: "b1"}, 3},   // ember q0 and q1, tide q1
		{timeline.RigChange{Kind: "bank", ID: "b2"}, 0},   // it is out of service on the tour
		{timeline.RigChange{Kind: "device", ID: "d1"}, 3}, // ember q3 and its arm windows
		{timeline.RigChange{Kind: "placed", ID: "j1"}, 3}, // as its bank
	} {
		c.out.Out = true
		was := testshow.CutNight(t, func(n *timeline.Night) {})
		is := testshow.CutNight(t, func(n *timeline.Night) { n.Rig = []timeline.RigChange{c.out} })
		found := rule.Check(is, rule.Facts{})
		require.Equal(t, c.cues, Compare(was, is, rule.Check(was, rule.Facts{}), found).Cues, "%+v", c.out)
		require.Equal(t, c.cues, Compare(is, was, nil, nil).Cues, "and back")
		list, err := night.NewCutList(is)
		require.NoError(t, err)
		require.Len(t, list.Changes, 1)
		require.Equal(t, c.cues, list.Changes[0].Cues)
		page, err := night.NewTonight(is, report.NewFindings(is, rule.Facts{}, found, nil, report.Filter{}), night.ThinShare, nil)
		require.NoError(t, err)
		require.Equal(t, list.Changes, page.Changes)
		report := NewReport(was, is, nil)
		require.Equal(t, list.Changes, report.Night)
		touched := 0
		for _, s := range list.Songs {
			touched += s.Cut + s.Swapped + s.Lost + s.Partly
		}
		require.Equal(t, c.cues, touched, "line by line")
		n := 0
		for _, s := range report.Songs {
			n += s.Moved + s.Lost + s.Added + s.Articles + s.Aimed + s.Timed
		}
		require.Equal(t, c.cues, n)
	}
}

// Another output is another way to play a cue, another reason for a cut is none.
func TestForecastOfAPlugAndAReason(t *testing.T) {
	cut := func(why string) func(*timeline.Night) {
		return func(n *timeline.Night) {
			n.Cuts = []timeline.Cut{{Selector: timeline.Selector{What: "family", ID: "comet"}, Reason: why}}
		}
	}
	a, b := testshow.CutNight(t, cut("low roof")), testshow.CutNight(t, cut("wind"))
	f := Compare(a, b, nil, nil)
	require.Zero(t, f.Cues)
	require.Len(t, f.Changes, 1)
	require.Empty(t, f.Moved)
	require.Nil(t, f.Rests, "nothing of the stock changes")
	plugged := testshow.CutNight(t, func(n *timeline.Night) {
		n.Rig = []timeline.RigChange{{Kind: "placed", ID: "j1", Driver: "b1", Output: 7}}
	})
	require.Equal(t, 3, Compare(testshow.CutNight(t, func(*timeline.Night) {}), plugged, nil, nil).Cues)
}

// A change of the stock says what rests on it; the findings are the forecast's.
func TestForecastOfStock(t *testing.T) {
	s := testshow.Charged(t)
	jet := *s.Stock.Article("jet")
	jet.Lead += timeline.FromMillis(80)
	next := testshow.Edited(t, s, func(d *timeline.Draft) error { d.Put("", &jet); return nil })
	was, is := timeline.Compile(s, nil), timeline.Compile(next, nil)
	f := Compare(was, is, rule.Check(was, rule.Facts{}), rule.Check(is, rule.Facts{}))
	require.Equal(t, []string{"cue:ember/q0", "cue:ember/q1", "cue:tide/q1"}, f.Rests.Cues)
	require.Equal(t, *f.Findings, FindingsDiff{f.Rests.New, f.Rests.Gone, f.Rests.Stay})
	require.Len(t, f.Moved, 3, "a command that comes earlier has moved")
	require.Zero(t, f.Cues, "and the cues play what they did")
}
