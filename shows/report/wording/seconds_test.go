package wording

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
)

func TestSecondsText(t *testing.T) {
	for _, c := range []struct {
		at   timeline.Time
		want string
	}{
		{0, "0.0000"},
		{timeline.Second / 2, "0.5000"},
		{-450 * timeline.Millisecond, "-0.4500"},
		{12*timeline.Second + timeline.Second/3, "12.333333333"},
		{timeline.Rate2997DF.At(1), "0.033366667"},
		{100 * timeline.Second, "100.0000"},
		{timeline.Millisecond / 20, "0.00005"},
	} {
		require.Equal(t, c.want, Seconds(c.at).String())
	}
}

// The JSON number of any time is a number, and reads back as the same time.
func TestSecondsLoseNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := timeline.Time(rapid.Int64Range(-int64(900*timeline.Hour), int64(900*timeline.Hour)).Draw(t, "at"))
		text, err := json.Marshal(Seconds(at))
		require.NoError(t, err)
		require.True(t, json.Valid(text))
		back, err := timeline.ParseTime(string(text))
		require.NoError(t, err)
		require.Equal(t, at, back)
		_, decimals, _ := strings.Cut(string(text), ".")
		require.GreaterOrEqual(t, len(decimals), 4)
	})
}
