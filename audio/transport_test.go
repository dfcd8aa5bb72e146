package audio_test

import (
	"io"
	"math"
	"sync"
	"testing"

	"github.com/faiface/beep"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/audio"
	"emberbeat/audio/testsound"
)

// ramp is a mono song whose samples tell their frame.
func ramp(rate, frames int) *audio.PCM {
	p := &audio.PCM{Rate: rate, Channels: 1, Samples: make([]int16, frames)}
	for i := range p.Samples {
		p.Samples[i] = int16(i + 1)
	}
	return p
}

// hear streams n frames and gives the left channel.
func hear(s beep.Streamer, n int) []float64 {
	samples := make([][2]float64, n)
	s.Stream(samples)
	left := make([]float64, n)
	for i, f := range samples {
		left[i] = f[0]
	}
	return left
}

// requireCount demands that samples are those of a ramp from frame on.
func requireCount(t require.TestingT, from int, samples []float64) {
	for i, v := range samples {
		if got := v*(1<<15) - 1; math.Abs(got-float64(from+i)) > 1e-6 {
			require.FailNow(t, "not sample for sample", "place %d: frame %d instead of %d", i, int(got), from+i)
		}
	}
}

// requireSilence demands silence.
func requireSilence(t require.TestingT, samples []float64) {
	for i, v := range samples {
		require.Zero(t, v, "place %d", i)
	}
}

func TestTransportPlaysSampleForSample(t *testing.T) {
	tr := audio.NewTransport(ramp(48000, 5000), 48000)
	require.Equal(t, 5000, tr.Len())
	requireSilence(t, hear(tr, 100))
	require.False(t, tr.Playing())
	tr.Play()
	require.True(t, tr.Playing())
	requireCount(t, 0, hear(tr, 3000))
	require.Equal(t, 3000, tr.Position())
	rest := hear(tr, 3000)
	requireCount(t, 3000, rest[:2000])
	requireSilence(t, rest[2000:])
	require.False(t, tr.Playing(), "it ended")
	require.Equal(t, 5000, tr.Position())
	tr.Play()
	requireCount(t, 0, hear(tr, 10))
}

func TestTransportStopsAndGoesOn(t *testing.T) {
	tr := audio.NewTransport(ramp(48000, 20000), 48000)
	tr.Play()
	hear(tr, 1000)
	tr.Stop()
	out := hear(tr, 1000)
	require.InDelta(t, 1001.0/(1<<15), out[0], 1e-9, "the fade starts where the sound was")
	requireSilence(t, out[300:])
	require.Equal(t, 1000, tr.Position(), "the fade does not move the place")
	tr.Play()
	out = hear(tr, 500)
	requireCount(t, 1100, out[100:])
}

func TestTransportSeeks(t *testing.T) {
	tr := audio.NewTransport(ramp(48000, 20000), 48000)
	require.NoError(t, tr.Seek(7000))
	require.Equal(t, 7000, tr.Position(), "at once, before anything is streamed")
	tr.Play()
	requireCount(t, 7064, hear(tr, 500)[64:])
	tr.Seek(100)
	requireCount(t, 400, hear(tr, 500)[300:])
	require.Equal(t, 600, tr.Position())
	tr.Seek(-200)
	out := hear(tr, 500)
	requireCount(t, 100, out[300:])
	tr.Seek(25000)
	hear(tr, 1000)
	require.False(t, tr.Playing())
}

func TestTransportLoopsExactly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from := rapid.IntRange(0, 3000).Draw(t, "from")
		length := rapid.IntRange(1, 2000).Draw(t, "length")
		block := rapid.IntRange(1, 700).Draw(t, "block")
		tr := audio.NewTransport(ramp(48000, 9000), 48000)
		tr.SetLoop(int64(from), int64(from+length))
		tr.Seek(from)
		tr.Play()
		for done := 0; done < 6000; done += block {
			require.Equal(t, from+done%length, tr.Position())
			hear(tr, block)
		}
	})
}

func TestTransportLoopOfAnotherRateDoesNotDrift(t *testing.T) {
	const songRate, rate, from, to = 44100, 48000, 1000, 5410 // 100 ms: 4800 device frames
	tr := audio.NewTransport(ramp(songRate, 9000), rate)
	tr.SetLoop(from, to)
	tr.Seek(from)
	tr.Play()
	for range 500 {
		hear(tr, 4800)
		require.Equal(t, from, tr.Position())
	}
}

func TestTransportLoopIsOnlyRunInto(t *testing.T) {
	tr := audio.NewTransport(ramp(48000, 9000), 48000)
	tr.SetLoop(1000, 2000)
	tr.Seek(3000)
	tr.Play()
	hear(tr, 1000)
	require.Equal(t, 4000, tr.Position(), "behind the loop the song goes on")
	tr.SetLoop(0, 0)
	tr.Seek(1500)
	hear(tr, 1000)
	require.Equal(t, 2500, tr.Position())
}

// sine is a stereo song: hz left, silence right.
func sine(rate int, hz float64, seconds int) *audio.PCM {
	p := &audio.PCM{Rate: rate, Channels: 2}
	for i := range rate * seconds {
		p.Samples = append(p.Samples, audio.ToPCM(float32(0.5*math.Sin(2*math.Pi*hz*float64(i)/float64(rate)))), 0)
	}
	return p
}

// A tone must come out of resampling as that tone, at its place, and nothing
// else.
func TestTransportResamples(t *testing.T) {
	for _, c := range []struct {
		from, to int
		hz       float64
	}{
		{44100, 48000, 997}, {44100, 48000, 15000}, {48000, 44100, 997}, {48000, 44100, 15000},
		{22050, 48000, 5000}, {96000, 48000, 12345}, {192000, 44100, 1000}, {8000, 48000, 3000}, {11025, 44100, 440},
	} {
		tr := audio.NewTransport(sine(c.from, c.hz, 1), c.to)
		tr.Play()
		out := hear(tr, c.to/2)
		var signal, noise float64
		for i, v := range out[1000:] {
			want := 0.5 * math.Sin(2*math.Pi*c.hz*float64(i+1000)/float64(c.to))
			signal += want * want
			noise += (v - want) * (v - want)
		}
		require.Greater(t, 10*math.Log10(signal/noise), 65.0, "%v", c)
		require.InDelta(t, c.from/2, tr.Position(), 1)
	}
}

// What is too high for the device must vanish, not come down as another tone.
func TestTransportLeavesOutWhatIsTooHigh(t *testing.T) {
	tr := audio.NewTransport(sine(96000, 30000, 1), 48000)
	tr.Play()
	for i, v := range hear(tr, 24000)[500:] {
		require.InDelta(t, 0, v, 1e-3, "frame %d", i)
	}
}

func TestTransportSpeed(t *testing.T) {
	tr := audio.NewTransport(ramp(48000, 30000), 48000)
	require.NoError(t, tr.SetSpeed(1, 2))
	tr.Play()
	hear(tr, 2000)
	require.Equal(t, 1000, tr.Position())
	require.NoError(t, tr.SetSpeed(3, 2))
	hear(tr, 2000)
	require.Equal(t, 4000, tr.Position())
	require.NoError(t, tr.SetSpeed(1, 1))
	hear(tr, 1000)
	requireCount(t, 5000, hear(tr, 1000))
	for _, bad := range [][2]int{{0, 1}, {1, 0}, {-1, 1}, {9, 1}, {1, 9}} {
		require.Error(t, tr.SetSpeed(bad[0], bad[1]))
	}
}

func TestTransportGainDoesNotJump(t *testing.T) {
	song := &audio.PCM{Rate: 48000, Channels: 1, Samples: make([]int16, 48000)}
	for i := range song.Samples {
		song.Samples[i] = 16384
	}
	tr := audio.NewTransport(song, 48000)
	tr.Play()
	last := hear(tr, 100)[99]
	tr.SetGain(0.25)
	for _, v := range hear(tr, 1000) {
		require.InDelta(t, last, v, 0.002)
		last = v
	}
	require.InDelta(t, 0.125, last, 1e-9)
}

// onsets are the frames where silence ends, with that much silence before.
func onsets(samples []float64, silence int) (list []int) {
	quiet := silence
	for i, v := range samples {
		switch {
		case math.Abs(v) < 1e-4:
			quiet++
		case quiet >= silence:
			list = append(list, i-1) // a click's first sample is 0
			quiet = 0
		default:
			quiet = 0
		}
	}
	return list
}

func TestTransportClicksAreInTime(t *testing.T) {
	const songRate, rate = 44100, 48000
	silence := &audio.PCM{Rate: songRate, Channels: 1, Samples: make([]int16, songRate*4)}
	clicks := []audio.Click{{0, true, false}, {22050, false, false}, {44100, false, false}, {66150, false, false}, {88200, true, false}, {300000, false, false}}
	want := []int{0, 24000, 48000, 72000, 96000}
	for _, block := range []int{100, 777, 24000, 100000} {
		tr := audio.NewTransport(silence, rate)
		tr.SetClicks(clicks, 0.5)
		tr.Play()
		var out []float64
		for len(out) < 2*rate+5000 {
			out = append(out, hear(tr, block)...)
		}
		require.Equal(t, want, onsets(out, 2000)[:len(want)], "blocks of %d", block)
	}
}

func TestTransportClicksInALoopAndAtHalfSpeed(t *testing.T) {
	silence := &audio.PCM{Rate: 48000, Channels: 1, Samples: make([]int16, 48000)}
	tr := audio.NewTransport(silence, 48000)
	tr.SetClicks([]audio.Click{{1000, true, false}, {5000, false, false}, {9000, false, false}}, 1)
	tr.SetLoop(1000, 9000)
	tr.Seek(1000)
	tr.Play()
	require.Equal(t, []int{0, 4000, 8000, 12000, 16000}, onsets(hear(tr, 19000), 2000))
	require.NoError(t, tr.SetSpeed(1, 2))
	tr.Seek(4000)
	require.Equal(t, []int{2000, 10000, 18000}, onsets(hear(tr, 20000), 2000)[:3])
}

func TestTransportHeardThroughJumps(t *testing.T) {
	tr := audio.NewTransport(ramp(48000, 40000), 48000)
	hear(tr, 500) // stopped at 0
	tr.Play()
	hear(tr, 1000) // 500..1500: 0..1000
	tr.Seek(20000)
	hear(tr, 1000) // 1500..2500: 20000..21000
	tr.Stop()
	hear(tr, 1000) // 2500..3500: 21000
	require.NoError(t, tr.SetSpeed(1, 2))
	tr.Play()
	hear(tr, 1000) // 3500..4500: 21000..21500
	require.EqualValues(t, 4500, tr.Streamed())
	for at, want := range map[int64]int64{
		0: 0, 499: 0, 500: 0, 501: 1, 1499: 999, 1500: 20000, 2499: 20999, 2500: 21000, 3400: 21000, 3500: 21000, 3600: 21050, 4500: 21500,
	} {
		require.Equal(t, want, tr.Heard(at), "device frame %d", at)
	}
}

func TestTransportAllocatesNothing(t *testing.T) {
	song := &audio.PCM{Rate: 44100, Channels: 2, Samples: testsound.Noise(2*44100, 1)}
	tr := audio.NewTransport(song, 48000)
	tr.SetClicks([]audio.Click{{0, true, false}, {500, false, false}, {30000, false, false}}, 1)
	tr.SetLoop(0, 700)
	tr.Play()
	out := make([]byte, 2048*audio.DeviceFrame)
	dev := audio.NewDeviceReader(tr)
	require.Zero(t, testing.AllocsPerRun(100, func() {
		if n, err := dev.Read(out); n != len(out) || err != nil {
			panic("short read")
		}
	}))
}

// A count-in sounds its own clicks and nothing of the song, which begins to the sample where it ends; what is told as heard runs up to there,
// and a loop that goes round is not counted in again.
func TestTransportCountsIn(t *testing.T) {
	for _, tempo := range [][2]int{{1, 1}, {1, 2}, {3, 4}} {
		tr := audio.NewTransport(ramp(48000, 30000), 48000)
		require.NoError(t, tr.SetTempo(tempo[0], tempo[1]))
		tr.SetClicks([]audio.Click{{500, true, false}}, 0.5)
		tr.Begin(-3000, 3000, []audio.Click{{-3000, true, false}, {0, false, false}})
		n := 6000 * tempo[1] / tempo[0]
		out := hear(tr, n)
		require.Equal(t, []int{0, n / 2}, onsets(out, 1000), "%v: the counts, and no click of the song", tempo)
		require.Equal(t, 3000, tr.Position())
		require.EqualValues(t, 0, tr.Heard(int64(n/2)))
		require.EqualValues(t, 3000, tr.Heard(int64(n)))
		if tempo[0] == tempo[1] {
			requireCount(t, 3064, hear(tr, 2000)[64:])
		} else {
			require.NotZero(t, hear(tr, 2000)[1000])
		}
	}
	tr := audio.NewTransport(ramp(48000, 30000), 48000)
	tr.SetLoop(2000, 4000)
	tr.Begin(2500, 3000, nil)
	requireSilence(t, hear(tr, 500))
	requireCount(t, 3064, hear(tr, 1000)[64:])
	out := hear(tr, 2000)
	requireCount(t, 2300, out[300:])

	tr = audio.NewTransport(ramp(48000, 30000), 48000)
	tr.Begin(1000, 3000, nil)
	hear(tr, 500)
	tr.Stop()
	requireSilence(t, hear(tr, 500)) // nothing of the song fades out that was not heard
	tr.Play()
	requireCount(t, 1564, hear(tr, 500)[64:])
	tr.Begin(1000, 3000, nil)
	hear(tr, 500)
	require.NoError(t, tr.Seek(9000)) // past it: no count-in any more
	requireCount(t, 9300, hear(tr, 500)[300:])
}

// Where there is no recording clicks sound all the same, a cue's apart from those of beats, and the playhead comes to the end.
func TestTransportOfSilence(t *testing.T) {
	tr := audio.NewTransport(&audio.Silence{Rate: 48000, Length: 20000}, 48000)
	tr.SetClicks([]audio.Click{{1000, false, false}, {6000, false, true}}, 1)
	tr.Play()
	out := hear(tr, 12000)
	require.Equal(t, []int{1000, 6000}, onsets(out, 2000))
	rises := func(x []float64) (n int) { // times a second that it rises through 0
		for i := 1; i < len(x); i++ {
			if x[i-1] < 0 && x[i] >= 0 {
				n++
			}
		}
		return n * 100
	}
	require.InDelta(t, 1000, rises(out[1000:1480]), 150)
	require.InDelta(t, 2600, rises(out[6000:6480]), 150)
	require.True(t, tr.Playing())
	hear(tr, 12000)
	require.False(t, tr.Playing())
	require.Equal(t, 20000, tr.Position())
}

// Half and three-quarter speed make no garbage for any block, nor does a count-in.
func TestSlowSpeedsAllocateNothing(t *testing.T) {
	for _, tempo := range [][2]int{{1, 2}, {3, 4}} {
		song := &audio.PCM{Rate: 44100, Channels: 2, Samples: testsound.Noise(2*44100*4, 1)}
		tr := audio.NewTransport(song, 48000)
		require.NoError(t, tr.SetTempo(tempo[0], tempo[1]))
		tr.SetLoop(0, 44100)
		tr.SetClicks([]audio.Click{{0, true, false}, {500, false, true}}, 1)
		tr.Begin(-4410, 0, []audio.Click{{-4410, true, false}})
		out := make([]byte, 2048*audio.DeviceFrame)
		dev := audio.NewDeviceReader(tr)
		require.Zero(t, testing.AllocsPerRun(60, func() {
			if n, err := dev.Read(out); n != len(out) || err != nil {
				panic("short read")
			}
		}), "%v", tempo)
	}
}

func TestTransportUnderManyCommands(t *testing.T) {
	tr := audio.NewTransport(ramp(44100, 20000), 48000)
	var wg sync.WaitGroup
	stop := make(chan struct{})
	wg.Go(func() {
		for {
			select {
			case <-stop:
				return
			default:
				hear(tr, 300)
			}
		}
	})
	for i := range 500 {
		tr.Play()
		tr.Seek(i * 37)
		tr.SetLoop(int64(i), int64(i+i%50))
		tr.SetGain(float64(i%3) / 2)
		if i%50 == 0 {
			require.NoError(t, tr.SetSpeed(1+i%3, 2))
		}
		if i%7 == 0 {
			tr.Stop()
		}
		require.GreaterOrEqual(t, tr.Heard(tr.Streamed()), int64(0))
		require.GreaterOrEqual(t, tr.Position(), 0)
	}
	close(stop)
	wg.Wait()
	require.NoError(t, tr.Err())
}

func TestDeviceReader(t *testing.T) {
	dev := audio.NewDeviceReader(beep.Take(3, beep.StreamerFunc(func(samples [][2]float64) (int, bool) {
		for i := range samples {
			samples[i] = [2]float64{0.5, -7}
		}
		return len(samples), true
	})))
	b, err := io.ReadAll(dev)
	require.NoError(t, err)
	frame := testsound.Concat(testsound.U32(math.Float32bits(0.5)), testsound.U32(math.Float32bits(-1)))
	require.Equal(t, testsound.Concat(frame, frame, frame), b)
}

func TestTwoChannels(t *testing.T) {
	six := &audio.PCM{Rate: 48000, Channels: 6, Samples: []int16{
		10000, 0, 0, 0, 0, 0, // left
		0, 10000, 0, 0, 0, 0, // right
		0, 0, 10000, 0, 0, 0, // centre
		0, 0, 0, 10000, 0, 0, // low frequency effects
		0, 0, 0, 0, 10000, 0, // left surround
		0, 0, 0, 0, 0, 10000, // right surround
	}}
	require.Equal(t, []int16{10000, 0, 0, 10000, 7071, 7071, 0, 0, 7071, 0, 0, 7071}, six.TwoChannels().Samples)
	four := &audio.PCM{Channels: 4, Samples: []int16{0, 0, 10000, 0}}
	require.Equal(t, []int16{7071, 0}, four.TwoChannels().Samples)
	five := &audio.PCM{Channels: 5, Samples: []int16{0, 0, 0, 0, 10000}}
	require.Equal(t, []int16{0, 7071}, five.TwoChannels().Samples)
}

func BenchmarkTransport(b *testing.B) {
	for name, rate := range map[string]int{"plain": 48000, "resampled": 44100} {
		b.Run(name, func(b *testing.B) {
			tr := audio.NewTransport(&audio.PCM{Rate: rate, Channels: 2, Samples: testsound.Noise(rate*20, 1)}, 48000)
			tr.SetLoop(0, int64(rate*10))
			tr.Play()
			samples := make([][2]float64, 48000)
			b.ReportAllocs()
			for b.Loop() {
				tr.Stream(samples)
			}
			b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "xrealtime")
		})
	}
}
