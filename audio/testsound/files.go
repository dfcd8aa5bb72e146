package testsound

import (
	"context"
	"errors"
	"fmt"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/audio"
	"emberbeat/timeline/testtool"
)

// LAME encodes a clicked signal, and gives the file and the signal.
func LAME(t testing.TB, rate, channels, frames int, options ...string) (path string, samples []int16) {
	t.Helper()
	testtool.Need(t, "lame")
	wav, samples := WriteClicked(t, rate, channels, frames)
	path = wav[:len(wav)-3] + "mp3"
	args := append([]string{"--quiet", "--resample", fmt.Sprint(float64(rate) / 1000)}, options...)
	Output(t, "lame", append(args, wav, path)...)
	return path, samples
}

// FLAC is a clicked signal as a FLAC file.
func FLAC(t testing.TB, rate, channels, frames int, options ...string) (file []byte, samples []int16) {
	testtool.Need(t, "flac")
	wav, samples := WriteClicked(t, rate, channels, frames)
	path := wav[:len(wav)-3] + "flac"
	Output(t, "flac", append(options, "-s", "-o", path, wav)...)
	file, err := os.ReadFile(path)
	require.NoError(t, err)
	return file, samples
}

// Ogg is a clicked signal as an Ogg Vorbis file.
func Ogg(t testing.TB, rate, channels, frames int) []byte {
	testtool.Need(t, "oggenc")
	wav, _ := WriteClicked(t, rate, channels, frames)
	path := wav[:len(wav)-3] + "ogg"
	Output(t, "oggenc", "-Q", "-o", path, wav)
	b, err := os.ReadFile(path)
	require.NoError(t, err)
	return b
}

// Files makes one short file of each format that the installed tools can
// make.
func Files(t testing.TB, frames int) map[audio.Format][]byte {
	t.Helper()
	files := map[audio.Format][]byte{audio.WAV: WAVKind{Tag: 1, Bits: 16}.Make(44100, 2, Tones(44100, 2, frames))}
	flac, _ := FLAC(t, 44100, 2, frames)
	files[audio.FLAC] = flac
	files[audio.OGG] = Ogg(t, 44100, 2, frames)
	path, _ := LAME(t, 44100, 2, frames, "-b", "64")
	mp3, err := os.ReadFile(path)
	require.NoError(t, err)
	files[audio.MP3] = mp3
	return files
}

// RequireBearable demands what holds for any file whatever: an error that names
// the file, or finite samples, as many as announced in the end.
func RequireBearable(t testing.TB, b []byte) (frames int64, warnings []string) {
	t.Helper()
	const most = 1 << 22 // samples: enough for a fuzzer's file
	src, err := Open(b)
	if err == nil {
		var n int64
		tooMuch := errors.New("enough")
		err = audio.Run(context.Background(), src, 333, func(frames []float32) error {
			for _, v := range frames {
				if !(v > -2e6 && v < 2e6) {
					t.Fatalf("sample %g", v)
				}
			}
			if n += int64(len(frames)); n > most {
				return tooMuch
			}
			return nil
		})
		if errors.Is(err, tooMuch) {
			return 0, nil
		}
		in := src.Info()
		if err == nil && in.Frames != n/int64(in.Channels) {
			t.Fatalf("announced %d frames, gave %d", in.Frames, n/int64(in.Channels))
		}
		frames, warnings = in.Frames, in.Warnings
	}
	var fe *audio.FileError
	if err != nil && (!errors.As(err, &fe) || fe.Path == "" || fe.What == "") {
		t.Fatalf("an error without a name: %v", err)
	}
	return frames, warnings
}

// Seeds adds whole files of a format to what a fuzzer begins with.
func Seeds(f *testing.F, format audio.Format) {
	if format != audio.WAV {
		f.Add(Files(f, 3000)[format])
		return
	}
	for _, k := range []WAVKind{{Tag: 1, Bits: 8}, {Tag: 1, Bits: 24, Extra: true}, {Tag: 3, Bits: 32, Extensible: true}, {Tag: 1, Bits: 16, RF64: true}} {
		f.Add(k.Make(44100, 1, Tones(44100, 1, 50)))
	}
}
