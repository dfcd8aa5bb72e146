package ltc_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/audio/ltc"
	"emberbeat/timeline"
)

// borders are labels from which a few seconds cross a minute, ten minutes, an
// hour and midnight.
var borders = []string{"00:00:58:20", "00:09:58:20", "00:59:58:20", "23:59:58:20"}

// What a stripe holds is what is read: rate, labels, places.
func TestReadBack(t *testing.T) {
	for _, rate := range timeline.Rates() {
		for _, sampleRate := range []int{44100, 48000, 96000} {
			for _, from := range borders {
				first := label(t, rate, from)
				s := stripe(rate, sampleRate, first, 100)
				r := read(sampleRate, sound(t, s))
				require.Equal(t, rate, r.Rate, "%s at %d: %v fps", rate, sampleRate, r.FPS)
				require.EqualValues(t, 100, r.Frames, "%s %s", rate, from)
				require.Empty(t, r.Jumps)
				require.Zero(t, r.Spoiled)
				require.Equal(t, from, r.First.Label.String())
				last, _ := rate.Timecode((first + 99) % rate.DayFrames())
				require.Equal(t, last, r.Last.Label)
			}
		}
	}
}

// bend is a change of a sound that leaves its timecode readable.
type bend struct {
	name string
	do   func([]float32) []float32
	// place turns a place of the sound into one of the bent sound.
	place  func(place, length float64) float64
	offset bool // the middle is not at 0
	speed  bool // another speed than that of a rate
}

// tolerance is by how much a frame of someone else's stripe may lie elsewhere
// than its exact time: a sample of the sound before it was bent.
func (b *bend) tolerance() float64 {
	whole := max(1, math.Abs(b.place(1, 0)-b.place(0, 0)))
	if b.speed {
		return whole + 0.1 // drawing the samples anew takes its part
	}
	return whole + 1e-3
}

func same(place, _ float64) float64 { return place }

func each(f func(float32) float32) func([]float32) []float32 {
	return func(in []float32) []float32 {
		out := make([]float32, len(in))
		for i, v := range in {
			out[i] = f(v)
		}
		return out
	}
}

func bends() []bend {
	random := rand.New(rand.NewPCG(1, 2))
	faster := func(by float64) func([]float32) []float32 {
		return func(in []float32) []float32 {
			out := make([]float32, int(float64(len(in)-1)/by))
			for i := range out {
				at := float64(i) * by
				k := int(at)
				out[i] = in[k] + (in[k+1]-in[k])*float32(at-float64(k))
			}
			return out
		}
	}
	return []bend{
		{"as it is", each(func(v float32) float32 { return v }), same, false, false},
		{"18 dB down, so at −30 dB", each(func(v float32) float32 { return v * 0.1259 }), same, false, false},
		{"full scale", each(func(v float32) float32 { return v * 3.98 }), same, false, false},
		{"inverted", each(func(v float32) float32 { return -v }), same, false, false},
		{"1 % noise", each(func(v float32) float32 { return v + float32(random.NormFloat64())*0.01*0.25 }), same, false, false},
		{"with an offset", each(func(v float32) float32 { return v + 0.3 }), same, true, false},
		{"backwards", func(in []float32) []float32 { out := slices.Clone(in); slices.Reverse(out); return out },
			func(p, n float64) float64 { return n - 1 - p }, false, false},
		{"5 % faster", faster(1.05), func(p, _ float64) float64 { return p / 1.05 }, false, true},
		{"half speed", faster(0.5), func(p, _ float64) float64 { return p / 0.5 }, false, true},
		{"−30 dB, inverted, offset, noise", each(func(v float32) float32 { return -v*0.1259 + 0.1 + float32(random.NormFloat64())*0.000316 }), same, true, false},
	}
}

// Whatever happens to a stripe on its way, every frame is found, within a
// sample of its place.
func TestBentSounds(t *testing.T) {
	for _, rate := range timeline.Rates() {
		for _, sampleRate := range []int{44100, 48000} {
			s := stripe(rate, sampleRate, label(t, rate, "23:59:58:20"), 60)
			plain := sound(t, s)
			for _, b := range bends() {
				got := framesIn(sampleRate, b.do(plain))
				require.Len(t, got, 60, "%s, %s at %d", b.name, rate, sampleRate)
				for i, f := range got {
					k := int64(i)
					if f.Reverse() {
						k = 59 - k
					}
					want, _ := rate.Timecode((s.Runs[0].First + k) % rate.DayFrames())
					require.Equal(t, want, f.Label, b.name)
					exact := b.place(float64(s.FrameSample(s.Runs[0], k)), float64(len(plain)))
					require.InDelta(t, exact, f.Start, 1, "%s, %s at %d, frame %d", b.name, rate, sampleRate, k)
				}
			}
		}
	}
}

// A speed that wanders by a tenth twice a second loses no frame.
func TestWanderingSpeed(t *testing.T) {
	for _, rate := range timeline.Rates() {
		plain := sound(t, stripe(rate, 48000, label(t, rate, "00:09:58:20"), 100))
		var bent []float32
		for at := 0.0; at < float64(len(plain)-1); at += 1 + 0.1*math.Sin(float64(len(bent))/48000*4*math.Pi) {
			k := int(at)
			bent = append(bent, plain[k]+(plain[k+1]-plain[k])*float32(at-float64(k)))
		}
		r := read(48000, bent)
		require.EqualValues(t, 100, r.Frames, rate.String())
		require.Empty(t, r.Jumps)
		require.Equal(t, "00:09:58:20", r.First.Label.String())
		require.Equal(t, rate.Nominal(), r.Rate.Nominal())
	}
}

// A sound that begins or ends inside a frame gives the whole frames.
func TestCutInsideFrames(t *testing.T) {
	s := stripe(timeline.Rate25, 48000, 1000, 50)
	plain := sound(t, s)
	for _, cut := range []int{20, 333, 1000, 1919} {
		r := read(48000, plain[cut:len(plain)-500])
		require.EqualValues(t, 48, r.Frames, "cut at %d", cut)
		require.Empty(t, r.Jumps)
		first, _ := timeline.Rate25.Timecode(1001)
		require.Equal(t, first, r.First.Label)
	}
}

// In the samples themselves, the wave rises through its middle within a sample
// of the place where a frame starts.
func TestFramesStartOnTheirSamples(t *testing.T) {
	for _, rate := range timeline.Rates() {
		for _, sampleRate := range []int{22050, 44100, 48000, 96000} {
			s := stripe(rate, sampleRate, 100, 200)
			s.Bits = 24
			samples := sound(t, s)
			for i := int64(1); i <= 200; i++ { // the last is the end of the last frame
				at := s.FrameSample(s.Runs[0], i)
				require.Less(t, samples[at-1], float32(0), "%s at %d, frame %d", rate, sampleRate, i)
				require.Greater(t, samples[at+1], float32(0), "%s at %d, frame %d", rate, sampleRate, i)
			}
		}
	}
}

// The peaks have the asked-for level, and edges take 40 µs from 10 to 90
// percent (SMPTE ST 12-1: 40 ± 10).
func TestLevelAndRiseTime(t *testing.T) {
	s := stripe(timeline.Rate25, 384000, 0, 10)
	s.Bits = 24
	samples := sound(t, s)
	peak := float64(slices.Max(samples))
	require.InDelta(t, -12, 20*math.Log10(peak), 0.001)
	from, to := 0, 0
	start := s.FrameSample(s.Runs[0], 5)
	for i := start - 20; i < start+20; i++ {
		if v := float64(samples[i]); v < -0.8*peak {
			from = int(i)
		} else if v > 0.8*peak && to == 0 {
			to = int(i)
		}
	}
	require.InDelta(t, 40, float64(to-from)/384000*1e6, 5)
}

// Runs with silence between them, with labels that go on, leap and go back.
func TestJumps(t *testing.T) {
	second := timeline.Second
	s := stripe(timeline.Rate25, 48000, 0, 0)
	s.Runs = []ltc.Run{{At: 0, First: 1000, Frames: 25}, {At: 2 * second, First: 1050, Frames: 25}, {At: 4 * second, First: 500, Frames: 25}}
	r := read(48000, sound(t, s))
	require.EqualValues(t, 75, r.Frames)
	require.Len(t, r.Jumps, 2)
	require.EqualValues(t, 25, r.Jumps[0].Labels)
	require.InDelta(t, 96000, r.Jumps[0].At, 1)
	require.InDelta(t, 48000, r.Jumps[0].Gap, 2)
	require.EqualValues(t, 500-1074, r.Jumps[1].Labels)
	require.Equal(t, "00:00:42:24", r.Jumps[1].From.String())
	require.Equal(t, "00:00:20:00", r.Jumps[1].To.String())

	// Two stripes cut together: the sound goes on, the labels do not.
	a, b := sound(t, stripe(timeline.Rate25, 48000, 1000, 26)), sound(t, stripe(timeline.Rate25, 48000, 2000, 25))
	r = read(48000, append(a[:25*1920:25*1920], b...))
	require.EqualValues(t, 50, r.Frames)
	require.Len(t, r.Jumps, 1)
	require.EqualValues(t, 2000-1025, r.Jumps[0].Labels)
	require.Zero(t, r.Jumps[0].Gap)
}

// One frame with a wrong label is a spoiled frame, not two jumps.
func TestSpoiledFrame(t *testing.T) {
	good := sound(t, stripe(timeline.Rate25, 48000, 1000, 30))
	bad := sound(t, stripe(timeline.Rate25, 48000, 77777, 1))
	copy(good[10*1920:11*1920], bad[:1920])
	r := read(48000, good)
	require.EqualValues(t, 30, r.Frames)
	require.EqualValues(t, 1, r.Spoiled)
	require.Empty(t, r.Jumps)
}

// Sounds without timecode hold none.
func TestNoTimecode(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	noise, tone := make([]float32, 96000), make([]float32, 96000)
	for i := range noise {
		noise[i] = float32(random.Float64()*2 - 1)
		tone[i] = float32(math.Sin(float64(i) / 10))
	}
	for _, samples := range [][]float32{nil, {0}, {1}, make([]float32, 48000), noise, tone} {
		r := read(48000, samples)
		require.Zero(t, r.Frames)
		require.Equal(t, timeline.RateUnset, r.Rate)
		require.Empty(t, r.Jumps)
	}
}

// Frames of a day start at the sample nearest to their exact time: nothing
// adds up.
func TestNoDrift(t *testing.T) {
	for _, rate := range timeline.Rates() {
		for _, sampleRate := range []int{44100, 48000, 96000} {
			day := rate.DayFrames()
			late := ltc.Run{At: rate.At(day - 50), First: day - 50, Frames: 50}
			s := ltc.Stripe{Rate: rate, SampleRate: sampleRate, Bits: 16, Level: -12, Runs: []ltc.Run{{Frames: day}}}
			exact := (int64(rate.At(day-1))*int64(sampleRate)/1000 + timeline.TicksPerSecond/2000) / (timeline.TicksPerSecond / 1000)
			require.Equal(t, exact, s.FrameSample(s.Runs[0], day-1))
			require.Equal(t, exact, s.FrameSample(late, 49))
		}
	}
}

func TestStripesThatCannotBe(t *testing.T) {
	ok := stripe(timeline.Rate25, 48000, 0, 1)
	require.NoError(t, ok.Check())
	for want, change := range map[string]func(*ltc.Stripe){
		"frame rate":     func(s *ltc.Stripe) { s.Rate = timeline.RateUnset },
		"samples":        func(s *ltc.Stripe) { s.SampleRate = 8000 },
		"bits":           func(s *ltc.Stripe) { s.Bits = 8 },
		"level":          func(s *ltc.Stripe) { s.Level = 1 },
		"out of range":   func(s *ltc.Stripe) { s.Level = math.NaN() },
		"at least one":   func(s *ltc.Stripe) { s.Runs = nil },
		"has 0 frames":   func(s *ltc.Stripe) { s.Runs[0].Frames = 0 },
		"before 0.08":    func(s *ltc.Stripe) { s.Runs = append(s.Runs, ltc.Run{At: timeline.Second / 20, Frames: 1}) },
		"starts at -1.0": func(s *ltc.Stripe) { s.Runs[0].At = -timeline.Second },
	} {
		s := stripe(timeline.Rate25, 48000, 0, 1)
		change(&s)
		require.ErrorContains(t, s.Check(), want)
		_, err := s.WriteTo(nil)
		require.ErrorContains(t, err, want)
	}
}

// From the first frame to the last, over midnight, the wave has no step steeper
// than an edge and no interval that is neither half a bit nor a whole one: frames
// join without a seam.
func TestNoDiscontinuity(t *testing.T) {
	for _, rate := range timeline.Rates() {
		for _, sampleRate := range []int{44100, 48000, 96000} {
			s := stripe(rate, sampleRate, label(t, rate, "23:59:58:20"), 75)
			samples := sound(t, s)
			where := rate.String() + " at " + strconv.Itoa(sampleRate)
			peak := float64(slices.Max(samples))
			// An edge is half a cosine, 10 to 90 percent of it in ltc.RiseTime: derived.
			edge := ltc.RiseTime / (1 - 2*math.Acos(0.8)/math.Pi) * float64(sampleRate)
			steepest := 2 * peak * math.Min(1, math.Pi/2/edge)
			bit := float64(sampleRate) / fpsOf(rate) / 80
			last := math.NaN()
			end := float64(s.FrameSample(s.Runs[0], 75))
			for i := 1; i < len(samples); i++ {
				a, b := float64(samples[i-1]), float64(samples[i])
				if i < int(end) && math.Abs(b-a) > steepest*1.001+1.0/(1<<14) {
					t.Fatalf("%s: a step of %v at sample %d, an edge has %v", where, b-a, i, steepest)
				}
				if (a < 0) == (b < 0) {
					continue
				}
				at := float64(i-1) + a/(a-b)
				if long := at - last; !math.IsNaN(last) && at < end+1 {
					require.True(t, math.Abs(long-bit) < 1 || math.Abs(long-bit/2) < 1, "%s: %v samples before sample %d, a bit is %v", where, long, i, bit)
				}
				last = at
			}
		}
	}
}
