package report

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
)

func TestParseBars(t *testing.T) {
	for _, c := range []struct {
		text string
		want Bars
	}{
		{"17", Bars{17, 17}}, {"17-24", Bars{17, 24}}, {"17..24", Bars{17, 24}}, {"-1..4", Bars{-1, 4}}, {"-1", Bars{-1, -1}}, {"-4--1", Bars{-4, -1}}, {"0-0", Bars{0, 0}},
	} {
		b, err := ParseBars(c.text)
		require.NoError(t, err, c.text)
		require.Equal(t, c.want, *b, c.text)
	}
	for _, text := range []string{"", "-", "x", "17-", "24-17", "1.2", "17..", "1-2-3"} {
		_, err := ParseBars(text)
		require.ErrorContains(t, err, "write a bar such as 17", text)
	}
}

func TestFilter(t *testing.T) {
	s := testshow.Small(t)
	ember, tide := s.Song("ember"), s.Song("tide")
	bars := Filter{Bars: &Bars{3, 4}}
	require.True(t, Filter{}.ShowsAt(ember, 0))
	require.True(t, bars.ShowsAt(ember, 4*timeline.Second))
	require.False(t, bars.ShowsAt(ember, 8*timeline.Second), "the start of bar 5")
	require.False(t, bars.ShowsAt(tide, 4*timeline.Second), "no beat map, so no bars")
	require.False(t, Filter{Song: "tide"}.ShowsAt(ember, 0))
}
