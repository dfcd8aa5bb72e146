package rule

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

// The distances are derived: q = X m H / (4 pi r²) with X 0.3 and propane of
// 46332 kJ/kg at 0.10 and 0.20 kg/s; the lengths from memory, 0.235 Q^0.4.
func TestHeatEstimates(t *testing.T) {
	s := stage(t, field("article", "flame", "use-rate", "0.1"), field("article", "flame", "height", "5"), field("article", "flame", "medium", "propane"), cue("a", "f1", 10*sec), cue("a", "f2", 20*sec), cue("a", "j1", 20*sec))
	list := HeatEstimates(timeline.Compile(s, nil))
	require.Len(t, list, 1, "jets give no heat")
	require.Equal(t, 2, list[0].Units)
	require.InEpsilon(t, 4633.2, list[0].Power, 1e-9)
	require.InEpsilon(t, 6.9, list[0].Length, 0.01)
	for i, want := range []float64{8.5, 5, 4.5, 3.5} {
		require.InEpsilon(t, want, list[0].Levels[i].Metres, 1e-9, "rounded up to half a metre")
		require.Equal(t, timeline.CommonPractice, list[0].Levels[i].Mark, "the weakest of what it rests on")
	}
	s, err := s.Edit(field("article", "flame", "use-rate", "0.2"), showSetting("heat", func(s *timeline.Setting) { s.Values = []string{"radiated=0.4"} }))
	require.NoError(t, err)
	require.InEpsilon(t, 14, HeatEstimates(timeline.Compile(s, nil))[0].Levels[0].Metres, 0.005, "11.83 m by the root of 0.4/0.3, rounded up")
	x, ground := SettingOf(s, "heat", "radiated")
	require.Equal(t, 0.4, x)
	require.Equal(t, "0.4", ground.Text)
	x, ground = SettingOf(s, "gas-in-room", "per-kg")
	require.Equal(t, 0.5466, x)
	require.Equal(t, timeline.Derived, ground.Mark)
}

// What keys alone are meant for is in the table as well, with the key's open time.
func TestHeatEstimateOfAKey(t *testing.T) {
	s := stage(t, field("article", "flame", "use-rate", "0.1"), field("article", "flame", "height", "5"), field("article", "flame", "medium", "propane"), key(1, aims("f1"), func(h *hand) { h.Open = 2 * sec }))
	list := HeatEstimates(timeline.Compile(s, nil))
	require.Len(t, list, 1)
	require.InEpsilon(t, 0.1, list[0].Fuel, 1e-9)
	require.InEpsilon(t, 4633.2, list[0].Power, 1e-9)
}

// Use per hit and per second open, in kg; of alternatives the larger counts.
func TestGasUsed(t *testing.T) {
	s := stage(t, field("article", "jet", "use-each", "1.2"), cue("a", "jets", 10*sec), cue("b", "j1", 20*sec), cue("a", "f1", 20*sec))
	require.Equal(t, 3.6, GasUsed(timeline.Compile(s, nil)), "flames are none")
	s, err := s.Edit(put(&timeline.Set{Base: base{ID: "alt"}, Name: "alt", Entries: []timeline.Entry{{Song: "a", Alt: "x"}, {Song: "b", Alt: "x"}}}),
		put(&timeline.Night{Base: base{ID: "n"}, Slug: "n", Set: "alt"}))
	require.NoError(t, err)
	require.Equal(t, 2.4, GasUsed(timeline.Compile(s, s.Night("n"))))
}
