package audio_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/audio"
	"emberbeat/audio/testsound"
	"emberbeat/timeline/testtool"
)

// benchSink measures a sink on stereo sound at 48 kHz: a round is one second.
func benchSink(b *testing.B, sink func([]float32) error) {
	const block = 4000
	frames := testsound.Floats(testsound.Noise(2*48000, 1))
	b.ReportAllocs()
	for b.Loop() {
		for i := 0; i < len(frames); i += 2 * block {
			sink(frames[i : i+2*block])
		}
	}
	b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "xrealtime")
}

func BenchmarkDecode(b *testing.B) {
	testtool.Need(b, "flac", "lame", "oggenc")
	wav, _ := testsound.WriteClicked(b, 44100, 2, 44100*30)
	base := wav[:len(wav)-3]
	testsound.Output(b, "flac", "-s", "-o", base+"flac", wav)
	testsound.Output(b, "lame", "--quiet", "-b", "192", wav, base+"mp3")
	testsound.Output(b, "oggenc", "-Q", "-q", "6", "-o", base+"ogg", wav)
	for _, format := range []string{"wav", "flac", "mp3", "ogg"} {
		b.Run(format, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				src, err := audio.Open(base + format)
				require.NoError(b, err)
				require.NoError(b, audio.Run(context.Background(), src, 0))
				src.Close()
			}
			b.ReportMetric(30*float64(b.N)/b.Elapsed().Seconds(), "xrealtime")
		})
	}
}
