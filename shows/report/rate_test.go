package report

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
)

// Songs keep their labels at every rate that has them; one that a rate does
// not have is named with its song.
func TestAtRate(t *testing.T) {
	s := testshow.Small(t)
	for _, r := range timeline.Rates() {
		next, err := AtRate(s, nil, r)
		if r == timeline.Rate2997DF {
			require.ErrorContains(t, err, `song "Tide" cannot start there: timecode 02:01:00:00 does not exist at frame rate 29.97df`)
			continue
		}
		require.NoError(t, err)
		require.Equal(t, r, next.Head.Rate)
		require.Equal(t, s.Song("tide").Start, next.Song("tide").Start)
	}
	same, err := AtRate(s, nil, timeline.Rate25)
	require.NoError(t, err)
	require.Same(t, s, same)
}

// A night that gives the song another start decides.
func TestAtRateOfANight(t *testing.T) {
	night := &timeline.Night{Shifts: []timeline.Shift{{Song: "tide", Start: &timeline.Timecode{H: 2, M: 10}}}}
	_, err := AtRate(testshow.Small(t), night, timeline.Rate2997DF)
	require.NoError(t, err)
	night.Shifts[0].Start = &timeline.Timecode{H: 2, F: 24}
	_, err = AtRate(testshow.Small(t), night, timeline.Rate24)
	require.ErrorContains(t, err, "frames run from 00 to 23")
}
