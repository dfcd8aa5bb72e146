package report

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
)

// linesShown lists what a cue list of the small show has, in short.
func linesShown(t *testing.T, w ChoiceWords, f Filter) []string {
	t.Helper()
	s := testshow.Charged(t)
	p := timeline.Compile(s, nil)
	var err error
	f.Choice, err = NewChoice(p, w)
	require.NoError(t, err)
	l, err := NewCueList(p, f)
	require.NoError(t, err)
	var list []string
	for _, line := range l.Lines {
		list = append(list, line.Cue+" "+line.Action)
	}
	return list
}

func TestChoices(t *testing.T) {
	for _, c := range []struct {
		words ChoiceWords
		want  []string
	}{
		{ChoiceWords{Families: []string{"comet"}}, []string{"q2 hit"}},
		{ChoiceWords{Families: []string{"comet", "propane-flame"}}, []string{"q2 hit", "q4 arm up", "q3 hit", "q4 arm down", "q5 arm up"}},
		{ChoiceWords{Articles: []string{"CO2 jet"}}, []string{"q0 hit", "q1 hit", "q1 hit"}},
		{ChoiceWords{Placed: []string{"flame 1"}, Arm: "up"}, []string{"q3 hit"}},
		{ChoiceWords{Arm: "none"}, []string{"q0 hit", "q1 hit", "q2 hit", "q1 hit"}},
		{ChoiceWords{Arm: "down"}, nil},
		{ChoiceWords{Units: []string{"bank 2"}}, []string{"q2 hit"}},
		{ChoiceWords{Units: []string{"bar 1"}}, []string{"q4 arm up", "q3 hit", "q4 arm down", "q5 arm up"}},
		{ChoiceWords{Units: []string{"bar 1"}, Families: []string{"co2-jet"}}, nil},
	} {
		require.Equal(t, c.want, linesShown(t, c.words, Filter{}), "%+v", c.words)
	}
	require.Equal(t, []string{"q1 hit"}, linesShown(t, ChoiceWords{Articles: []string{"jet"}}, Filter{Song: "tide"}))
	require.Equal(t, []string{"q1 hit"}, linesShown(t, ChoiceWords{Articles: []string{"jet"}}, Filter{Bars: &Bars{2, 9}}))
}

func TestChoicesThatMeanNothing(t *testing.T) {
	p := timeline.Compile(testshow.Charged(t), nil)
	for want, w := range map[string]ChoiceWords{
		`"jets" is no family; there are fountain-long`: {Families: []string{"jets"}},
		`"maybe" says nothing of an arm; write up`:     {Arm: "maybe"},
		`article "x"`: {Articles: []string{"x"}},
		`device "x"`:  {Units: []string{"x"}},
	} {
		_, err := NewChoice(p, w)
		require.ErrorContains(t, err, want)
	}
	c, err := NewChoice(p, ChoiceWords{})
	require.NoError(t, err)
	require.Nil(t, c)
}

// Every order has the same lines, in order, and keeps those that are alike as
// they are played.
func TestOrders(t *testing.T) {
	plain := testshow.Charged(t)
	key := map[Order]func(*Line) string{ByPosition: func(l *Line) string { return l.PositionName }, ByOutput: firstOutput,
		ByArticle: func(l *Line) string { return l.ArticleName }, ByLane: func(l *Line) string { return l.LaneName }}
	rapid.Check(t, func(t *rapid.T) {
		p := timeline.Compile(testshow.Random(t, plain), nil)
		f := Filter{Order: rapid.SampledFrom(Orders()).Draw(t, "order"), Together: rapid.Bool().Draw(t, "together")}
		l, err := NewCueList(p, f)
		require.NoError(t, err)
		numbers := map[int]bool{}
		for i := range l.Lines {
			b := &l.Lines[i]
			numbers[b.Number] = true
			if i == 0 || !f.Together && l.Lines[i-1].SongNumber != b.SongNumber {
				continue
			}
			a := &l.Lines[i-1]
			switch of := key[f.Order]; {
			case of != nil:
				c := ByName(of(a), of(b))
				require.LessOrEqual(t, c, 0)
				require.True(t, c < 0 || a.Number < b.Number)
			case f.Order == ByHit:
				require.True(t, a.SongNumber < b.SongNumber || a.Hit <= b.Hit)
			default:
				require.Less(t, a.Number, b.Number)
			}
		}
		require.Len(t, numbers, len(l.Lines))
		_, err = ParseOrder("size")
		require.ErrorContains(t, err, "write command, hit, position, output, article, lane")
	})
}

func TestNamesSortAsPeopleSortThem(t *testing.T) {
	want := []string{"bank 2 output 1", "bank 2 output 9", "bank 2 output 10", "Bank 10", "jet", "jet 1", "Jet 02", "jet 10", ""}
	got := slices.Clone(want)
	slices.Reverse(got)
	slices.SortStableFunc(got, ByName)
	require.Equal(t, want, got)
}

func TestShortLabels(t *testing.T) {
	for want, outputs := range map[string][]Output{
		"no output":               {},
		"bank A · 3":              {{Label: "bank A output 3"}},
		"DMX 1.104+105":           {{Label: "DMX 1.104"}, {Label: "DMX 1.105"}},
		"DMX 1.4 + DMX 2.4":       {{Label: "DMX 1.4"}, {Label: "DMX 2.4"}},
		"a · 1 (dead) + a · 2":    {{Label: "a output 1", Dead: true}, {Label: "a output 2"}},
		"DMX 1.4+5 of left":       {{Label: "DMX 1.4+5 of left"}},
		"bank A · 3 + bank B · 3": {{Label: "bank A output 3"}, {Label: "bank B output 3"}},
	} {
		require.Equal(t, want, ShortLabels(outputs))
	}
}
