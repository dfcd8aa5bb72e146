package flac_test

import (
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

// FLAC files of every shape must read sample for sample like the WAV file that
// flac made them from, and like the one that it makes of them.
func TestFLACAgainstFlac(t *testing.T) {
	testtool.Need(t, "flac")
	for _, c := range []struct {
		bits, rate, channels int
		level                string
	}{
		{16, 44100, 1, "-0"}, {16, 44100, 2, "-5"}, {16, 48000, 2, "-8"}, {16, 48000, 6, "-3"}, {16, 96000, 1, "-5"},
		{24, 44100, 2, "-8"}, {24, 48000, 1, "-5"}, {24, 48000, 6, "-5"}, {24, 96000, 2, "-2"},
		{8, 24000, 2, "-5"}, {24, 176400, 1, "-5"}, {16, 11025, 3, "-6"},
	} {
		t.Run(fmt.Sprintf("%d bit %d Hz %d channels %s", c.bits, c.rate, c.channels, c.level), func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			wav, flac, back := filepath.Join(dir, "a.wav"), filepath.Join(dir, "a.flac"), filepath.Join(dir, "back.wav")
			kind := testsound.WAVKind{Tag: 1, Bits: c.bits, Extensible: c.channels > 2}
			require.NoError(t, os.WriteFile(wav, kind.Make(c.rate, c.channels, testsound.Tones(c.rate, c.channels, 30011)), 0o644))
			testsound.Output(t, "flac", c.level, "-s", "--channel-map=none", "-o", flac, wav)
			testsound.Output(t, "flac", "-d", "-s", "--channel-map=none", "-o", back, flac)
			in, got := testsound.ByUs(t, flac)
			require.Equal(t, audio.Info{Format: audio.FLAC, Rate: c.rate, Channels: c.channels, Frames: 30011}, in)
			_, want := testsound.ByUs(t, wav)
			require.Equal(t, want, got)
			_, want = testsound.ByUs(t, back)
			require.Equal(t, want, got)
		})
	}
}

func TestFLACSpecialSignals(t *testing.T) {
	testtool.Need(t, "flac")
	for name, samples := range map[string][]int16{
		"silence":      make([]int16, 20000),
		"noise":        testsound.Noise(20000, 4),
		"wasted bits":  wasted(20000),
		"one frame":    {77},
		"full scale":   square(20000),
		"silent start": append(make([]int16, 10000), testsound.Noise(10000, 4)...),
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			wav := filepath.Join(t.TempDir(), "a.wav")
			require.NoError(t, testsound.WriteWAV16(wav, 44100, 1, samples))
			flac := wav[:len(wav)-3] + "flac"
			testsound.Output(t, "flac", "-s", "-o", flac, wav)
			_, got := testsound.ByUs(t, flac)
			require.Equal(t, testsound.Floats(samples), got)
		})
	}
}

// wasted is noise whose lowest bits are zero.
func wasted(n int) []int16 {
	list := testsound.Noise(n, 9)
	for i := range list {
		list[i] &^= 15
	}
	return list
}

// square jumps between the ends of full scale.
func square(n int) []int16 {
	list := make([]int16, n)
	for i := range list {
		list[i] = 32767
		if i/7%2 == 1 {
			list[i] = -32768
		}
	}
	return list
}

func TestFLACBetweenID3Tags(t *testing.T) {
	file, samples := testsound.FLAC(t, 44100, 1, 9000)
	src, err := testsound.Open(testsound.Concat([]byte("ID3\x04\x00\x00\x00\x00\x01\x00"), make([]byte, 128), file, []byte("TAG"), make([]byte, 125)))
	require.NoError(t, err)
	got, err := testsound.Drain(src)
	require.NoError(t, err)
	require.Equal(t, testsound.Floats(samples), got)
	require.Empty(t, src.Info().Warnings)
}

// A damaged block is silent, and what follows keeps its time.
func TestFLACDamagedInTheMiddle(t *testing.T) {
	const block = 4096
	file, samples := testsound.FLAC(t, 44100, 2, 40*block+11, "-b", "4096")
	damaged := append([]byte(nil), file...)
	for i := range 50 {
		damaged[len(file)/2+i] ^= 0x55
	}
	src, err := testsound.Open(damaged)
	require.NoError(t, err)
	got, err := testsound.Drain(src)
	require.NoError(t, err)
	want := testsound.Floats(samples)
	require.Equal(t, len(want), len(got))
	silent := 0
	for at := 0; at < len(want); at += 2 * block {
		end := min(len(want), at+2*block)
		if !equal(want[at:end], got[at:end]) {
			require.Equal(t, make([]float32, end-at), got[at:end], "block at %d", at)
			silent++
		}
	}
	require.LessOrEqual(t, silent, 2)
	require.Positive(t, silent)
	require.Contains(t, strings.Join(src.Info().Warnings, "\n"), "frames from 0:0")
}

func equal(a, b []float32) bool {
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

func TestFLACOfUnknownLength(t *testing.T) {
	file, samples := testsound.FLAC(t, 44100, 1, 20000)
	file[8+13] &= 0xF0 // the length is 36 bits, from the middle of byte 13 on
	copy(file[8+14:], make([]byte, 4))
	src, err := testsound.Open(file)
	require.NoError(t, err)
	require.EqualValues(t, -1, src.Info().Frames)
	got, err := testsound.Drain(src)
	require.NoError(t, err)
	require.Equal(t, testsound.Floats(samples), got)
	require.EqualValues(t, 20000, src.Info().Frames)
	require.Empty(t, src.Info().Warnings)
}

func FuzzFLAC(f *testing.F) {
	testsound.Seeds(f, audio.FLAC)
	f.Fuzz(func(t *testing.T, b []byte) { testsound.RequireBearable(t, b) })
}
