package session

import (
	"context"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/audio"
	"emberbeat/audio/ear"
	"emberbeat/audio/testsound"
	"emberbeat/shows"
	"emberbeat/timeline"
)

// Beats that make no beat map leave the song without one, and say so.
func TestBeatsThatMakeNoMapAreTold(t *testing.T) {
	t.Setenv(shows.StateEnv, t.TempDir())
	dir := filepath.Join(t.TempDir(), "tour")
	require.NoError(t, shows.Create(dir, timeline.NewShow("tour1", "Gravel and Tin", timeline.Rate25)))
	cache := audio.OpenCache(t.TempDir())
	path := filepath.Join(t.TempDir(), "a.wav")
	require.NoError(t, testsound.WriteWAV16(path, 44100, 1, make([]int16, 44100)))
	heard, err := Listen(context.Background(), cache, path, ear.Locks{}, nil)
	require.NoError(t, err)
	heard.Analysis.Beats, heard.Analysis.Downbeats = []float64{0.5, 0.4, 0.3, 0.2}, []float64{0.5}
	_, err = heard.Analysis.BeatMap()
	require.Error(t, err)
	heardCache{cache, heard.Ident.FileHash, ear.Locks{}, nil}.put(heard)

	s, err := Open(dir, Options{Cache: cache})
	require.NoError(t, err)
	defer s.Close()
	id, err := s.AddSong(context.Background(), path, "", nil)
	require.NoError(t, err)
	require.True(t, s.Show().Song(id).Beats.Empty())
	require.Len(t, s.RecordingWarnings(), 1)
	require.Contains(t, s.RecordingWarnings()[0], "make no beat map")
	_, why := heard.Analysis.BeatMap()
	require.Contains(t, s.RecordingWarnings()[0], why.Error())
}

// Sections that the ear hears stand on the bars it heard them at, not at times
// that rounding has moved beside them; without beats they stand at times.
func TestSectionsOfTheEarStandOnBars(t *testing.T) {
	bar1, err := timeline.ParseTime("0.50219")
	require.NoError(t, err)
	beats := timeline.SteadyBeatMap(bar1, timeline.Second/2, timeline.Metre{Num: 4, Den: 4}, 40)
	heard := &ear.Analysis{Sections: []ear.Section{{From: 0.5022, To: 16.5, Label: "A"}, {From: 40.5019, To: 60, Label: "B"}}}
	on := sectionsOf(heard, beats)
	require.Equal(t, []string{"1.1", "9.1", "21.1"}, []string{on[0].At.String(), on[0].To.String(), on[1].At.String()})
	require.Equal(t, "0:40.5019", sectionsOf(heard, nil)[1].At.String())
}
