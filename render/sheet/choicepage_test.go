package sheet

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
)

// A list of a part says of what, in every format.
func TestAPartSaysSo(t *testing.T) {
	p := timeline.Compile(testshow.Charged(t), nil)
	c, err := report.NewChoice(p, report.ChoiceWords{Families: []string{"co2-jet"}, Units: []string{"bank 1"}})
	require.NoError(t, err)
	f := report.Filter{Song: "ember", Bars: &report.Bars{From: 1, To: 8}, Choice: c, Order: report.ByLane, Together: true}
	const said = `only Ember, slowly; only bars 1 to 8; family co2-jet; on "bank 1"; all songs together by lane`
	l, err := report.NewCueList(p, f)
	require.NoError(t, err)
	require.Equal(t, said, l.Shown)
	require.Contains(t, cueList{CueList: l}.Printed().Facts[len(cueList{CueList: l}.Printed().Facts)-1].Text, said)
	require.Empty(t, report.Filter{}.Said(p))
	for _, o := range Kinds() {
		_, err := o.Make(p, report.Filter{Choice: c})
		require.Equal(t, o.Picks, err == nil, "%s: %v", o.Name, err)
		_, err = o.Make(p, report.Filter{Order: report.ByLane})
		require.Equal(t, o.Sorts, err == nil, "%s: %v", o.Name, err)
	}
}
