package timeline_test

import (
	"testing"

	"emberbeat/timeline"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestPositionText(t *testing.T) {
	bar := func(n int, beat timeline.Rat) timeline.Position {
		return timeline.Position{Kind: timeline.PositionBar, Bar: timeline.BarBeat{Bar: n, Beat: beat}}
	}
	at := func(ms int64) timeline.Position {
		return timeline.Position{Kind: timeline.PositionTime, Time: timeline.FromMillis(ms)}
	}
	for _, c := range []struct {
		text      string
		position  timeline.Position
		canonical string
	}{
		{"17.3+1/2", bar(17, rat(5, 2)), "17.3+1/2"},
		{"17", bar(17, rat(0, 1)), "17.1"},
		{"12.5", bar(12, rat(4, 1)), "12.5"},
		{"0.4", bar(0, rat(3, 1)), "0.4"},
		{"-1.2", bar(-1, rat(1, 1)), "-1.2"},
		{"0:12.5", at(12500), "0:12.5000"},
		{"1:02.5", at(62500), "1:02.5000"},
		{"-0:00.5", at(-500), "-0:00.5000"},
		{"12.5s", at(12500), "0:12.5000"},
		{"-3s", at(-3000), "-0:03.0000"},
		{"1:02:03.5", at(3723500), "1:02:03.5000"},
		{"12.50004999s", at(12500), "0:12.5000"},
		{"03:01:22:10", timeline.Position{Kind: timeline.PositionTimecode, TC: timeline.Timecode{H: 3, M: 1, S: 22, F: 10}}, "03:01:22:10"},
		{"03:01:22;10", timeline.Position{Kind: timeline.PositionTimecode, TC: timeline.Timecode{H: 3, M: 1, S: 22, F: 10}}, "03:01:22:10"},
	} {
		p, err := timeline.ParsePosition(c.text)
		require.NoError(t, err, c.text)
		require.Equal(t, c.position, p, c.text)
		require.Equal(t, c.canonical, p.String())
	}
}

// Each error speaks of the form that was meant.
func TestParsePositionRefuses(t *testing.T) {
	const any = "write a bar such as 17.3+1/2, a time such as 1:02.5 or 12.5s, or a timecode such as 03:01:22:10"
	for text, say := range map[string]string{
		"":                any,
		"chorus":          any,
		"+2 bars":         any,
		"-":               any,
		".5":              any,
		"17.0":            "bar position \"17.0\" cannot be read",
		"17.3+3/2":        "the fraction is less than one beat",
		"17,3":            "bar position",
		"1:60":            "time \"1:60\" cannot be read",
		"1:02.5s":         "time \"1:02.5s\" cannot be read",
		"s":               any,
		"12.5 s":          "time",
		"2001:00:00":      "at most 1000 hours",
		"03:01:22:99":     "timecode \"03:01:22:99\" cannot be read",
		"3:1:22:10":       "write hh:mm:ss:ff",
		"01:02;03":        "time",
		"::::":            "time",
		"1:2:3:4:5:6:7:8": "time",
	} {
		p, err := timeline.ParsePosition(text)
		require.ErrorContains(t, err, say, text)
		require.Zero(t, p)
	}
}

func anyPosition(t *rapid.T) timeline.Position {
	switch kind := timeline.PositionKind(rapid.IntRange(0, 2).Draw(t, "kind")); kind {
	case timeline.PositionTime:
		return timeline.Position{Kind: kind, Time: anyTime(t, "time").RoundTo(timeline.EntryStep)}
	case timeline.PositionTimecode:
		part := func(name string, end int) uint8 { return uint8(rapid.IntRange(0, end).Draw(t, name)) }
		return timeline.Position{Kind: kind, TC: timeline.Timecode{H: part("h", 23), M: part("m", 59), S: part("s", 59), F: part("f", 29)}}
	default:
		return timeline.Position{Kind: kind, Bar: anyPlace(t, "bar")}
	}
}

func TestPositionRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyPosition(t)
		back, err := timeline.ParsePosition(p.String())
		require.NoError(t, err)
		require.Equal(t, p, back)
	})
}

func FuzzParsePosition(f *testing.F) {
	for _, s := range []string{"17.3+1/2", "17", "0.4", "-1.2", "1:02.5", "-0:00.5", "12.5s", "03:01:22:10", "03:01:22;10", "1:02:03.5", "999999:59.99995"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		p, err := timeline.ParsePosition(s)
		if err != nil {
			require.Zero(t, p)
			return
		}
		back, err := timeline.ParsePosition(p.String())
		require.NoError(t, err)
		require.Equal(t, p, back)
		require.Equal(t, p.String(), back.String())
	})
}
