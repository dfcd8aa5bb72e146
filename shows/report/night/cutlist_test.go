package night

import (
	"bytes"
	"encoding/json"
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/shows/report"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

func TestCutListNamesEveryCue(t *testing.T) {
	p := testshow.CutNight(t, func(n *timeline.Night) {
		n.Cuts = []timeline.Cut{{Selector: timeline.Selector{What: "family", ID: "comet"}, Reason: "low roof"}}
		n.Swaps = []timeline.Swap{{Selector: timeline.Selector{What: "article", ID: "flame"}, To: "jet", Reason: "flames banned"}}
		n.Rig = []timeline.RigChange{{Kind: "placed", ID: "j1", Out: true, Why: "hose leaks"}}
	})
	l, err := NewCutList(p)
	require.NoError(t, err)
	type row struct{ song, cue, kind, bar, on, tonight, reason string }
	var got []row
	for _, s := range l.Songs {
		for _, line := range s.Lines {
			got = append(got, row{s.Song, line.Cue, line.Kind, line.Bar, line.OnTour, line.Tonight, line.Reason})
		}
	}
	require.Equal(t, []row{
		{"ember", "q0", "cut", "0.1", "CO2 jet", "", "out of the rig: hose leaks"},
		{"ember", "q1", "cut", "3.1", "CO2 jet", "", "out of the rig: hose leaks"},
		{"ember", "q2", "cut", "5.1+1/2", "comet", "", "low roof"},
		{"ember", "q3", "swap", "11.1", "flame", "CO2 jet", "flames banned"},
		{"tide", "q1", "cut", "", "CO2 jet", "", "out of the rig: hose leaks"},
	}, got)
	require.Equal(t, []int{7, 3, 4, 1, 0, 0}, []int{l.Tour, l.Played, l.Cut, l.Swapped, l.Lost, l.Partly})
	require.Equal(t, "01:00:20:00", l.Songs[0].Lines[3].Timecode)
}

// Counts of cut list and tonight agree, and every cue of the tour is played,
// cut, lost or both for one of its lines.
func TestCutListAgreesWithTonight(t *testing.T) {
	plain := testshow.Charged(t)
	rapid.Check(t, func(rt *rapid.T) {
		s := testshow.Random(rt, plain)
		s, err := s.Edit(func(d *timeline.Draft) error {
			n := *s.Night("n1")
			for range rapid.IntRange(0, 3).Draw(rt, "cuts") {
				n.Cuts = append(n.Cuts, timeline.Cut{Selector: timeline.Selector{What: "placed", ID: fmt.Sprintf("p%d", rapid.IntRange(0, 12).Draw(rt, "cut"))}, Reason: "r"})
			}
			if rapid.Bool().Draw(rt, "swap") {
				n.Swaps = []timeline.Swap{{Selector: timeline.Selector{What: "article", ID: "a0"}, To: "jet"}}
			}
			d.Put("", &n)
			return nil
		})
		require.NoError(rt, err)
		p := timeline.Compile(s, s.Night("n1"))
		l, err := NewCutList(p)
		require.NoError(rt, err)
		page, err := NewTonight(p, report.NewFindings(p, rule.Facts{}, nil, nil, report.Filter{}), ThinShare, nil)
		require.NoError(rt, err)
		for i, song := range l.Songs {
			of := page.Songs[i]
			require.Equal(rt, of.Cut, song.Cut, "cut")
			require.Equal(rt, song.Tour, song.Played+song.Cut+song.Lost)
			for _, line := range song.Lines {
				require.NotEmpty(rt, line.Effects)
				require.LessOrEqual(rt, len(line.Effects), line.Of)
			}
		}
		var b bytes.Buffer
		require.NoError(rt, l.WriteJSON(&b))
		var back CutList
		require.NoError(rt, json.Unmarshal(b.Bytes(), &back))
		require.Equal(rt, l.Cut, back.Cut)
	})
}
