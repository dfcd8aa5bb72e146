package timeline

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// anyMap draws a map that is in order: runs one after the other in the new
// recording, anywhere in the old.
func anyMap(t *rapid.T) *TimeMap {
	m := &TimeMap{Old: 300 * Second}
	length := rapid.Int64Range(1, int64(40*Second))
	for range rapid.IntRange(0, 6).Draw(t, "runs") {
		r := TimeRun{Exact: rapid.Bool().Draw(t, "exact"), Sure: rapid.IntRange(0, 1000).Draw(t, "sure")}
		r.Old = Time(rapid.Int64Range(0, int64(250*Second)).Draw(t, "old"))
		r.OldEnd = r.Old + Time(length.Draw(t, "length"))
		r.New = m.New + Time(rapid.Int64Range(0, int64(5*Second)).Draw(t, "gap"))
		r.NewEnd = r.New + r.OldEnd - r.Old
		if !r.Exact {
			r.NewEnd = r.New + Time(length.Draw(t, "new length"))
		}
		m.New = r.NewEnd
		m.Runs = append(m.Runs, r)
	}
	m.New += Time(rapid.Int64Range(0, int64(5*Second)).Draw(t, "end"))
	return m
}

func TestTimeMapHoldsEachInstantOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyMap(t)
		require.NoError(t, m.Check())
		at := Time(rapid.Int64Range(0, int64(m.New)).Draw(t, "at"))
		place, ok := m.Came(at)
		added := false
		for _, s := range m.Added() {
			added = added || s.From < at && at < s.To
		}
		require.False(t, ok && added, "%s is carried and added", at)
		require.True(t, ok || added || at == 0 || at == m.New, "%s is neither carried nor added", at)
		old := Time(rapid.Int64Range(0, int64(m.Old)).Draw(t, "old"))
		if len(m.Runs) > 0 && rapid.Bool().Draw(t, "on an edge") {
			r := rapid.SampledFrom(m.Runs).Draw(t, "run")
			old = rapid.SampledFrom([]Time{r.Old, r.OldEnd}).Draw(t, "edge")
		}
		lost, ended := false, false // what begins there, what ends there
		for _, s := range m.Lost() {
			lost = lost || s.From-seam <= old && old < s.To-seam
			ended = ended || s.From+seam < old && old <= s.To+seam
		}
		places := m.Places(old)
		require.False(t, lost && len(places) > 0 && old < m.Old-seam, "%s is lost and found", old)
		require.True(t, lost || len(places) > 0 || old >= m.Old-seam, "%s is neither lost nor found", old)
		require.False(t, ended && len(m.Ends(old)) > 0 && old > seam, "what ends at %s is lost and found", old)
		require.True(t, ended || len(m.Ends(old)) > 0 || old <= seam, "what ends at %s is neither lost nor found", old)
		for i, p := range places {
			if i > 0 {
				require.LessOrEqual(t, places[i-1].At, p.At)
			}
			if r := m.Runs[p.Run]; r.Exact && r.Old <= old && old <= r.OldEnd {
				require.Equal(t, old-r.Old, p.At-r.New)
				require.Equal(t, old, r.Back(p.At))
			}
		}
		if ok && m.Runs[place.Run].Exact {
			require.Equal(t, at, m.Runs[place.Run].Forward(place.At))
		}
	})
}

func TestTimeMapPlaces(t *testing.T) {
	// Four bars of two seconds: the second is heard twice, the third is cut, the
	// fourth is played at half the speed.
	m := &TimeMap{Old: 8 * Second, New: 11 * Second, Runs: []TimeRun{
		{Old: 0, OldEnd: 4 * Second, New: Second, NewEnd: 5 * Second, Exact: true, Sure: 990},
		{Old: 2 * Second, OldEnd: 4 * Second, New: 5 * Second, NewEnd: 7 * Second, Exact: true, Sure: 990},
		{Old: 6 * Second, OldEnd: 8 * Second, New: 7 * Second, NewEnd: 11 * Second, Sure: 700},
	}}
	require.NoError(t, m.Check())
	require.Equal(t, []MapPlace{{2 * Second, 0}}, m.Places(Second))
	require.Equal(t, []MapPlace{{4 * Second, 0}, {6 * Second, 1}}, m.Places(3*Second))
	require.Empty(t, m.Places(4*Second), "it is the first instant that is cut")
	require.Empty(t, m.Places(4*Second-EntryStep/4), "it is the first instant that is cut, as maps are written down")
	require.Equal(t, []MapPlace{{5 * Second, 0}, {7 * Second, 1}}, m.Ends(4*Second), "what ends there is played up to there")
	require.Equal(t, []MapPlace{{3 * Second, 0}}, m.Ends(2*Second), "what ends there is not what is heard twice")
	require.Empty(t, m.Places(5*Second))
	require.Empty(t, m.Ends(6*Second))
	require.Equal(t, []MapPlace{{7 * Second, 2}}, m.Places(6*Second))
	require.Equal(t, []MapPlace{{11 * Second, 2}}, m.Places(8*Second), "the end of the recording")
	require.Equal(t, []MapPlace{{Second, 0}}, m.Ends(0))
	require.Equal(t, []MapPlace{{9 * Second, 2}}, m.Places(7*Second))
	require.Equal(t, []TimeSpan{{4 * Second, 6 * Second}}, m.Lost())
	require.Equal(t, []TimeSpan{{0, Second}}, m.Added())
	_, ok := m.Came(Second / 2)
	require.False(t, ok)

	for _, c := range []struct {
		change func(*TimeMap)
		want   string
	}{
		{func(m *TimeMap) { m.Runs[1].New = 4 * Second }, "begins before run 1 has ended"},
		{func(m *TimeMap) { m.Runs[2].OldEnd = 9 * Second }, "leaves the old recording"},
		{func(m *TimeMap) { m.Runs[2].NewEnd = 12 * Second }, "leaves the new recording"},
		{func(m *TimeMap) { m.Runs[0].OldEnd = 0 }, "has no length"},
		{func(m *TimeMap) { m.Runs[0].Sure = 1001 }, "0 to 1000"},
	} {
		bad := TimeMap{m.Old, m.New, append([]TimeRun(nil), m.Runs...)}
		c.change(&bad)
		require.ErrorContains(t, bad.Check(), c.want)
	}
}

func TestTimeRunText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for _, r := range anyMap(t).Runs {
			r.Old, r.OldEnd = r.Old.RoundTo(EntryStep), r.OldEnd.RoundTo(EntryStep)
			r.New, r.NewEnd = r.New.RoundTo(EntryStep), r.NewEnd.RoundTo(EntryStep)
			back, err := ParseTimeRun(r.String())
			require.NoError(t, err, r.String())
			require.Equal(t, r, back)
		}
	})
	for _, bad := range []string{"", "1..", "1 to=2..3", "0..1 to=0..1 sure=1001", "0..1 to=0..1 louder"} {
		_, err := ParseTimeRun(bad)
		require.Error(t, err, bad)
	}
}
