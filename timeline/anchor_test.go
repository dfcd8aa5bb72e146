package timeline_test

import (
	"testing"

	"emberbeat/timeline"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func anchor(t require.TestingT, s string) timeline.Anchor {
	a, err := timeline.ParseAnchor(s)
	require.NoError(t, err)
	return a
}

func TestAnchorText(t *testing.T) {
	a := anchor(t, "17.1 at=32.512345 metre=4/4")
	require.Equal(t, 17, a.Bar)
	require.True(t, a.Beat.IsZero())
	require.Equal(t, "32.512345", a.At.Text(6))
	require.Equal(t, timeline.Metre{Num: 4, Den: 4}, a.Metre)

	for text, canonical := range map[string]string{
		"17.1 at=32.512345 metre=4/4": "17.1 at=32.512345 metre=4/4",
		"17 at=32.5":                  "17.1 at=32.500000",
		"0.4+1/2 at=-0.25":            "0.4+1/2 at=-0.250000",
		"1 at=1:02.5 metre=6/8":       "1.1 at=62.500000 metre=6/8",
		"1 at=0.123456789":            "1.1 at=0.123456789",
	} {
		require.Equal(t, canonical, anchor(t, text).String())
	}
}

func TestParseAnchorRefuses(t *testing.T) {
	for text, say := range map[string]string{
		"":                          "17.1 at=32.512345 metre=4/4",
		"17.1":                      "17.1 at=32.512345 metre=4/4",
		"17.1 32.5":                 "17.1 at=32.512345 metre=4/4",
		"17.1 metre=4/4 at=32.5":    "bar position \"17.1 metre=4/4\"",
		"17.0 at=32.5":              "beats count from 1",
		"17.1 at=":                  "time \"\" cannot be read",
		"17.1 at=soon":              "time \"soon\" cannot be read",
		"17.1 at=1.0 ":              "time \"1.0 \"",
		"17.1  at=1.0":              "bar position \"17.1 \"",
		"17.1 at=1.0 metre=4/5":     "1, 2, 4, 8, 16 or 32",
		"17.1 at=1.0 metre=":        "metre \"\"",
		"17.1 at=1.0 meter=4/4":     "time",
		"17.1 at=1.0 at=2.0":        "time",
		"17.1 at=1 metre=4/4 bpm=1": "metre",
	} {
		a, err := timeline.ParseAnchor(text)
		require.ErrorContains(t, err, say, text)
		require.Zero(t, a)
	}
}

func anyMetre(t *rapid.T, name string) timeline.Metre {
	return timeline.Metre{
		Num: rapid.IntRange(1, 32).Draw(t, name+" num"),
		Den: 1 << rapid.IntRange(0, 5).Draw(t, name+" den"),
	}
}

// Whatever the time, the text gives the same anchor back.
func TestAnchorRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyPlace(t, "place")
		a := timeline.Anchor{Bar: p.Bar, Beat: p.Beat, At: anyTime(t, "at")}
		if rapid.Bool().Draw(t, "has metre") {
			a.Metre = anyMetre(t, "metre")
		}
		require.Equal(t, a, anchor(t, a.String()))
		require.Equal(t, p, a.Place())
	})
}

func FuzzParseAnchor(f *testing.F) {
	for _, s := range []string{"17.1 at=32.512345 metre=4/4", "0.4+1/2 at=-0.25", "1 at=1:02.5 metre=6/8", "1 at=0.000000002", " at= metre="} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		a, err := timeline.ParseAnchor(s)
		if err != nil {
			return
		}
		require.Equal(t, a, anchor(t, a.String()))
		require.Equal(t, a.String(), anchor(t, a.String()).String())
		// Two anchors of whatever kind make a map or an error, never a panic.
		m, err := timeline.NewBeatMap([]timeline.Anchor{{Bar: 1, Metre: a.Metre}, a})
		if err == nil {
			require.Equal(t, a.At, m.At(a.Place()))
		}
	})
}
