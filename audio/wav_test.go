package audio_test

import (
	"bytes"
	"context"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/audio"
	"emberbeat/audio/testsound"
	"emberbeat/timeline/testtool"
)

func TestWAV16RoundTrip(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.wav")
	samples := []int16{0, 1, -1, 32767, -32768, 1234}
	require.NoError(t, testsound.WriteWAV16(path, 48000, 2, samples))
	pcm, err := audio.Decode(context.Background(), path, nil)
	require.NoError(t, err)
	require.Equal(t, &audio.PCM{Rate: 48000, Channels: 2, Samples: samples}, pcm)
}

// Every kind of WAV file must read sample for sample as in ffmpeg.
func TestWAVAgainstFFmpeg(t *testing.T) {
	testtool.Need(t, "ffmpeg")
	for name, c := range map[string]struct {
		kind           testsound.WAVKind
		rate, channels int
	}{
		"8 bit":               {testsound.WAVKind{Tag: 1, Bits: 8}, 22050, 1},
		"16 bit":              {testsound.WAVKind{Tag: 1, Bits: 16}, 44100, 2},
		"24 bit":              {testsound.WAVKind{Tag: 1, Bits: 24}, 48000, 2},
		"32 bit":              {testsound.WAVKind{Tag: 1, Bits: 32}, 96000, 1},
		"float":               {testsound.WAVKind{Tag: 3, Bits: 32}, 44100, 2},
		"double":              {testsound.WAVKind{Tag: 3, Bits: 64}, 48000, 1},
		"extensible 24 bit":   {testsound.WAVKind{Tag: 1, Bits: 24, Extensible: true}, 96000, 6},
		"extensible float":    {testsound.WAVKind{Tag: 3, Bits: 32, Extensible: true}, 192000, 2},
		"RF64":                {testsound.WAVKind{Tag: 1, Bits: 16, RF64: true}, 44100, 2},
		"odd chunks, 8 kHz":   {testsound.WAVKind{Tag: 1, Bits: 16, Extra: true}, 8000, 1},
		"RF64 and odd chunks": {testsound.WAVKind{Tag: 1, Bits: 24, RF64: true, Extra: true}, 48000, 1},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			path := filepath.Join(t.TempDir(), "a.wav")
			require.NoError(t, os.WriteFile(path, c.kind.Make(c.rate, c.channels, testsound.Tones(c.rate, c.channels, 5001)), 0o644))
			in, got := testsound.ByUs(t, path)
			require.Equal(t, audio.Info{Format: audio.WAV, Rate: c.rate, Channels: c.channels, Frames: 5001}, in)
			require.Equal(t, testsound.ByFFmpeg(t, path), got)
		})
	}
}

func TestWAVOfWrongSizes(t *testing.T) {
	whole := testsound.WAVKind{Tag: 1, Bits: 16}.Make(8000, 1, testsound.Tones(8000, 1, 100))
	patch := func(at int, b []byte) []byte {
		c := bytes.Clone(whole)
		copy(c[at:], b)
		return c
	}
	for name, c := range map[string]struct {
		file     []byte
		frames   int64
		warnings string
	}{
		"whole":                {whole, 100, ""},
		"cut":                  {whole[:44+99*2], 99, "cut short: 200 bytes of sound are announced, 198 are there"},
		"cut inside a sample":  {whole[:44+99*2+1], 99, "cut short"},
		"size 0, a stream":     {patch(4, testsound.Concat(testsound.U32(0), whole[8:40], testsound.U32(0))), 100, ""},
		"size -1, a stream":    {patch(4, testsound.Concat(testsound.U32(0xFFFFFFFF), whole[8:40], testsound.U32(0xFFFFFFFF))), 100, ""},
		"size of sox's stream": {patch(40, testsound.U32(0x7FFFFFFF-0x20)), 100, ""},
		"4 GB claimed":         {patch(40, testsound.U32(0xF0000000)), 100, "4026531840 bytes of sound are announced, 200 are there"},
		"odd size":             {patch(40, testsound.U32(199)), 99, ""},
		"outer size wrong":     {patch(4, testsound.U32(12)), 100, ""},
	} {
		t.Run(name, func(t *testing.T) {
			src, err := testsound.Open(c.file)
			require.NoError(t, err)
			require.Equal(t, c.frames, src.Info().Frames)
			samples, err := testsound.Drain(src)
			require.NoError(t, err)
			require.Len(t, samples, int(c.frames))
			require.Contains(t, strings.Join(src.Info().Warnings, "\n"), c.warnings)
			require.Equal(t, c.warnings == "", len(src.Info().Warnings) == 0, "%q", src.Info().Warnings)
			_, err = src.Read(make([]float32, 1))
			require.Equal(t, io.EOF, err)
		})
	}
}

func TestWAVRefused(t *testing.T) {
	pcm := testsound.WAVKind{Tag: 1, Bits: 16}
	format := func(k testsound.WAVKind, rate, channels int) []byte {
		return k.Wrap(testsound.Concat(testsound.Chunk(nil, "fmt ", k.Format(rate, channels)), testsound.Chunk(nil, "data", make([]byte, 64))))
	}
	for name, c := range map[string]struct {
		file []byte
		what string
	}{
		"36 bytes claiming 4 GB":   {pcm.Wrap(testsound.Concat(testsound.Chunk(nil, "fmt ", pcm.Format(44100, 2)), []byte("data"), testsound.U32(0xFFFFFFF0)))[:44], "holds no sound"},
		"only a fmt chunk":         {pcm.Wrap(testsound.Chunk(nil, "fmt ", pcm.Format(44100, 2))), "without a data chunk"},
		"fmt claiming 4 GB":        {testsound.Concat([]byte("RIFF\xff\xff\xff\xffWAVEfmt "), testsound.U32(0xFFFFFFF0), make([]byte, 16)), "fmt chunk claims 4294967280 bytes"},
		"LIST claiming 4 GB":       {testsound.Concat([]byte("RIFF\xff\xff\xff\xffWAVELIST"), testsound.U32(0xFFFFFFF0), make([]byte, 16)), `chunk "LIST" at byte 12 claims 4294967280 bytes`},
		"ds64 claiming everything": {testsound.Concat([]byte("RF64\xff\xff\xff\xffWAVE"), testsound.Chunk(nil, "ds64", bytes.Repeat([]byte{255}, 28))), "ds64"},
		"twelve bytes":             {[]byte("RIFF\x04\x00\x00\x00WAVE"), "without a fmt chunk"},
		"no samples":               {pcm.Make(44100, 2, nil), "holds no sound"},
		"A-law":                    {format(testsound.WAVKind{Tag: 6, Bits: 8}, 8000, 1), "A-law"},
		"µ-law":                    {format(testsound.WAVKind{Tag: 7, Bits: 8}, 8000, 1), "µ-law"},
		"MP3 in WAV":               {format(testsound.WAVKind{Tag: 0x55, Bits: 0}, 8000, 1), "MP3 inside WAV"},
		"unknown subtype":          {format(testsound.WAVKind{Tag: 99, Bits: 16, Extensible: true}, 8000, 1), "kind 99"},
		"float of 16 bit":          {format(testsound.WAVKind{Tag: 3, Bits: 16}, 8000, 1), "16 bit samples of kind 3"},
		"0 bit":                    {format(testsound.WAVKind{Tag: 1, Bits: 0}, 8000, 1), "0 bit samples"},
		"no channels":              {format(pcm, 44100, 0), "0 channels"},
		"no rate":                  {format(pcm, 0, 2), "sample rate is 0 Hz"},
		"rate of 4 GHz":            {format(pcm, 1<<32-1, 2), "sample rate is 4294967295 Hz"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := testsound.Open(c.file)
			var fe *audio.FileError
			require.ErrorAs(t, err, &fe)
			require.Equal(t, "test file", fe.Path)
			require.Contains(t, fe.What, c.what)
			require.NotEmpty(t, fe.Want)
		})
	}
}

func TestWAVFloatDamageIsSilence(t *testing.T) {
	inf := testsound.Concat(testsound.U32(0x7F800000), testsound.U32(0x7FC00000), testsound.U32(0x7F7FFFFF), testsound.U32(0x80000000), testsound.U32(0x3F800000))
	k := testsound.WAVKind{Tag: 3, Bits: 32}
	src, err := testsound.Open(k.Wrap(testsound.Concat(testsound.Chunk(nil, "fmt ", k.Format(8000, 1)), testsound.Chunk(nil, "data", inf))))
	require.NoError(t, err)
	samples, err := testsound.Drain(src)
	require.NoError(t, err)
	require.Equal(t, []float32{0, 0, 0, 0, 1}, samples)
}

func TestWriteWAVRefusesNonsense(t *testing.T) {
	require.Error(t, audio.EncodeWAV16(io.Discard, 0, 2, nil))
	require.Error(t, audio.EncodeWAV16(io.Discard, 44100, 0, nil))
	require.Error(t, audio.EncodeWAV16(io.Discard, 44100, 2, make([]int16, 3)))
	require.Error(t, testsound.WriteWAV16(t.TempDir(), 44100, 2, nil))
}

// A header with a wrong size of frames loses no sound: what the samples say
// counts, as in ffmpeg, and it is told.
func TestWAVOfAWrongFrameSize(t *testing.T) {
	testtool.Need(t, "ffmpeg")
	for _, c := range []struct{ bits, channels, align, bytesPerSecond int }{
		{16, 1, 4, 88200}, {16, 1, 4, 176400}, {16, 2, 8, 176400}, {16, 1, 3, 88200}, {16, 2, 2, 176400}, {24, 1, 6, 132300}, {8, 2, 4, 88200}, {16, 1, 0, 88200}, {24, 2, 8, 352800},
	} {
		file := testsound.WAVKind{Tag: 1, Bits: c.bits}.Make(44100, c.channels, testsound.Tones(44100, c.channels, 5000))
		copy(file[28:], testsound.U32(uint32(c.bytesPerSecond)))
		file[32], file[33] = byte(c.align), 0
		path := filepath.Join(t.TempDir(), "a.wav")
		require.NoError(t, os.WriteFile(path, file, 0o644))
		src, err := testsound.Open(file)
		require.NoError(t, err, "%v", c)
		got, err := testsound.Drain(src)
		require.NoError(t, err)
		warnings := strings.Join(src.Info().Warnings, "")
		if c.bits == 24 && c.align == 4*c.channels { // real containers: the file holds fewer frames than were made
			require.Empty(t, warnings)
			require.Len(t, got, 5000*3/4*c.channels)
			continue
		}
		require.Len(t, got, 5000*c.channels, "%v", c)
		if c.align == 0 {
			require.Empty(t, warnings)
		} else {
			require.Contains(t, warnings, "all of it is read", "%v", c)
		}
		if theirs := testsound.ByFFmpeg(t, path); len(theirs) == len(got) { // where ffmpeg starts in the middle of a frame it loses the end
			require.Equal(t, theirs, got, "%v", c)
		} else {
			require.Less(t, len(theirs), len(got), "%v", c)
		}
	}
}
