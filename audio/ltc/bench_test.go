package ltc_test

import (
	"io"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

// Three hours of timecode at 48 kHz.
func BenchmarkWriteThreeHours(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		s := stripe(timeline.Rate2997DF, 48000, 0, 3*3600*30)
		n, err := s.WriteTo(io.Discard)
		require.NoError(b, err)
		b.SetBytes(n)
	}
}

// A minute of timecode at 48 kHz, read.
func BenchmarkReadMinute(b *testing.B) {
	samples := sound(b, stripe(timeline.Rate25, 48000, 0, 60*25))
	b.ReportAllocs()
	b.SetBytes(int64(2 * len(samples)))
	for b.Loop() {
		require.EqualValues(b, 60*25, read(48000, samples).Frames)
	}
}
