package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/example/score"
	"emberbeat/timeline/testtool"
)

func TestRunRefuses(t *testing.T) {
	require.ErrorContains(t, run("", "", ""), "nothing to write")
	require.ErrorContains(t, run(t.TempDir(), "", "no-such"), `there is no song "no-such"`)
}

// The same samples must give the same file, twice; needs oggenc.
func TestEncodeRepeats(t *testing.T) {
	testtool.Need(t, "oggenc")
	samples := make([]int16, 2*score.SampleRate)
	for i := range samples {
		samples[i] = int16(i * i % 9001)
	}
	song := score.Songs()[0]
	first, second := encoded(t, song, samples), encoded(t, song, samples)
	require.Equal(t, first, second)
	require.Contains(t, string(first), "SCORE="+song.Digest)
}

func encoded(t *testing.T, s score.Song, samples []int16) []byte {
	var wav bytes.Buffer
	require.NoError(t, score.WriteWAV(&wav, samples))
	path := filepath.Join(t.TempDir(), "new", "song.ogg")
	require.NoError(t, encode(s, &wav, path))
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	return data
}
