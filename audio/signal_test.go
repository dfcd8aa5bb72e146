package audio_test

import (
	"math/rand/v2"
	"testing"
)

// noise16 is noise that is the same for the same seed.
func noise16(n int, seed uint64) []int16 {
	r := rand.New(rand.NewPCG(seed, 1))
	list := make([]int16, n)
	for i := range list {
		list[i] = int16(r.Uint32())
	}
	return list
}

// floats is samples at full scale ±1.
func floats(samples []int16) []float32 {
	list := make([]float32, len(samples))
	for i, v := range samples {
		list[i] = float32(v) / (1 << 15)
	}
	return list
}

// benchSink measures a sink on stereo sound at 48 kHz: a round is one second.
func benchSink(b *testing.B, sink func([]float32) error) {
	const block = 4000
	frames := floats(noise16(2*48000, 1))
	b.ReportAllocs()
	for b.Loop() {
		for i := 0; i < len(frames); i += 2 * block {
			sink(frames[i : i+2*block])
		}
	}
	b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "xrealtime")
}
