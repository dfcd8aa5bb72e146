package load

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
)

// A piece that two outputs drive is loaded once; the ohms are those of igniters
// and cable at 20 °C: 2 × 1.6 + 2 × 50 m × 13.3 Ω/km (IEC 60228, class 5) = 4.53.
func TestLoadPlan(t *testing.T) {
	p := timeline.Compile(testshow.Charged(t), nil)
	load, err := NewPlan(p, report.Filter{})
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, load.WriteJSON(&b))
	var read struct {
		Groups []struct {
			Name  string
			Dead  bool
			Spare []int `json:"spare_outputs"`
			Lines []struct {
				Output   int
				NEC      float64  `json:"nec_grams"`
				First    string   `json:"first_timecode"`
				Expected *float64 `json:"expected_ohms"`
				State    []string
			}
		}
		Caution string
	}
	require.NoError(t, json.Unmarshal(b.Bytes(), &read))
	require.Equal(t, report.Caution, read.Caution)
	bank := read.Groups[1]
	require.Equal(t, "bank 2", bank.Name)
	require.True(t, bank.Dead)
	require.Equal(t, 14, len(bank.Spare))
	require.Equal(t, 3, bank.Spare[0])
	require.Equal(t, 12.1, bank.Lines[0].NEC)
	require.InDelta(t, 4.53, *bank.Lines[0].Expected, 1e-9)
	require.Equal(t, "01:00:08:05", bank.Lines[0].First) // bar 5.1+1/2 is 8.25 s; less 40 and 10 ms of lead, 8.2 s
	require.Equal(t, []string{"output dead"}, bank.Lines[0].State)
	require.Nil(t, bank.Lines[1].Expected)
	require.Zero(t, bank.Lines[1].NEC)
	require.Contains(t, bank.Lines[1].State, "counted at bank 2 output 1")
}

// What an earlier night left loaded is told beside what tonight needs there: of
// one piece no more than one, however many were left, and none of another article.
func TestLoadPlanCountsWhatStandsLoaded(t *testing.T) {
	for _, c := range []struct {
		article timeline.ID
		left    int
		already int
		state   string
	}{
		{"comet", 1, 1, "still loaded: not fired on 2026-05-01"},
		{"comet", 3, 1, "still loaded: not fired on 2026-05-01"},
		{"jet", 1, 0, "take out first: "},
	} {
		s, err := testshow.Charged(t).Edit(func(d *timeline.Draft) error {
			before := timeline.KindOf("night").New("n1").(*timeline.Night)
			before.Name, before.Slug, before.Date, before.Set = "first", "first", "2026-05-01", "main"
			before.Outcomes = []timeline.Outcome{{Driver: "b2", Output: 1, State: timeline.Unfired, Placed: "c1", Article: c.article, Pieces: c.left}}
			tonight := timeline.KindOf("night").New("n2").(*timeline.Night)
			tonight.Name, tonight.Slug, tonight.Date, tonight.Set = "second", "second", "2026-05-02", "main"
			d.Put("", before, tonight)
			return nil
		})
		require.NoError(t, err)
		load, err := NewPlan(timeline.Compile(s, s.Night("n2")), report.Filter{})
		require.NoError(t, err)
		found := 0
		for _, g := range load.Groups {
			for _, line := range g.Lines {
				if g.Name == "bank 2" && line.Output == 1 {
					found++
					require.Equal(t, c.already, line.Already, "%+v", c)
					require.Contains(t, strings.Join(line.State, "; "), c.state)
				} else {
					require.Zero(t, line.Already, "%s %d", g.Name, line.Output)
				}
			}
		}
		require.Equal(t, 1, found)
	}
}
