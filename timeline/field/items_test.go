package field

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	_ "emberbeat/timeline/testtool" // the seed of random walks
)

// A list's text gives its items back, whatever is in them.
func TestListTextReadsBack(t *testing.T) {
	item := rapid.StringOf(rapid.RuneFrom([]rune("ab;\"\\ =ü")))
	rapid.Check(t, func(t *rapid.T) {
		items := rapid.SliceOfN(item, 1, 4).Draw(t, "items")
		require.Equal(t, items, Split(Value{Items: items}.String()))
	})
	require.Equal(t, `a; "b; c"; x talk="d; e"`, Value{Items: []string{"a", "b; c", `x talk="d; e"`}}.String())
}
