package timeline

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestDeskWords(t *testing.T) {
	for _, s := range []string{"map timecode=Time", `map bank="Firing module"`, `means A-{n}="IGN 1:{n}"`, "only Kind=fire", "times=hits", "separator=;", "names-line=3", "rate=29.97df"} {
		w, err := ParseDeskWord(s)
		require.NoError(t, err, s)
		require.Equal(t, s, w.String())
	}
	for _, s := range []string{"", "map", "map timecode", "map timecode=", "map =Time", "times", "times=", "times hits", "colour=red", "map a=b c=d", "map colour", `map "a`} {
		_, err := ParseDeskWord(s)
		require.Error(t, err, s)
	}
}

// What is kept of a desk's list is one edit, takes the place of what was kept, and none forgets it.
func TestRememberDeskList(t *testing.T) {
	s := NewShow("s", "S", Rate25)
	one, err := s.Edit(RememberDeskList([]DeskWord{{DeskMap, "timecode", "Time"}, {DeskMeans, "A-07", "IGN 1:7"}}))
	require.NoError(t, err)
	require.Equal(t, []string{"map timecode=Time", `means A-07="IGN 1:7"`}, KindOf("show").Field("desk-list").Get(one.Head).Items)
	two, err := one.Edit(RememberDeskList([]DeskWord{{What: DeskTimes, Text: "hits"}}))
	require.NoError(t, err)
	require.Equal(t, []DeskWord{{What: DeskTimes, Text: "hits"}}, two.Head.DeskList)
	none, err := two.Edit(RememberDeskList(nil))
	require.NoError(t, err)
	require.Empty(t, Diff(s, none))
	_, err = s.Edit(RememberDeskList([]DeskWord{{DeskMap, "timecode", ""}}))
	require.ErrorContains(t, err, "must be one of map NAME=TEXT")
}
