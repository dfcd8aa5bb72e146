package ltc

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The intervals of a window that follows another, against sorting them anew.
func TestIntervalsEqualTheirSlowTwin(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		edges := []float64{0}
		for _, by := range rapid.SliceOfN(rapid.IntRange(1, 9), acquireEdges, 2*acquireEdges).Draw(rt, "intervals") {
			edges = append(edges, edges[len(edges)-1]+float64(by)/2)
		}
		d := NewDecoder(48000, nil)
		for at := 0; len(edges)-at > 2; at += rapid.SampledFrom([]int{1, 1, 1, 2}).Draw(rt, "step") {
			window := edges[at:min(at+acquireEdges, len(edges))]
			want := make([]float64, len(window)-1)
			for i := range want {
				want[i] = window[i+1] - window[i]
			}
			slices.Sort(want)
			require.Equal(rt, want, slices.Clone(d.sortIntervals(int64(at), window)), "from edge %d", at)
		}
	})
}
