package audio_test

import (
	"os"
	"path/filepath"
	"testing"

	"emberbeat/audio"

	"github.com/stretchr/testify/require"
)

// Ogg Vorbis files must have the length of what they were made from, clicks in
// place, and the samples of oggdec.
func TestOggAgainstOggdec(t *testing.T) {
	need(t, "oggenc", "oggdec")
	for name, c := range map[string]struct {
		rate, channels, frames int
		quality                string
	}{
		"44.1 kHz stereo":    {44100, 2, 70001, "5"},
		"48 kHz mono":        {48000, 1, 50000, "2"},
		"22.05 kHz mono":     {22050, 1, 30011, "9"},
		"48 kHz, 4 channels": {48000, 4, 40000, "3"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			wav, samples := writeClicked(t, c.rate, c.channels, c.frames)
			ogg, back := filepath.Join(t.TempDir(), "a.ogg"), filepath.Join(t.TempDir(), "back.wav")
			output(t, "oggenc", "-Q", "-q", c.quality, "-o", ogg, wav)
			in, got := byUs(t, ogg)
			require.Equal(t, audio.Info{Format: audio.OGG, Rate: c.rate, Channels: c.channels, Frames: int64(c.frames)}, in)
			requireClicks(t, samples, got, c.channels)
			if c.channels > 2 {
				return // oggdec reorders channels
			}
			output(t, "oggdec", "-Q", "-o", back, ogg)
			_, want := byUs(t, back)
			require.Len(t, got, len(want))
			for i := range want {
				require.InDelta(t, want[i], got[i], 1.01/(1<<15), "sample %d", i)
			}
		})
	}
}

// oggFile is a clicked signal as an Ogg Vorbis file.
func oggFile(t testing.TB, rate, channels, frames int) []byte {
	need(t, "oggenc")
	wav, _ := writeClicked(t, rate, channels, frames)
	path := wav[:len(wav)-3] + "ogg"
	output(t, "oggenc", "-Q", "-o", path, wav)
	b, err := os.ReadFile(path)
	require.NoError(t, err)
	return b
}
