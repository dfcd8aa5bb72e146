package audio_test

import (
	"context"
	"path/filepath"
	"testing"

	"emberbeat/audio"

	"github.com/stretchr/testify/require"
)

func TestWAV16RoundTrip(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.wav")
	samples := []int16{0, 1, -1, 32767, -32768, 1234}
	require.NoError(t, audio.WriteWAV16(path, 48000, 2, samples))
	pcm, err := audio.Decode(context.Background(), path, nil)
	require.NoError(t, err)
	require.Equal(t, &audio.PCM{Rate: 48000, Channels: 2, Samples: samples}, pcm)
}
