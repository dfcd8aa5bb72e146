package testsound

import (
	"bytes"
	"context"
	"encoding/binary"
	"math"
	"os/exec"
	"testing"

	"emberbeat/audio"

	"github.com/stretchr/testify/require"
)

// Output runs a tool and gives what it writes.
func Output(t testing.TB, tool string, args ...string) []byte {
	t.Helper()
	cmd := exec.Command(tool, args...)
	var out, complaint bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &complaint
	require.NoError(t, cmd.Run(), "%s %v: %s", tool, args, &complaint)
	return out.Bytes()
}

// ByFFmpeg is the file as ffmpeg decodes it.
func ByFFmpeg(t testing.TB, path string) []float32 {
	t.Helper()
	b := Output(t, "ffmpeg", "-v", "error", "-i", path, "-f", "f32le", "-")
	list := make([]float32, len(b)/4)
	for i := range list {
		list[i] = math.Float32frombits(binary.LittleEndian.Uint32(b[4*i:]))
	}
	return list
}

// ByUs is the file as we decode it, read in blocks of an odd size.
func ByUs(t testing.TB, path string) (audio.Info, []float32) {
	t.Helper()
	src, err := audio.Open(path)
	require.NoError(t, err)
	defer src.Close()
	var list []float32
	require.NoError(t, audio.Run(context.Background(), src, 1000, func(frames []float32) error {
		list = append(list, frames...)
		return nil
	}))
	in := src.Info()
	require.EqualValues(t, len(list)/in.Channels, in.Frames, "Frames is what came")
	return in, list
}

// SignalToNoise is how far got is from want, in dB.
func SignalToNoise(want, got []float32) float64 {
	var signal, noise float64
	for i, w := range want {
		d := float64(w) - float64(got[i])
		signal += float64(w) * float64(w)
		noise += d * d
	}
	return 10 * math.Log10(signal/noise)
}

// Open reads bytes as a file.
func Open(b []byte) (audio.Source, error) {
	return audio.NewSource(bytes.NewReader(b), int64(len(b)), "test file")
}

// Drain reads a source to its end.
func Drain(src audio.Source) (samples []float32, err error) {
	err = audio.Run(context.Background(), src, 100, func(frames []float32) error {
		samples = append(samples, frames...)
		return nil
	})
	return samples, err
}
