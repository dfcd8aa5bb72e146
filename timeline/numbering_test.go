package timeline_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

// Multicast 239.255.hi.lo by universe (ANSI E1.31, published);
// net:sub:universe counts from 0, 0:1:0 = 16 and 1:0:0 = 256 (from memory).
// Running numbers are derived: (universe − 1) · 512 + slot.
func TestNumbering(t *testing.T) {
	for universe, want := range map[int][2]string{
		1: {"0:0:0", "239.255.0.1"}, 17: {"0:1:0", "239.255.0.17"}, 256: {"0:15:15", "239.255.1.0"}, 257: {"1:0:0", "239.255.1.1"}, 63999: {"249:15:14", "239.255.249.255"},
	} {
		require.Equal(t, want, [2]string{timeline.NetAddress(universe), timeline.MulticastGroup(universe)}, universe)
	}
	for running, want := range map[string]timeline.Patch{"512": {Universe: 1, Slot: 512}, "513": {Universe: 2, Slot: 1}, "1024": {Universe: 2, Slot: 512}, "45": {Universe: 1, Slot: 45}, "1.45": {Universe: 1, Slot: 45}} {
		p, err := timeline.ParsePatch(running)
		require.NoError(t, err)
		require.Equal(t, want, p)
	}
}

// Derived: a beat at 120, 128 and 174 a minute lasts 500, 468.75
// and 344.83 ms, a sixteenth 125, 117.19 and 86.21 ms.
func TestGridInMilliseconds(t *testing.T) {
	for bpm, want := range map[int64][2]float64{120: {500, 125}, 128: {468.75, 117.19}, 174: {344.83, 86.21}} {
		m := timeline.SteadyBeatMap(0, timeline.Minute/timeline.Time(bpm), timeline.Metre{Num: 4, Den: 4}, 8)
		at := func(beat timeline.Rat) float64 { return m.At(timeline.BarBeat{Bar: 1, Beat: beat}).Seconds() * 1000 }
		require.InDelta(t, want[0], at(rat(1, 1)), 0.005)
		require.InDelta(t, want[1], at(rat(1, 4)), 0.005)
	}
}

// Derived: of hits at 0, 2, 4, 4 and 8 s the longest gap is
// 4 s, and 5 of them lie in 10 s.
func TestLongestGapOfFiveHits(t *testing.T) {
	hits := []timeline.Time{0, 2 * timeline.Second, 4 * timeline.Second, 4 * timeline.Second, 8 * timeline.Second}
	gap, after := timeline.LongestGap(hits)
	require.Equal(t, []timeline.Time{4 * timeline.Second, 4 * timeline.Second}, []timeline.Time{gap, after})
	most, _ := timeline.Busiest(hits, 10*timeline.Second)
	require.Equal(t, 5, most)
}
