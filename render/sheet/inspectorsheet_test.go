package sheet

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/shows/report"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
	"emberbeat/timeline/units"
)

// A line of an inspector's sheet says what the rules find: the jet's clear zone
// reaches the singer, its label distance the barrier, and it is too high.
func TestInspectorSheet(t *testing.T) {
	s, err := testshow.Charged(t).Edit(func(d *timeline.Draft) error {
		v := *d.Show().Venue("v1")
		v.Trim, v.Audience = 4.5, []timeline.PlanLine{{Name: "barrier", From: timeline.Point{X: -10, Y: -4}, To: timeline.Point{X: 10, Y: -4}}}
		v.Performers = []timeline.PlanMark{{Name: "singer", At: timeline.Point{X: -2}, Radius: 1}}
		a := *d.Show().Stock.Article("jet")
		a.Height, a.Separation, a.Clear = 5, 4.5, 3
		d.Put("", &v, &a)
		return nil
	})
	require.NoError(t, err)
	l, err := report.NewInspectorSheet(timeline.Compile(s, s.Night("n1")), report.Filter{})
	require.NoError(t, err)
	require.Len(t, l.Songs, 2)
	require.Len(t, l.Songs[0].Lines, 3)
	comet, jet := l.Songs[0].Lines[0], l.Songs[0].Lines[1]
	require.Equal(t, "NEC", comet.Pyro, "what is pyrotechnic comes first, and says why")
	require.Empty(t, jet.Pyro)
	require.Equal(t, "CO2 jet", jet.Article)
	require.Equal(t, 2, jet.Commands)
	four, one := 4.0, 1.0
	require.Equal(t, report.InspectorSpace{Required: 4.5, Governs: "label distance", Planned: &four, Nearest: `audience line "barrier"`, Short: true}, jet.Audience)
	require.Equal(t, report.InspectorSpace{Required: 3, Governs: "clear zone", Planned: &one, Nearest: `performer's mark "singer"`, Short: true}, jet.Performers)
	require.InDelta(t, 5, jet.Needs, 1e-9, "the venue of the test gives no tolerance and no margin")
	require.Equal(t, `TOO HIGH; TOO NEAR to "barrier"; TOO NEAR to "singer"; label distance; performers: clear zone; invented`, inspectorLineRemarks(&jet))
	require.Equal(t, "–", inspectorLinePrinted(units.Metres, &comet)[0], "it has no position")
	require.Equal(t, "– / –", inspectorSpacePrinted(units.Metres, &comet.Audience))
	require.InDelta(t, 12.1, comet.NEC, 1e-9)
}

// Uses and NEC of the lines are those of the song's totals.
func TestInspectorTotals(t *testing.T) {
	plain := testshow.Charged(t)
	rapid.Check(t, func(t *rapid.T) {
		p := timeline.Compile(testshow.Random(t, plain), nil)
		l, err := report.NewInspectorSheet(p, report.Filter{})
		require.NoError(t, err)
		for _, s := range l.Songs {
			uses, nec := 0, 0.0
			for _, line := range s.Lines {
				uses, nec = uses+line.Commands, nec+line.NEC
			}
			require.Equal(t, s.Used.Commands, uses)
			require.InDelta(t, s.Used.NEC, nec, 1e-6)
		}
		cues, err := report.NewCueList(p, report.Filter{})
		require.NoError(t, err)
		require.Equal(t, cues.Used, l.Used)
	})
}
