package timeline_test

import (
	"math"
	"math/big"
	"strings"
	"testing"

	"emberbeat/timeline"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// hundredHours is the range in which text keeps every time apart.
const hundredHours = int64(100 * timeline.Hour)

func anyTime(t *rapid.T, name string) timeline.Time {
	return timeline.Time(rapid.Int64Range(-hundredHours, hundredHours).Draw(t, name))
}

func TestUnitDividesRatesAndMilliseconds(t *testing.T) {
	for _, rate := range []int{44100, 48000, 88200, 96000, 176400, 192000, 1000, 24, 25, 30} {
		require.Zero(t, timeline.TicksPerSecond%rate, "%d per second", rate)
	}
	require.Equal(t, timeline.Second, 1000*timeline.Millisecond)
	require.Equal(t, timeline.Millisecond, 10*timeline.EntryStep)
	require.Equal(t, timeline.Hour, 3600*timeline.Second)
}

func TestParseTime(t *testing.T) {
	for text, want := range map[string]timeline.Time{
		"0":           0,
		"-0":          0,
		"12":          12 * timeline.Second,
		"12.3456":     12345*ms + 6*timeline.EntryStep,
		"-0.45":       -450 * ms,
		"0.1":         100 * ms,
		"1:02.5":      62500 * ms,
		"-0:00.5":     -500 * ms,
		"61:02":       3662 * timeline.Second,
		"1:02:03.5":   3723500 * ms,
		"0:00:00.001": ms,
		"007.5":       7500 * ms,
		// 1 ns is 0.28224 of a unit, 2 ns are 0.56448.
		"0.000000001": 0,
		"0.000000002": 1,
		"1000:00:00":  1000 * timeline.Hour,
		"-3600000":    -1000 * timeline.Hour,
	} {
		got, err := timeline.ParseTime(text)
		require.NoError(t, err, text)
		require.Equal(t, want, got, text)
	}
}

func TestParseTimeRefuses(t *testing.T) {
	for text, say := range map[string]string{
		"":                        "1:02.5",
		"-":                       "1:02.5",
		"+1":                      "1:02.5",
		" 1":                      "1:02.5",
		"1 ":                      "1:02.5",
		"1e3":                     "1:02.5",
		"1,5":                     "1:02.5",
		"--1":                     "1:02.5",
		".5":                      "1:02.5",
		"5.":                      "1 to 9 digits",
		"5.-1":                    "1 to 9 digits",
		"5.0123456789":            "1 to 9 digits",
		"1:2.5":                   "1:02.5",
		"1:60":                    "1:02.5",
		"1:60:00":                 "1:02.5",
		"1:02:03:04":              "1:02.5",
		":02":                     "1:02.5",
		"1:":                      "1:02.5",
		"1:-2":                    "1:02.5",
		"٣":                       "1:02.5",
		"NaN":                     "1:02.5",
		"Inf":                     "1:02.5",
		"3600000.000000004":       "at most 1000 hours",
		"1001:00:00":              "at most 1000 hours",
		"99999999999999999999":    "1:02.5",
		strings.Repeat("9:", 999): "1:02.5",
	} {
		_, err := timeline.ParseTime(text)
		require.ErrorContains(t, err, say, text)
		require.Less(t, len(err.Error()), 250, "errors stay readable")
	}
}

func TestTimeText(t *testing.T) {
	for _, c := range []struct {
		time   timeline.Time
		digits int
		text   string
		clock  string
	}{
		{0, 4, "0.0000", "0:00.0000"},
		{-450 * ms, 4, "-0.4500", "-0:00.4500"},
		{62500 * ms, 4, "62.5000", "1:02.5000"},
		{3723500 * ms, 1, "3723.5", "1:02:03.5"},
		{59999 * ms, 2, "60.00", "1:00.00"},
		{3599999 * ms, 0, "3600", "1:00:00"},
		{-1, 4, "0.0000", "0:00.0000"},
		{-1, 9, "-0.000000004", "-0:00.000000004"},
		{500 * ms, 0, "1", "0:01"},
		{-500 * ms, 0, "-1", "-0:01"},
		{1500 * ms, -3, "2", "0:02"},
		{0, 99, "0.000000000", "0:00.000000000"},
		{math.MaxInt64, 0, "32679180970", "9077550:16:10"},
		{math.MinInt64, 0, "-32679180970", "-9077550:16:10"},
	} {
		require.Equal(t, c.text, c.time.Text(c.digits))
		require.Equal(t, c.clock, c.time.Clock(c.digits))
	}
	require.Equal(t, "-0.4500", timeline.Time(-450*ms).String())
}

func TestTextKeepsEveryTimeApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		time := anyTime(t, "time")
		for _, text := range []string{time.Text(9), time.Clock(9)} {
			back, err := timeline.ParseTime(text)
			require.NoError(t, err)
			require.Equal(t, time, back, text)
		}
	})
}

func TestTextOfFewDigitsIsStable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		digits := rapid.IntRange(0, 6).Draw(t, "digits")
		text := anyTime(t, "time").Text(digits)
		time, err := timeline.ParseTime(text)
		require.NoError(t, err)
		require.Equal(t, text, time.Text(digits))
		if digits <= 4 {
			require.Equal(t, time, time.RoundTo(timeline.EntryStep))
		}
	})
}

func TestSamplesThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rate := rapid.OneOf(
			rapid.SampledFrom([]int{8000, 11025, 22050, 44100, 48000, 88200, 96000, 176400, 192000}),
			rapid.IntRange(1, 768000),
		).Draw(t, "rate")
		n := rapid.Int64Range(-100*3600*int64(rate), 100*3600*int64(rate)).Draw(t, "sample")
		require.Equal(t, n, timeline.FromSamples(n, rate).Samples(rate))
	})
}

func TestSamplesAreExactAtStudioRates(t *testing.T) {
	for _, rate := range []int{44100, 48000, 88200, 96000, 176400, 192000} {
		unit := timeline.Time(timeline.TicksPerSecond / rate)
		require.Equal(t, 987654321*unit, timeline.FromSamples(987654321, rate))
		require.EqualValues(t, 7, (7*unit + unit/2 - 1).Samples(rate), "below half")
		require.EqualValues(t, -8, (-7*unit - unit/2).Samples(rate), "half goes away from zero")
	}
}

func TestConversionsStopAtTheEnds(t *testing.T) {
	const most, least = timeline.Time(math.MaxInt64), timeline.Time(math.MinInt64)
	require.Equal(t, most, timeline.FromSamples(math.MaxInt64, 1))
	require.Equal(t, least, timeline.FromSamples(math.MinInt64, 1))
	require.Equal(t, most, timeline.FromMillis(math.MaxInt64))
	require.Equal(t, least, timeline.FromMillis(math.MinInt64))
	require.Equal(t, -1500*timeline.Millisecond, timeline.FromMillis(-1500))
	require.EqualValues(t, math.MaxInt64, most.Samples(math.MaxInt))
	require.EqualValues(t, math.MinInt64, least.Samples(math.MaxInt))
	require.Equal(t, most, timeline.FromSeconds(math.Inf(1)))
	require.Equal(t, least, timeline.FromSeconds(-1e300))
	require.Zero(t, timeline.FromSeconds(math.NaN()))
	require.Panics(t, func() { timeline.FromSamples(1, 0) })
	require.Panics(t, func() { timeline.Second.Samples(-1) })
}

func TestSecondsThereAndBack(t *testing.T) {
	require.Equal(t, 0.1, (100 * timeline.Millisecond).Seconds())
	rapid.Check(t, func(t *rapid.T) {
		time := timeline.Time(rapid.Int64Range(-2000*int64(timeline.Hour), 2000*int64(timeline.Hour)).Draw(t, "time"))
		require.Equal(t, time, timeline.FromSeconds(time.Seconds()))
	})
}

func TestRoundTo(t *testing.T) {
	for _, c := range []struct{ time, unit, want timeline.Time }{
		{14, 10, 10}, {15, 10, 20}, {-14, 10, -10}, {-15, 10, -20}, {7, 5, 5}, {8, 5, 10},
		{7, 0, 7}, {7, -2, 7},
		{math.MaxInt64, 2, math.MaxInt64}, {math.MinInt64, 2, math.MinInt64},
	} {
		require.Equal(t, c.want, c.time.RoundTo(c.unit), "%d to %d", c.time, c.unit)
	}
	rapid.Check(t, func(t *rapid.T) {
		time := anyTime(t, "time")
		unit := timeline.Time(rapid.Int64Range(1, int64(timeline.Hour)).Draw(t, "unit"))
		r := time.RoundTo(unit)
		require.Zero(t, r%unit)
		require.LessOrEqual(t, 2*max(r-time, time-r), unit)
		require.Equal(t, -r, (-time).RoundTo(unit))
		require.Equal(t, r, r.RoundTo(unit))
	})
}

// FuzzParseTime compares the parser with exact fractions and reads back what
// it writes.
func FuzzParseTime(f *testing.F) {
	for _, s := range []string{"12.3456", "-0.45", "1:02.5", "1:02:03.5", "0.000000002", "1000:00:00", "-", "1:60"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		time, err := timeline.ParseTime(s)
		if err != nil {
			return
		}
		exact := exactSeconds(t, s)
		exact.Mul(exact, big.NewRat(timeline.TicksPerSecond, 1))
		off := exact.Sub(exact, big.NewRat(int64(time), 1))
		require.LessOrEqual(t, off.Abs(off).Cmp(big.NewRat(1, 2)), 0, "%s is more than half a unit off", s)

		back, err := timeline.ParseTime(time.Text(9))
		require.NoError(t, err)
		require.Equal(t, time, back)
	})
}

// exactSeconds adds up a legal time text with fractions.
func exactSeconds(t *testing.T, s string) *big.Rat {
	text, negative := strings.CutPrefix(s, "-")
	sum := new(big.Rat)
	for _, part := range strings.Split(text, ":") {
		n, ok := new(big.Rat).SetString(part)
		require.True(t, ok, part)
		sum.Mul(sum, big.NewRat(60, 1)).Add(sum, n)
	}
	if negative {
		sum.Neg(sum)
	}
	return sum
}
