package rule

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

func TestSpan(t *testing.T) {
	for want, of := range map[string]timeline.Time{
		"0 ms": 0, "0.1 ms": timeline.EntryStep, "180 ms": ms(180), "999.99 ms": ms(99999) / 100, "1 s": sec, "-450 ms": -ms(450), "13.499 s": ms(13499), "-2.5 s": -ms(2500), "240 s": 240 * sec,
		"33.37 ms": timeline.Rate2997DF.FrameTicks(),
	} {
		require.Equal(t, want, span(of))
	}
}

func TestSome(t *testing.T) {
	require.Equal(t, "a, b, c, d", some([]string{"a", "b", "c", "d"}))
	require.Equal(t, "a, b, c and 2 more", some([]string{"a", "b", "c", "d", "e"}))
}

// Values keep every time apart, so that an acceptance ends when anything moves.
func TestSecondsKeepTimesApart(t *testing.T) {
	require.Equal(t, "1.5000", seconds("x", ms(1500)).Text)
	require.NotEqual(t, seconds("x", sec).Text, seconds("x", sec+1).Text)
}

func TestLeastTime(t *testing.T) {
	got, ok := leastTime(sec, func(x timeline.Time) bool { return x >= ms(250) })
	require.True(t, ok)
	require.Equal(t, ms(250), got)
	_, ok = leastTime(sec, func(timeline.Time) bool { return false })
	require.False(t, ok)
}

// Where limits stand: a field's own mark comes before that of its article, and
// a setting of the show has none but its record.
func TestGrounds(t *testing.T) {
	s := stage(t, field("article", "jet", "marks", "recovery=label"), field("article", "jet", "source", "maker's sheet"),
		showSetting("recovery", func(s *timeline.Setting) { s.Values = []string{"extra=0.5"} }), cue("a", "j1", 10*sec), cue("a", "j1", 12*sec))
	f := ofRule("recovery", Check(timeline.Compile(s, nil), Facts{}))[0]
	require.Equal(t, []Ground{
		{Ref: rigRef("article", "jet"), Field: "recovery", Text: "2 s", Mark: timeline.Label, Source: "maker's sheet"},
		{Ref: rigRef("setting", "recovery"), Field: "extra", Text: "0.5 s"},
	}, f.Grounds)
	s = stage(t, cue("a", "arm", 9*sec, 40*sec))
	f = ofRule("arm-left-up", Check(timeline.Compile(s, nil), Facts{}))[0]
	require.Equal(t, []Ground{{Ref: rigRef("setting", "arm-left-up"), Field: "hold", Text: "30 s", Mark: timeline.Judgement, Source: "our judgement"}}, f.Grounds)
}

// Devices without a start address are named by their slots.
func TestSlotNames(t *testing.T) {
	s := stage(t, field("device", "bar1", "starts", ""), cue("a", "f1", 10*sec))
	requireFindings(t, []string{"cue:a/a-f1-10000: f1 (bar 1 slot 1.3): arm is not on"}, ofRule("arm-up", Check(timeline.Compile(s, nil), Facts{})))
}

// The changeover that a fix makes longer is that before the song, whatever
// else is left out of the set or played twice.
func TestLongerGap(t *testing.T) {
	for _, entries := range []string{"a;b", "b out;a;b", "a;a out;b", "a;b;a;b"} {
		s := stage(t, field("set", "main", "entries", entries), cue("a", "j1", 58*sec), cue("b", "j1", ms(100)), cue("b", "c1", 0))
		require.Empty(t, fixed(t, "recovery", s, ""), entries)
	}
}
