package timeline_test

import (
	"math"
	"testing"

	"emberbeat/timeline"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func place(t require.TestingT, s string) timeline.BarBeat {
	p, err := timeline.ParseBarBeat(s)
	require.NoError(t, err)
	return p
}

// anyPlace draws a place that text can give.
func anyPlace(t *rapid.T, name string) timeline.BarBeat {
	den := rapid.OneOf(rapid.SampledFrom([]int64{1, 2, 3, 4, 960}), rapid.Int64Range(1, 9600)).Draw(t, name+" den")
	beats := rapid.OneOf(rapid.Int64Range(0, 32), rapid.Int64Range(0, 999_999)).Draw(t, name+" beats")
	part := rapid.Int64Range(0, den-1).Draw(t, name+" part")
	bar := rapid.OneOf(rapid.IntRange(-10, 300), rapid.IntRange(-1_000_000, 1_000_000)).Draw(t, name+" bar")
	return timeline.BarBeat{Bar: bar, Beat: rat(beats*den+part, den)}
}

func TestBarBeatText(t *testing.T) {
	for _, c := range []struct {
		text      string
		bar       int
		beat      timeline.Rat
		canonical string
	}{
		{"17", 17, rat(0, 1), "17.1"},
		{"17.1", 17, rat(0, 1), "17.1"},
		{"17.3", 17, rat(2, 1), "17.3"},
		{"17.3+1/2", 17, rat(5, 2), "17.3+1/2"},
		{"17.3+2/4", 17, rat(5, 2), "17.3+1/2"},
		{"17.3+959/960", 17, rat(2*960+959, 960), "17.3+959/960"},
		{"0.4", 0, rat(3, 1), "0.4"},
		{"-1.2", -1, rat(1, 1), "-1.2"},
		{"-1", -1, rat(0, 1), "-1.1"},
		{"-0.4", 0, rat(3, 1), "0.4"},
		{"007.02", 7, rat(1, 1), "7.2"},
		{"-1000000.1000000+9599/9600", -1_000_000, rat(999_999*9600+9599, 9600), "-1000000.1000000+9599/9600"},
	} {
		p := place(t, c.text)
		require.Equal(t, timeline.BarBeat{Bar: c.bar, Beat: c.beat}, p, c.text)
		require.Equal(t, c.canonical, p.String())
	}
}

func TestParseBarBeatRefuses(t *testing.T) {
	for _, text := range []string{
		"", "-", ".", "17.", ".3", "17.0", "17.-1", "17.3+", "17.3+1", "17.3+1/", "17.3+/2", "17.3+0/2", "17.3+2/2", "17.3+3/2",
		"17.3+1/0", "17.3+1/9601", "17.3-1/2", "17.3+1/2+1/4", "17.3.1", "+17", " 17", "17 ", "17,3", "1000001", "1.1000001", "1e3", "bar 17",
	} {
		_, err := timeline.ParseBarBeat(text)
		require.ErrorContains(t, err, "such as 17, 17.3 or 17.3+1/2", text)
	}
}

func TestBarBeatOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, q := anyPlace(t, "p"), anyPlace(t, "q")
		require.NoError(t, p.Check())
		require.Equal(t, p, place(t, p.String()))
		require.Equal(t, p.Cmp(q), -q.Cmp(p))
		require.Equal(t, p == q, p.Cmp(q) == 0)
	})
	require.Negative(t, place(t, "16.9").Cmp(place(t, "17.1")), "the bar decides first")
	require.Negative(t, place(t, "17.1+1/3").Cmp(place(t, "17.1+1/2")))
}

// Values that no text gives still have a text, which no parser takes for
// another place.
func TestBarBeatOutOfRange(t *testing.T) {
	for _, c := range []struct {
		place timeline.BarBeat
		text  string
	}{
		{timeline.BarBeat{Bar: 17, Beat: rat(-1, 2)}, "17.0+1/2"},
		{timeline.BarBeat{Bar: 17, Beat: rat(-3, 2)}, "17.-1+1/2"},
		{timeline.BarBeat{Bar: 17, Beat: rat(1, 9601)}, "17.1+1/9601"},
		{timeline.BarBeat{Bar: 17, Beat: rat(1_000_000, 1)}, "17.1000001"},
		{timeline.BarBeat{Bar: 1_000_001}, "1000001.1"},
		{timeline.BarBeat{Bar: math.MinInt, Beat: rat(math.MinInt64, math.MaxInt64)}, "-9223372036854775808.-1+9223372036854775806/9223372036854775807"},
	} {
		require.Equal(t, c.text, c.place.String())
		require.ErrorContains(t, c.place.Check(), "bar position "+c.text+" is out of range")
		_, err := timeline.ParseBarBeat(c.text)
		require.Error(t, err)
	}
}
