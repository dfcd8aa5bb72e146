package timeline

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Mean and spread of frame counts (derived): 6, 7, 6, 9 frames at 50 a second
// are 0.14 s, the farthest 0.04 s off, and half a picture is 0.01 s.
func TestMeasuredLead(t *testing.T) {
	for _, c := range []struct {
		m            Measurement
		lead, spread string
	}{
		{Measurement{Frames: []int{6, 7, 6, 9}, PerSec: 50}, "0.1400", "0.0500"},
		{Measurement{Frames: []int{6, 7, 6, 9}, PerSec: 50, Latency: FromMillis(10)}, "0.1300", "0.0500"},
		{Measurement{Frames: []int{3}, PerSec: 25}, "0.1200", "0.0200"},
		{Measurement{Frames: []int{1, 1, 2}, PerSec: 240}, "0.0056", "0.0049"},
	} {
		lead, spread, err := c.m.Lead()
		require.NoError(t, err)
		require.Equal(t, c.lead, lead.String())
		require.Equal(t, c.spread, spread.String())
	}
}

// Every shot lies within the spread around the mean.
func TestMeasuredSpreadHoldsEveryShot(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		m := Measurement{Frames: rapid.SliceOfN(rapid.IntRange(0, 200), 1, 20).Draw(r, "frames"), PerSec: rapid.SampledFrom([]int{25, 30, 50, 60, 240}).Draw(r, "fps")}
		lead, spread, err := m.Lead()
		require.NoError(r, err)
		for _, n := range m.Frames {
			at := FromSamples(int64(n), m.PerSec)
			require.LessOrEqual(r, max(at-lead, lead-at), spread)
		}
	})
}

func TestKeepLead(t *testing.T) {
	s, err := small(t).Edit(set("article", "", "jet", "source", "the maker's sheet"))
	require.NoError(t, err)
	m := Measurement{Frames: []int{6, 7}, PerSec: 50}
	for range 2 { // measured again, one measurement stays
		s, err = s.Edit(KeepLead("jet", m))
		require.NoError(t, err)
	}
	a := s.Stock.Article("jet")
	require.Equal(t, "0.1300", a.Lead.String())
	require.Equal(t, []string{"lead=measured", "spread=measured"}, a.Marks)
	require.Equal(t, "the maker's sheet; measured: lead from 2 shots at 50 pictures a second: 6, 7 frames", a.Source)
	for want, m := range map[string]Measurement{
		`measurement frames: "": is empty`:                 {PerSec: 50},
		`measurement fps: "0": must be a whole number`:     {Frames: []int{1}},
		`measurement frames: "-1": must be a number`:       {Frames: []int{-1}, PerSec: 50},
		`mean seconds are less than the latency of 0.1000`: {Frames: []int{1}, PerSec: 50, Latency: FromMillis(100)},
	} {
		_, err := s.Edit(KeepLead("jet", m))
		require.ErrorContains(t, err, want)
	}
	_, err = s.Edit(KeepLead("gone", m))
	require.ErrorContains(t, err, `article id: "gone": names no article`)
}
