package timeline

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestRepeat(t *testing.T) {
	four := SteadyBeatMap(0, Second/2, Metre{4, 4}, 30)
	mixed, err := NewBeatMap([]Anchor{{Bar: 1, Metre: Metre{4, 4}}, {Bar: 3, At: 4 * Second, Metre: Metre{3, 4}}, {Bar: 5, At: 7 * Second}})
	require.NoError(t, err)
	for _, c := range []struct {
		beats                      *BeatMap
		first, stride, until, want string
	}{
		{four, "17.1", "1bar", "20", "17.1 18.1 19.1 20.1"},
		{four, "17.3", "4 bars", "25.3", "17.3 21.3 25.3"},
		{four, "1.1", "2 beats", "2.3", "1.1 1.3 2.1 2.3"},
		{four, "1.4", "3/2 beats", "2.4", "1.4 2.1+1/2 2.3"},
		{four, "1.1", "1/2 beat", "0:00.6", "1.1 1.1+1/2 1.2"},
		{mixed, "2.3", "1 beat", "4.1", "2.3 2.4 3.1 3.2 3.3 4.1"}, // through the change of metre
		{mixed, "2.4", "1bar", "3.3", "2.4"},                       // the place in the bar stays
		{four, "0:01.5", "0.25s", "0:02.0", "0:01.5000 0:01.7500 0:02.0000"},
		{nil, "0:01.5", "1s", "0:03.0", "0:01.5000 0:02.5000"},
	} {
		stride, err := ParseStride(c.stride)
		require.NoError(t, err)
		first, err := ParseMoment(c.first)
		require.NoError(t, err)
		until, err := ParseMoment(c.until)
		require.NoError(t, err)
		all, err := c.beats.Repeat(first, stride, until)
		require.NoError(t, err, "%+v", c)
		var words []string
		for _, m := range all {
			words = append(words, m.String())
		}
		require.Equal(t, c.want, strings.Join(words, " "))
	}
	for _, c := range []struct {
		beats                      *BeatMap
		first, stride, until, want string
	}{
		{nil, "1", "1bar", "3", "needs a beat map"},
		{nil, "0:01.0", "1s", "3", "has no beat map; write the end as a time"},
		{four, "0:01.0", "1bar", "3", "a bar repeats by bars or beats, a time by seconds"},
		{four, "1", "1s", "3", "a bar repeats by bars or beats, a time by seconds"},
		{four, "5", "1bar", "4", "4.1 ends before it starts at 5.1"},
		{four, "1", "1/9600 beat", "100", "more than 10000 cues"},
	} {
		stride, err := ParseStride(c.stride)
		require.NoError(t, err)
		first, err := ParseMoment(c.first)
		require.NoError(t, err)
		until, err := ParseMoment(c.until)
		require.NoError(t, err)
		_, err = c.beats.Repeat(first, stride, until)
		require.ErrorContains(t, err, c.want, "%+v", c)
	}
	for _, text := range []string{"", "bar", "0 bars", "-1 bar", "1", "x beats", "0 beats", "-2s", "0s", "1.5 bars"} {
		_, err := ParseStride(text)
		require.ErrorContains(t, err, strideHelp, text)
	}
}

// A stride's text reads back as itself, and repeating by beats gives times that
// are evenly spaced in a map of even tempo, always inside their bars.
func TestRepeatProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		metre := Metre{rapid.IntRange(1, 12).Draw(t, "num"), 4}
		m := SteadyBeatMap(0, Second/2, metre, 40)
		stride := Stride{Beats: NewRat(rapid.Int64Range(1, 30).Draw(t, "n"), rapid.Int64Range(1, 12).Draw(t, "d"))}
		back, err := ParseStride(stride.String())
		require.NoError(t, err)
		require.Equal(t, stride, back)
		all, err := m.Repeat(AtBar(BarBeat{Bar: 1}), stride, AtTime(20*Second))
		require.NoError(t, err)
		for i, at := range all {
			require.Less(t, at.Bar.Beat.Floor(), int64(metre.Num))
			want := stride.Beats.Mul(NewRat(int64(i), 1))
			got, _ := at.In(m)
			require.InDelta(t, float64(want.Num())/float64(want.Den())/2, got.Seconds(), 1e-7)
		}
	})
}
