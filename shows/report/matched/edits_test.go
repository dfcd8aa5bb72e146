package matched_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report/matched"
	"emberbeat/timeline"
)

func at(s float64) timeline.Time { return timeline.FromSeconds(s) }

// mapOf makes a map of exact runs: old from..to, new from..to.
func mapOf(old, new float64, runs ...[4]float64) *timeline.TimeMap {
	m := &timeline.TimeMap{Old: at(old), New: at(new)}
	for _, r := range runs {
		m.Runs = append(m.Runs, timeline.TimeRun{Old: at(r[0]), OldEnd: at(r[1]), New: at(r[2]), NewEnd: at(r[3]), Exact: true, Sure: 990})
	}
	return m
}

// What was done to a recording is told in the words of who did it.
func TestEdits(t *testing.T) {
	for name, c := range map[string]struct {
		m    *timeline.TimeMap
		says []string
	}{
		"nothing": {mapOf(60, 60, [4]float64{0, 60, 0, 60}), nil},
		"cut":     {mapOf(60, 53, [4]float64{0, 20, 0, 20}, [4]float64{27, 60, 20, 53}), []string{"cut 0:20.000 to 0:27.000 of the old recording is cut, 7.000 s"}},
		"repeated": {mapOf(60, 67, [4]float64{0, 27, 0, 27}, [4]float64{20, 60, 27, 67}),
			[]string{"repeated 0:20.000 to 0:27.000 of the old recording is heard again at 0:27.000, 7.000 s"}},
		"moved": {mapOf(60, 60, [4]float64{0, 10, 0, 10}, [4]float64{30, 36, 10, 16}, [4]float64{10, 30, 16, 36}, [4]float64{36, 60, 36, 60}),
			[]string{"moved 0:30.000 to 0:36.000 of the old recording was moved to 0:10.000, 6.000 s"}},
		"inserted":                          {mapOf(60, 65, [4]float64{0, 20, 0, 20}, [4]float64{20, 60, 25, 65}), []string{"added 0:20.000 to 0:25.000 of the new recording was added, 5.000 s"}},
		"later":                             {mapOf(60, 60.4, [4]float64{0, 60, 0.4, 60.4}), []string{"added the song starts 0.400 s later"}},
		"faster":                            {mapOf(60, 50, [4]float64{0, 30, 0, 25}, [4]float64{30, 60, 25, 50}), []string{"faster 0:00.000 to 0:50.000 of the new recording is 20.00 % faster"}},
		"slower":                            {mapOf(60, 80, [4]float64{0, 60, 0, 80}), []string{"slower 0:00.000 to 1:20.000 of the new recording is 25.00 % slower"}},
		"a fade of 30 ms is no edit":        {mapOf(60, 60, [4]float64{0, 20, 0, 20}, [4]float64{20.03, 60, 20.03, 60}), nil},
		"a clock of its own is no speed":    {mapOf(60, 60.003, [4]float64{0, 60, 0, 60.003}), nil},
		"another song has nothing to tell":  {mapOf(60, 50), nil},
		"the beginning and the end are off": {mapOf(60, 50, [4]float64{4, 54, 0, 50}), []string{"cut 0:00.000 to 0:04.000 of the old recording is cut, 4.000 s", "cut 0:54.000 to 1:00.000 of the old recording is cut, 6.000 s"}},
	} {
		require.NoError(t, c.m.Check(), name)
		var says []string
		for _, e := range matched.NewRecording(c.m).Edits {
			says = append(says, e.What+" "+e.Text)
		}
		require.Equal(t, c.says, says, name)
	}
}

// The answer says which of four things it is, and how many places want a look.
func TestAnswer(t *testing.T) {
	anew := mapOf(60, 60, [4]float64{0, 30, 0, 30}, [4]float64{30, 60, 30, 60})
	anew.Runs[0].Sure, anew.Runs[1].Sure, anew.Runs[1].Exact = 799, 700, false
	for want, m := range map[string]*timeline.TimeMap{
		"the same recording, and nothing was moved":                                     mapOf(60, 60, [4]float64{0, 60, 0, 60}),
		"the same recording, edited: 88 % of the old one is in it":                      mapOf(60, 53, [4]float64{0, 20, 0, 20}, [4]float64{27, 60, 20, 53}),
		"the same song: 100 % of the old recording is in the new one; look at 2 places": anew,
	} {
		require.Equal(t, want, matched.NewRecording(m).Answer)
	}
	r := matched.NewRecording(mapOf(60, 50))
	require.True(t, strings.HasPrefix(r.Answer, "nothing of the old recording is in the new one"), r.Answer)
	require.Zero(t, r.Held)
	require.NotNil(t, r.Runs, "an empty list, and not nothing, in JSON")
}

// Runs, what is lost and what is added stand as they are in the map.
func TestRunsAsInTheMap(t *testing.T) {
	m := mapOf(60, 65, [4]float64{0, 20, 0, 25}, [4]float64{22, 60, 27, 65})
	m.Runs[0].Exact, m.Runs[0].Sure = false, 799
	r := matched.NewRecording(m)
	require.Len(t, r.Runs, 2)
	require.Equal(t, "matched", r.Runs[0].Kind)
	require.Equal(t, "exact", r.Runs[1].Kind)
	require.True(t, r.Runs[0].Look)
	require.False(t, r.Runs[1].Look)
	require.InDelta(t, 0.8, r.Runs[0].Rate, 1e-12)
	require.InDelta(t, 0.799, r.Runs[0].Confidence, 1e-12)
	require.Equal(t, at(20), timeline.Time(r.Runs[0].OldEnd()))
	require.Len(t, r.Lost, 1)
	require.Len(t, r.Added, 1)
	require.Equal(t, at(58), timeline.Time(r.Held))
}
