package timeline_test

import (
	"fmt"
	"testing"

	"emberbeat/timeline"

	"github.com/stretchr/testify/require"
)

// addAtFree adds a song of a length at the first free timecode.
func addAtFree(t *testing.T, s *timeline.Show, n int, length timeline.Time) (*timeline.Show, timeline.Timecode) {
	t.Helper()
	head := &timeline.SongHead{Base: timeline.Base{ID: timeline.ID(fmt.Sprintf("s%03d", n))}, Length: length}
	tc, err := s.FreeStart(head)
	require.NoError(t, err)
	head.Start = tc
	d := timeline.NewDraft(s)
	d.Put("", head)
	return d.Show(), tc
}

func TestSongsStartOnFreeHours(t *testing.T) {
	for _, rate := range timeline.Rates() {
		s := timeline.NewShow("s", "", rate)
		d := timeline.NewDraft(s)
		head := *s.Head
		head.PreRoll = 10 * timeline.Second
		d.Put("", &head)
		s = d.Show()
		var tc timeline.Timecode
		for n := range 60 {
			s, tc = addAtFree(t, s, n, 4*timeline.Minute)
			switch {
			case n < 23:
				require.Equal(t, timeline.Timecode{H: uint8(n + 1)}, tc, rate)
			case n < 46:
				require.Equal(t, timeline.Timecode{H: uint8(n - 22), M: 30}, tc, rate)
			}
		}
		requireNoClash(t, s)
	}
}

func TestLongSongsDoNotOverlap(t *testing.T) {
	s := timeline.NewShow("s", "", timeline.Rate25)
	for n := range 12 {
		s, _ = addAtFree(t, s, n, 89*timeline.Minute)
	}
	requireNoClash(t, s)
	head := &timeline.SongHead{Base: timeline.Base{ID: "last"}, Length: 89 * timeline.Minute}
	_, err := s.FreeStart(head)
	require.ErrorContains(t, err, "no free timecode is left")
}

func TestFirstHourIsForNobody(t *testing.T) {
	s := timeline.NewShow("s", "", timeline.Rate24)
	_, tc := addAtFree(t, s, 0, 0)
	require.Equal(t, timeline.Timecode{H: 1}, tc)
}

func requireNoClash(t *testing.T, s *timeline.Show) {
	t.Helper()
	plan := timeline.Compile(s, nil)
	for i := range plan.Songs {
		require.NoError(t, plan.Songs[i].StartErr)
		if i > 0 {
			require.LessOrEqual(t, plan.Songs[i-1].Last(), plan.Songs[i].First())
		}
	}
}
