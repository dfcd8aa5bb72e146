package timeline

import (
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Putting records in against sorting all of them, of each id the one that was put last.
func TestMergeEqualsItsSlowTwin(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		some := func(name string) (list []*Marker) {
			for _, n := range rapid.SliceOfN(rapid.IntRange(0, 30), 0, 12).Draw(rt, name) {
				list = append(list, &Marker{Base: Base{ID: ID(strconv.Itoa(n))}, Name: name})
			}
			return list
		}
		list, recs := some("was"), some("put")
		if rapid.IntRange(0, 3).Draw(rt, "sorted") > 0 || len(recs) == 1 { // as the lists of a show are
			slices.SortStableFunc(list, compareIDs[*Marker])
			list = slices.CompactFunc(list, func(a, b *Marker) bool { return a.ID == b.ID })
		}
		before := slices.Clone(list)
		last := map[ID]*Marker{}
		for _, m := range append(slices.Clone(list), recs...) {
			last[m.ID] = m
		}
		want := []*Marker{}
		for _, m := range last {
			want = append(want, m)
		}
		slices.SortFunc(want, compareIDs[*Marker])
		got := merge(list, records(recs))
		require.Len(rt, got, len(want))
		for i := range want {
			require.Same(rt, want[i], got[i])
		}
		require.Equal(rt, before, list, "what was there is not changed")
	})
}
