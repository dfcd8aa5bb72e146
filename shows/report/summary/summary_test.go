package summary

import (
	"bytes"
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/shows/report"
	"emberbeat/shows/report/load"
	"emberbeat/shows/report/night"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

func standingOf(p *timeline.Plan) *report.Standing {
	return report.StandingOf(p, rule.Facts{}, rule.Check(p, rule.Facts{}))
}

// What the summary says is what the reports say that it adds up, whatever the show.
func TestSummaryAddsUp(t *testing.T) {
	plain := testshow.Staged(t)
	rapid.Check(t, func(t *rapid.T) {
		s := testshow.Random(t, plain)
		var of *timeline.Night
		if rapid.Bool().Draw(t, "night") {
			of = s.Night("n1")
		}
		p := timeline.Compile(s, of)
		standing := standingOf(p)
		got, err := New(p, standing, []Sheet{{Pages: 2}, {Pages: 3}})
		require.NoError(t, err)
		require.Equal(t, 5, got.Pages)
		require.Equal(t, standing, got.Checked)
		require.Equal(t, len(standing.NoData), got.NoData)
		require.Equal(t, len(standing.Otherwise), len(got.Off))

		list, err := report.NewCueList(p, report.Filter{})
		require.NoError(t, err)
		require.Equal(t, list.Used, got.Used)
		commands := 0
		for _, song := range got.Songs {
			commands += song.Commands
		}
		require.Equal(t, got.Used.Commands, commands)
		require.Len(t, got.Songs, len(list.Songs))

		loads, err := load.NewPlan(p, report.Filter{})
		require.NoError(t, err)
		banks, devices, loose := 0, 0, 0
		for _, g := range loads.Groups {
			switch {
			case g.Kind == "not wired":
				loose += len(g.Lines)
			case g.Kind == "device" && len(g.Lines) > 0:
				devices++
			case g.Kind != "device":
				require.Equal(t, g.Name, got.Banks[banks].Name)
				outputs := map[int]bool{}
				for _, l := range g.Lines {
					outputs[l.Output] = true
				}
				require.Equal(t, len(outputs), got.Banks[banks].Loaded, "an output with several effects is one")
				banks++
			}
		}
		require.Equal(t, []int{banks, devices, loose}, []int{len(got.Banks), got.Devices, got.Loose})

		if of == nil {
			require.Nil(t, got.Cues)
			require.Empty(t, got.NotPlayed)
			return
		}
		cut, err := night.NewCutList(p)
		require.NoError(t, err)
		require.Equal(t, Cues{cut.Tour, cut.Played, cut.Cut, cut.Swapped, cut.Lost, cut.Partly}, *got.Cues)
		require.Equal(t, cut.NotPlayed, got.NotPlayed)
	})
}

// Lists are
// lists in JSON, and what holds for a night alone is null on tour.
func TestSummaryAsJSON(t *testing.T) {
	s := testshow.Staged(t)
	p := timeline.Compile(s, nil)
	got, err := New(p, standingOf(p), []Sheet{})
	require.NoError(t, err)
	var out bytes.Buffer
	require.NoError(t, got.WriteJSON(&out))
	var keys map[string]any
	require.NoError(t, json.Unmarshal(out.Bytes(), &keys))
	require.Nil(t, keys["cues"])
	for _, list := range []string{"songs", "not_played", "changes", "banks", "out", "media", "sheets", "rules_off"} {
		require.IsType(t, []any{}, keys[list], list)
	}
}
