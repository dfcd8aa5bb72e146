package timeline

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Commands are put in order by sorting the times of what a cue gives at once; against sorting the commands.
func TestPutInOrderEqualsItsSlowTwin(t *testing.T) {
	units := make([]*Unit, 5)
	for i := range units {
		units[i] = &Unit{Index: i}
	}
	rapid.Check(t, func(rt *rapid.T) {
		var list []Command
		for n := range rapid.IntRange(0, 8).Draw(rt, "cues") {
			cue := &Cue{Base: Base{ID: ID(fmt.Sprintf("c%d", n))}}
			for _, u := range rapid.Permutation(units).Draw(rt, "units")[:rapid.IntRange(0, 5).Draw(rt, "many")] {
				c := Command{Cue: cue, Unit: u, At: Time(rapid.IntRange(0, 3).Draw(rt, "at"))}
				if rapid.Bool().Draw(rt, "carried") {
					c.With = units[0]
				}
				list = append(list, c)
			}
		}
		want := slices.Clone(list)
		slices.SortStableFunc(want, func(a, b Command) int { return compareCommands(&a, &b) })
		putInOrder(list)
		require.Equal(rt, want, list)
	})
}
