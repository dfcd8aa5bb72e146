package ear

import (
	"context"
	"io"
	"math"
	"runtime"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"emberbeat/audio"
)

// hum is seconds of a sound with something in every band.
func hum(seconds int) []float32 {
	x := make([]float32, 44100*seconds)
	for i := range x {
		t := float64(i) / 44100
		x[i] = float32(0.3*math.Sin(2*math.Pi*60*t)*math.Exp(-8*math.Mod(t, 0.5)) + 0.2*math.Sin(2*math.Pi*3000*t)*math.Exp(-20*math.Mod(t, 0.25)) + 0.1*math.Sin(2*math.Pi*440*t))
	}
	return x
}

// roomy is features with space for so many seconds, so that growing the lists
// is not counted.
func roomy(seconds int) *features {
	f := &features{}
	f.reserve(float64(seconds))
	return f
}

func TestInnerLoopsDoNotAllocate(t *testing.T) {
	x := hum(1)[:chunkFrames]
	f := roomy(60)
	flux, env, tone := newFluxStage(44100, chunkFrames, f), newEnvelopeStage(44100, f), newToneStage(44100, chunkFrames, f)
	flux.feed(x) // the first rounds lay out the buffers
	tone.feed(x)
	for name, feed := range map[string]func([]float32){"flux": flux.feed, "envelope": env.feed, "tone": tone.feed} {
		require.Zero(t, testing.AllocsPerRun(20, func() { feed(x) }), name)
	}
}

func TestMixingDoesNotAllocate(t *testing.T) {
	for _, in := range []audio.Info{{Rate: 44100, Channels: 2}, {Rate: 192000, Channels: 6}} {
		l := newListener(in)
		raw, into := make([]float32, chunkFrames*in.Channels), make([]float32, chunkFrames)
		l.mono(raw, into) // the first round lays out the buffers
		require.Zero(t, testing.AllocsPerRun(20, func() { l.mono(raw, into) }), "%+v", in)
	}
}

func TestTimingAttacksDoesNotAllocate(t *testing.T) {
	f, err := listen(t.Context(), &stream{piece: hum(1), left: 10 * 44100}, nil)
	require.NoError(t, err)
	d, ons := f.detection(), f.findOnsets()
	require.NotEmpty(t, ons)
	require.Zero(t, testing.AllocsPerRun(20, func() { f.timeAttack(&ons[len(ons)/2], d) }))
	p := part{period: 0.5, from: 0, to: 10}
	require.Zero(t, testing.AllocsPerRun(20, func() { p.fit(ons, 0.025); _ = p.share(ons, 0, 10) }))
}

// cancelling is a stream whose listener loses patience after some reads.
type cancelling struct {
	stream
	reads  int
	cancel func()
	after  int // frames read since
}

func (s *cancelling) Read(dst []float32) (int, error) {
	n, err := s.stream.Read(dst)
	switch s.reads--; {
	case s.reads == 0:
		s.cancel()
	case s.reads < 0:
		s.after += n
	}
	return n, err
}

// Between two looks at the context lies one chunk: under 0.4 s of sound, which
// takes a few thousandths of a second to hear.
func TestCancelledWithinAChunk(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	s := &cancelling{stream: stream{piece: hum(1)[:2048], left: 600 * 44100}, reads: 100, cancel: cancel}
	_, err := Analyse(ctx, s, Options{})
	require.ErrorIs(t, err, context.Canceled)
	require.LessOrEqual(t, s.after, chunkFrames)
}

// While the features are being understood, the answer to a cancelled context
// does not wait for the rest of the work.
func TestCancelledWhileUnderstanding(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	s := &stream{piece: hum(1), left: 20 * 44100}
	_, err := Analyse(ctx, s, Options{Progress: func(done float64) {
		if done >= listenShare {
			cancel()
		}
	}})
	require.ErrorIs(t, err, context.Canceled)
}

// stream gives a hum of any length without holding it.
type stream struct {
	audio.Source
	piece []float32
	left  int
}

func (s *stream) Info() audio.Info {
	return audio.Info{Rate: 44100, Channels: 1, Frames: int64(s.left)}
}

func (s *stream) Read(dst []float32) (int, error) {
	n := min(len(dst), s.left, len(s.piece))
	copy(dst, s.piece[:n])
	s.left -= n
	if n == 0 {
		return 0, io.EOF
	}
	return n, nil
}

func TestFeaturesAreSmall(t *testing.T) {
	const minutes = 10
	s := &stream{piece: hum(1), left: minutes * 60 * 44100}
	f, err := listen(t.Context(), s, nil)
	require.NoError(t, err)
	size := 4*(len(f.power)+len(f.tone)+len(f.bass)+len(f.timbre)+len(f.short)) + len(f.env[0])*envCount
	for b := range f.flux {
		size += 4 * len(f.flux[b])
	}
	require.Less(t, size/minutes, 500_000, "bytes a minute")
	require.InDelta(t, minutes*60, f.duration, 0.001)
	require.InDelta(t, minutes*60*fluxRate, f.frames(), 1)

	// what is in use while the rest is worked out must stay small for long songs
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	a := understand(f, Options{})
	runtime.ReadMemStats(&after)
	require.NotEmpty(t, a.Onsets)
	require.Less(t, int(after.HeapAlloc)-int(before.HeapAlloc), 60_000_000)
}

func BenchmarkStages(b *testing.B) {
	x := hum(1)
	bench := func(name string, feed func([]float32), f *features) {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				feed(x)
				f.rewind()
			}
			b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "x-realtime")
		})
	}
	f := roomy(60)
	bench("flux", newFluxStage(44100, len(x), f).feed, f)
	bench("envelope", newEnvelopeStage(44100, f).feed, f)
	bench("tone", newToneStage(44100, len(x), f).feed, f)
	meter := audio.NewLoudness(44100, 1)
	bench("loudness", func(x []float32) { _ = meter.Write(x) }, f)
}

// rewind empties the lists but keeps their space.
func (f *features) rewind() {
	for b := range f.flux {
		f.flux[b] = f.flux[b][:0]
	}
	for b := range f.env {
		f.env[b] = f.env[b][:0]
	}
	f.power, f.tone, f.bass, f.timbre = f.power[:0], f.tone[:0], f.bass[:0], f.timbre[:0]
}

func BenchmarkUnderstand(b *testing.B) {
	s := &stream{piece: hum(1), left: 180 * 44100}
	f, err := listen(b.Context(), s, nil)
	require.NoError(b, err)
	b.ReportAllocs()
	for b.Loop() {
		understand(f, Options{})
	}
	b.ReportMetric(float64(b.N)*f.duration/b.Elapsed().Seconds(), "x-realtime")
}

// The time from cancelling to the answer.
func BenchmarkCancel(b *testing.B) {
	piece := hum(1)
	var worst, sum time.Duration
	for b.Loop() {
		ctx, cancel := context.WithCancel(b.Context())
		var from time.Time
		s := &cancelling{stream: stream{piece: piece, left: 600 * 44100}, reads: 50, cancel: func() { from = time.Now(); cancel() }}
		_, _ = Analyse(ctx, s, Options{})
		took := time.Since(from)
		worst, sum = max(worst, took), sum+took
	}
	b.ReportMetric(float64(worst.Microseconds())/1000, "worst-ms")
	b.ReportMetric(float64(sum.Microseconds())/1000/float64(b.N), "mean-ms")
}

// The whole, on one core: listening and understanding.
func BenchmarkAnalyseOneCore(b *testing.B) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	piece := hum(1)
	const seconds = 60
	for b.Loop() {
		_, err := Analyse(b.Context(), &stream{piece: piece, left: seconds * 44100}, Options{})
		require.NoError(b, err)
	}
	b.ReportMetric(float64(b.N)*seconds/b.Elapsed().Seconds(), "x-realtime")
}
