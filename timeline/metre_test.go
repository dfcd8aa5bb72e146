package timeline_test

import (
	"testing"

	"emberbeat/timeline"

	"github.com/stretchr/testify/require"
)

func TestMetreText(t *testing.T) {
	for _, text := range []string{"4/4", "3/4", "6/8", "1/1", "32/32", "7/16", "5/2"} {
		m, err := timeline.ParseMetre(text)
		require.NoError(t, err)
		require.NoError(t, m.Check())
		require.Equal(t, text, m.String())
	}
	require.Empty(t, timeline.Metre{}.String())
	require.True(t, timeline.Metre{}.IsZero())
}

func TestParseMetreRefuses(t *testing.T) {
	for _, text := range []string{"", "4", "/", "4/", "0/4", "33/4", "4/0", "4/3", "4/64", "-4/4", "4/4/4", "4/ 4", "C"} {
		m, err := timeline.ParseMetre(text)
		require.ErrorContains(t, err, "such as 4/4 or 6/8, 1 to 32 beats over 1, 2, 4, 8, 16 or 32", text)
		require.Zero(t, m)
	}
	require.Error(t, timeline.Metre{}.Check())
	require.Error(t, timeline.Metre{Num: 4, Den: -4}.Check())
}

func TestPulse(t *testing.T) {
	for text, pulse := range map[string]int{"6/8": 3, "9/8": 3, "12/8": 3, "3/8": 1, "7/8": 1, "4/4": 1, "6/4": 1} {
		m, err := timeline.ParseMetre(text)
		require.NoError(t, err)
		require.Equal(t, pulse, m.Pulse(), text)
	}
}

func TestTempoAsItIsCounted(t *testing.T) {
	for _, c := range []struct {
		metre timeline.Metre
		bpm   float64
		want  string
	}{{timeline.Metre{Num: 6, Den: 8}, 180, "dotted quarter 60"}, {timeline.Metre{Num: 12, Den: 8}, 187, "dotted quarter 62.3"}, {timeline.Metre{Num: 4, Den: 4}, 120, ""}, {timeline.Metre{Num: 7, Den: 8}, 180, ""}, {timeline.Metre{Num: 6, Den: 8}, 0, ""}} {
		require.Equal(t, c.want, c.metre.Counted(c.bpm), c.metre)
	}
}

func TestWordsOfWindows(t *testing.T) {
	for _, r := range []timeline.SlotRole{timeline.ArmSlot, timeline.ConditionSlot, timeline.WarmUpSlot} {
		for _, up := range []bool{true, false} {
			role, is, ok := timeline.ReadDoing(r.Doing(up))
			require.True(t, ok)
			require.Equal(t, r, role)
			require.Equal(t, up, is)
		}
	}
	require.Equal(t, "heater on", timeline.WarmUpSlot.Doing(true))
	role, up, ok := timeline.ReadDoing("warm-up down")
	require.True(t, ok && !up && role == timeline.WarmUpSlot, "an older list")
	for _, text := range []string{"", "hit", "effect up", "warm-up on", "arm  up"} {
		_, _, ok := timeline.ReadDoing(text)
		require.False(t, ok, text)
	}
}
