package audio_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/audio"
	"emberbeat/audio/testsound"
	"emberbeat/timeline/testtool"
)

// Ogg Vorbis files must have the length of what they were made from, clicks in
// place, and the samples of oggdec.
func TestOggAgainstOggdec(t *testing.T) {
	testtool.Need(t, "oggenc", "oggdec")
	for name, c := range map[string]struct {
		rate, channels, frames int
		quality                string
	}{
		"44.1 kHz stereo":    {44100, 2, 70001, "5"},
		"48 kHz mono":        {48000, 1, 50000, "2"},
		"22.05 kHz mono":     {22050, 1, 30011, "9"},
		"48 kHz, 6 channels": {48000, 6, 40000, "3"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			wav, samples := testsound.WriteClicked(t, c.rate, c.channels, c.frames)
			ogg, back := filepath.Join(t.TempDir(), "a.ogg"), filepath.Join(t.TempDir(), "back.wav")
			testsound.Output(t, "oggenc", "-Q", "-q", c.quality, "-o", ogg, wav)
			in, got := testsound.ByUs(t, ogg)
			require.Equal(t, audio.Info{Format: audio.OGG, Rate: c.rate, Channels: c.channels, Frames: int64(c.frames)}, in)
			testsound.RequireClicks(t, samples, got, c.channels)
			if c.channels > 2 {
				return // oggdec has other ideas about the order of channels
			}
			testsound.Output(t, "oggdec", "-Q", "-o", back, ogg)
			_, want := testsound.ByUs(t, back)
			require.Equal(t, len(want), len(got))
			for i := range want {
				require.InDelta(t, want[i], got[i], 1.01/(1<<15), "sample %d", i)
			}
		})
	}
}

// Each channel must come out at its place in the order of WAV files, as in
// ffmpeg.
func TestOggChannelsAgainstFFmpeg(t *testing.T) {
	testtool.Need(t, "oggenc", "ffmpeg")
	for channels := 1; channels <= 8; channels++ {
		t.Run(fmt.Sprint(channels), func(t *testing.T) {
			t.Parallel()
			wav := filepath.Join(t.TempDir(), "a.wav")
			kind := testsound.WAVKind{Tag: 1, Bits: 16, Extensible: channels > 2}
			require.NoError(t, os.WriteFile(wav, kind.Make(48000, channels, testsound.Tones(48000, channels, 100000)), 0o644))
			ogg := wav[:len(wav)-3] + "ogg"
			testsound.Output(t, "oggenc", "-Q", "-q", "6", "-o", ogg, wav)
			in, got := testsound.ByUs(t, ogg)
			require.Equal(t, audio.Info{Format: audio.OGG, Rate: 48000, Channels: channels, Frames: 100000}, in)
			want := testsound.ByFFmpeg(t, ogg)
			require.Equal(t, len(want), len(got))
			require.Greater(t, testsound.SignalToNoise(want, got), 100.0)
		})
	}
}

// Lost pages are silent, and what follows keeps its time.
func TestOggDamagedInTheMiddle(t *testing.T) {
	const frames = 400000
	file := testsound.Ogg(t, 44100, 1, frames)
	src, err := testsound.Open(file)
	require.NoError(t, err)
	want, err := testsound.Drain(src)
	require.NoError(t, err)
	require.Len(t, want, frames)

	for i := range 50 {
		file[len(file)/2+i] ^= 0x55
	}
	src, err = testsound.Open(file)
	require.NoError(t, err)
	got, err := testsound.Drain(src)
	require.NoError(t, err)
	require.Len(t, got, frames)
	require.Contains(t, strings.Join(src.Info().Warnings, "\n"), "are lost and silent")
	last := 0
	for i := range want {
		if want[i] != got[i] {
			last = i
		}
	}
	require.NotZero(t, last)
	require.Less(t, last, frames*3/4, "the end is as it was")
	silent := 0
	for _, v := range got[:last] {
		if v == 0 {
			silent++
		}
	}
	require.Greater(t, silent, 10000)
}

// A stream that was cut out of a longer one begins at its own first sound.
func TestOggCutFromALongerOne(t *testing.T) {
	file := testsound.Ogg(t, 44100, 1, 400000)
	pages := bytes.Split(file, []byte("OggS"))[1:] // the mark is rare elsewhere
	require.Greater(t, len(pages), 8)
	cut := append([][]byte{nil}, pages[:2]...)
	cut = append(cut, pages[5:]...)
	src, err := testsound.Open(bytes.Join(cut, []byte("OggS")))
	require.NoError(t, err)
	announced := src.Info().Frames
	got, err := testsound.Drain(src)
	require.NoError(t, err)
	require.EqualValues(t, announced, len(got))
	require.Less(t, len(got), 350000)
}
