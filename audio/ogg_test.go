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

// oggPagesOf cuts a file into its pages.
func oggPagesOf(file []byte) (pages [][]byte) {
	for _, p := range bytes.Split(file, []byte("OggS"))[1:] { // the mark is rare elsewhere
		pages = append(pages, append([]byte("OggS"), p...))
	}
	return pages
}

// play reads a file to its end.
func play(t *testing.T, file []byte) (samples []float32, warnings string) {
	t.Helper()
	src, err := testsound.Open(file)
	require.NoError(t, err)
	samples, err = testsound.Drain(src)
	require.NoError(t, err)
	require.EqualValues(t, len(samples)/src.Info().Channels, src.Info().Frames)
	return samples, strings.Join(src.Info().Warnings, "\n")
}

// A file whose first page of sound is damaged is silent there, and all that
// follows keeps its time.
func TestOggWithADamagedFirstPageOfSound(t *testing.T) {
	const frames = 400000
	file := testsound.Ogg(t, 44100, 1, frames)
	want, warnings := play(t, file)
	require.Empty(t, warnings)
	pages := oggPagesOf(file)
	require.Greater(t, len(pages), 6)
	pages[2][len(pages[2])/2] ^= 0x55
	got, warnings := play(t, bytes.Join(pages, nil))
	require.Len(t, got, frames)
	require.Regexp(t, `^The file is damaged: \d\.\d\d s \(\d+ frames\) from 0:00\.000 on are lost and silent\.$`, warnings)
	require.Equal(t, want[frames/2:], got[frames/2:], "in place")
	require.Zero(t, got[1000])
}

// Streams one behind the other are one piece of music, as in oggdec and ffmpeg.
func TestOggChained(t *testing.T) {
	testtool.Need(t, "oggdec", "ffmpeg")
	a, b := testsound.Ogg(t, 44100, 2, 100000), testsound.Ogg(t, 44100, 2, 70001)
	first, _ := play(t, a)
	second, _ := play(t, b)
	whole := append(append([]float32(nil), first...), second...)
	got, warnings := play(t, append(bytes.Clone(a), b...))
	require.Empty(t, warnings)
	require.Equal(t, whole, got)

	ogg, back := filepath.Join(t.TempDir(), "a.ogg"), filepath.Join(t.TempDir(), "back.wav")
	require.NoError(t, os.WriteFile(ogg, append(bytes.Clone(a), b...), 0o644))
	testsound.Output(t, "oggdec", "-Q", "-o", back, ogg)
	_, theirs := testsound.ByUs(t, back)
	require.Len(t, theirs, len(got))

	got, warnings = play(t, append(bytes.Clone(a), a...))
	require.Empty(t, warnings)
	require.Equal(t, append(append([]float32(nil), first...), first...), got, "the same stream twice")

	pages := oggPagesOf(a)
	cut := bytes.Join(pages[:len(pages)-1], nil) // without its last page
	got, _ = play(t, append(cut, b...))
	require.Equal(t, second, got[len(got)-len(second):])
	require.Greater(t, len(got), len(second)+20000)
}

// What of a chain cannot be played is told with its length.
func TestOggChainedWithWhatIsNotRead(t *testing.T) {
	a, other := testsound.Ogg(t, 44100, 1, 50000), testsound.Ogg(t, 48000, 1, 96000)
	first, _ := play(t, a)
	got, warnings := play(t, bytes.Join([][]byte{a, other, a}, nil))
	require.Equal(t, append(append([]float32(nil), first...), first...), got)
	require.Equal(t, "The file goes on after 0:01.134 with a stream of 48000 Hz and 1 channels, not 44100 Hz and 1, which is not read: 2.00 s of sound are lost.", warnings)

	for _, page := range []int{0, 1} { // the beginning of the second stream, and its tables
		pages := oggPagesOf(testsound.Ogg(t, 44100, 1, 88200))
		for i := range pages { // a serial number of its own
			copy(pages[i][14:], "next")
		}
		file := bytes.Join(pages, nil)
		audio.RepairOgg(file)
		pages = oggPagesOf(file)
		pages[page][40] ^= 0x55
		damaged := bytes.Join(pages, nil)
		got, warnings = play(t, append(bytes.Clone(a), damaged...))
		require.Equal(t, first, got)
		require.Contains(t, warnings, "2.00 s of sound are lost", "page %d", page)
		if page == 1 {
			_, err := testsound.Open(append(bytes.Clone(damaged), a...))
			require.ErrorContains(t, err, "damaged header")
			continue
		}
		got, warnings = play(t, append(bytes.Clone(damaged), a...))
		require.Equal(t, first, got)
		require.Contains(t, warnings, "2.00 s of sound are lost", "page %d", page)
	}
}
