package audio_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/audio"
	"emberbeat/audio/testsound"
)

// build makes a pyramid in one go.
func build(rate, channels int, samples []float32) *audio.Pyramid {
	b := audio.NewBuilder(rate, channels)
	b.Write(samples)
	return b.Finish()
}

func TestPyramidOfAStep(t *testing.T) {
	samples := make([]float32, 2*10*audio.PyramidBase)
	for i := len(samples) / 2; i < len(samples); i++ {
		samples[i] = 0.5
	}
	p := build(48000, 2, samples)
	require.EqualValues(t, len(samples)/2, p.Frames)
	columns := make([]audio.Peak, 2)
	p.Range(0, p.Frames, columns)
	require.Equal(t, audio.Peak{}, columns[0])
	require.EqualValues(t, 16384, columns[1].Max)
	require.EqualValues(t, 16384, columns[1].RMS)
	require.EqualValues(t, 0, columns[1].Min, "a peak reaches from the zero line")
}

// The pyramid must agree with going over the samples themselves.
func TestPyramidAgreesWithSamples(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		channels := rapid.IntRange(1, 3).Draw(t, "channels")
		frames := rapid.IntRange(1, 40*audio.PyramidBase).Draw(t, "frames")
		pcm := &audio.PCM{Rate: 8000, Channels: channels, Samples: testsound.Noise(frames*channels, 7)}
		p := build(pcm.Rate, channels, testsound.Floats(pcm.Samples))
		n := rapid.IntRange(1, 50).Draw(t, "columns")
		from := int64(rapid.IntRange(-3, 40).Draw(t, "from")) * audio.PyramidBase
		width := int64(rapid.IntRange(1, 20).Draw(t, "width")) * audio.PyramidBase
		got, want := make([]audio.Peak, n), make([]audio.Peak, n)
		p.Range(from, from+width*int64(n), got)
		pcm.Peaks(from, from+width*int64(n), want)
		for i := range want {
			if want[i] == (audio.Peak{}) {
				require.Equal(t, want[i], got[i])
				continue
			}
			require.Equal(t, min(0, want[i].Min), got[i].Min)
			require.Equal(t, max(0, want[i].Max), got[i].Max)
			require.InDelta(t, want[i].RMS, got[i].RMS, 2)
		}
	})
}

func TestPyramidWhileGrowing(t *testing.T) {
	samples := testsound.Floats(testsound.Noise(100*audio.PyramidBase+17, 3))
	b := audio.NewBuilder(8000, 1)
	var snapshots []*audio.Pyramid
	for i := 0; i < len(samples); i += 1000 {
		b.Write(samples[i:min(len(samples), i+1000)])
		snapshots = append(snapshots, b.Pyramid())
	}
	whole := b.Finish()
	require.EqualValues(t, len(samples), whole.Frames)
	for i, p := range snapshots {
		require.EqualValues(t, min(len(samples), (i+1)*1000)/audio.PyramidBase*audio.PyramidBase, p.Frames)
		got, want := make([]audio.Peak, 3), make([]audio.Peak, 3)
		p.Range(0, p.Frames, got)
		whole.Range(0, p.Frames, want)
		require.Equal(t, want, got, "a snapshot is a prefix of the whole")
	}
}

func TestPyramidBands(t *testing.T) {
	for _, c := range []struct {
		hz   float64
		band func(audio.Peak) uint8
	}{
		{60, func(p audio.Peak) uint8 { return p.Low }},
		{1000, func(p audio.Peak) uint8 { return p.Mid }},
		{10000, func(p audio.Peak) uint8 { return p.High }},
	} {
		samples := make([]float32, 48000)
		for i := range samples {
			samples[i] = float32(0.5 * math.Sin(2*math.Pi*c.hz*float64(i)/48000))
		}
		columns := make([]audio.Peak, 1)
		build(48000, 1, samples).Range(0, 48000, columns)
		p := columns[0]
		const halfSine = 255 - 36 // -9 dB: half of full scale, as a sine
		require.InDelta(t, halfSine, c.band(p), 4, "%g Hz", c.hz)
		for _, other := range []uint8{p.Low, p.Mid, p.High} {
			if other != c.band(p) {
				require.Less(t, other, c.band(p)-30, "%g Hz stays out of other bands", c.hz)
			}
		}
	}
}

func TestPyramidSurvivesItsFile(t *testing.T) {
	for _, frames := range []int{0, 1, 255, 256, 257, 70000} {
		p := build(44100, 1, testsound.Floats(testsound.Noise(frames, 5)))
		b := p.Encode()
		q, err := audio.DecodePyramid(b)
		require.NoError(t, err)
		require.Equal(t, p, q, "%d frames", frames)
		for _, bad := range [][]byte{nil, b[:len(b)-1], append([]byte{'x'}, b[1:]...), append(b[:len(b):len(b)], 0)} {
			_, err := audio.DecodePyramid(bad)
			require.Error(t, err)
		}
		b[len(b)/2] ^= 1
		_, err = audio.DecodePyramid(b)
		require.Error(t, err, "one bit changed")
	}
}

func BenchmarkPyramid(b *testing.B) { benchSink(b, audio.NewBuilder(48000, 2).Write) }

func BenchmarkPyramidRange(b *testing.B) {
	p := build(48000, 1, make([]float32, 48000*240))
	columns := make([]audio.Peak, 1920)
	b.ReportAllocs()
	for b.Loop() {
		p.Range(0, p.Frames, columns)
	}
}
