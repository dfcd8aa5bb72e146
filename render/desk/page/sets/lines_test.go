package sets_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render/desk/page/sets"
	"emberbeat/timeline"
)

// Of alternatives the longest counts; what is left out counts nothing.
func TestSetLength(t *testing.T) {
	song := func(id string, minutes timeline.Time) *timeline.Song {
		return &timeline.Song{SongHead: timeline.SongHead{Base: timeline.Base{ID: timeline.ID(id)}, Length: minutes * 60 * timeline.Second}}
	}
	set := &timeline.Set{Entries: []timeline.Entry{{Song: "a", Gap: 30 * timeline.Second}, {Song: "b", Alt: "x"}, {Song: "c", Alt: "x"}, {Song: "d", Out: true}}}
	p := &timeline.Plan{Show: &timeline.Show{Songs: []*timeline.Song{song("a", 3), song("b", 4), song("c", 5), song("d", 9)}}}
	lines, length := sets.Lines(p, set)
	require.Equal(t, (3*60+30+5*60)*timeline.Second, length)
	require.Equal(t, []int{1, 2, 3, 0}, []int{lines[0].Number, lines[1].Number, lines[2].Number, lines[3].Number})
	require.Equal(t, (3*60+30+4*60)*timeline.Second, lines[2].At)
}
