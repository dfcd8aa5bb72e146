package ear_test

import (
	"context"
	"io"
	"math"
	"math/rand/v2"
	"sort"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/audio"
	"emberbeat/audio/ear"
)

// sound is a Source in memory.
type sound struct {
	rate, channels int
	x              []float32
	at             int
}

func (s *sound) Info() audio.Info {
	return audio.Info{Format: audio.WAV, Rate: s.rate, Channels: s.channels, Frames: int64(len(s.x) / s.channels)}
}

func (s *sound) Read(dst []float32) (int, error) {
	if s.at >= len(s.x) {
		return 0, io.EOF
	}
	n := copy(dst[:len(dst)/s.channels*s.channels], s.x[s.at:])
	s.at += n
	return n / s.channels, nil
}

func (s *sound) Close() error { return nil }

// band is a drummer and a bass player made of sines and noise, whose every
// note begins at a known sample.
type band struct {
	rate int
	x    []float32
	rnd  *rand.Rand
}

func newBand(rate int, seconds float64) *band {
	return &band{rate: rate, x: make([]float32, int(seconds*float64(rate))), rnd: rand.New(rand.NewPCG(7, 7))}
}

// tone adds shape(t) for length seconds from at on.
func (b *band) tone(at, length float64, shape func(t float64) float64) {
	from := int(math.Round(at * float64(b.rate)))
	for i := range int(length * float64(b.rate)) {
		if j := from + i; j >= 0 && j < len(b.x) {
			t := float64(i) / float64(b.rate)
			fade := math.Min(1, (length-t)/0.03) // a note that is cut off would click
			b.x[j] += float32(shape(t) * fade)
		}
	}
}

func (b *band) kick(at, gain float64) {
	b.tone(at, 0.25, func(t float64) float64 {
		return gain * 0.8 * math.Exp(-t/0.06) * math.Sin(2*math.Pi*(50*t+3*(1-math.Exp(-t/0.02)))+0.7)
	})
}

func (b *band) snare(at, gain float64) {
	b.tone(at, 0.25, func(t float64) float64 {
		return gain * (0.35*math.Exp(-t/0.05)*b.rnd.NormFloat64()*0.7 + 0.3*math.Exp(-t/0.08)*math.Sin(2*math.Pi*190*t+0.5))
	})
}

func (b *band) hat(at, gain float64) {
	last := 0.0
	b.tone(at, 0.08, func(t float64) float64 {
		n := b.rnd.NormFloat64()
		v := n - last // leans to the high end
		last = n
		return gain * 0.12 * math.Exp(-t/0.02) * v
	})
}

func (b *band) crash(at, gain float64) {
	last := 0.0
	b.tone(at, 1.5, func(t float64) float64 {
		n := b.rnd.NormFloat64()
		v := n - last
		last = n
		return gain * 0.2 * math.Exp(-t/0.7) * v
	})
}

// note plays a plucked tone with overtones.
func (b *band) note(at, length, hz, gain float64) {
	b.tone(at, length, func(t float64) float64 {
		v := 0.0
		for h := 1.0; h <= 5; h++ {
			v += math.Sin(2*math.Pi*hz*h*t) / h
		}
		return gain * 0.2 * v * math.Exp(-t/0.4) * math.Min(1, math.Min(t/0.003, (length-t)/0.01))
	})
}

func (b *band) source() *sound { return &sound{rate: b.rate, channels: 1, x: b.x} }

// groove is a pattern of a bar: one letter a step, k kick, s snare, h hat, b
// kick and hat, x snare and hat, . nothing.
type groove struct {
	bar   string
	beats int // felt beats in the bar
}

var roots = []float64{55, 41.2, 65.4, 49}

// play repeats a groove over beats at the times given by at (beat number to
// seconds), with a root note on every bar and a chord above it.
func (b *band) play(g groove, bars int, at func(beat float64) float64) (beats, downs []float64) {
	steps := float64(len(g.bar))
	for bar := range bars {
		start := float64(bar * g.beats)
		for i, c := range g.bar {
			t := at(start + float64(i)*float64(g.beats)/steps)
			switch c {
			case 'k', 'b':
				b.kick(t, 1)
			case 's', 'x':
				b.snare(t, 1)
			}
			if c == 'h' || c == 'b' || c == 'x' {
				b.hat(t, 1)
			}
		}
		if bar%8 == 0 {
			b.crash(at(start), 1)
		}
		root, long := roots[bar%4], at(start+float64(g.beats))-at(start)
		b.note(at(start), long, root, 1)
		for _, r := range []float64{4, 5, 6} {
			b.note(at(start), long, root*r, 0.35)
		}
		for k := range g.beats {
			beats = append(beats, at(start+float64(k)))
		}
		downs = append(downs, at(start))
	}
	return beats, downs
}

func steady(bpm, offset float64) func(float64) float64 {
	return func(beat float64) float64 { return offset + beat*60/bpm }
}

func hear(t testing.TB, s *sound, o ear.Options) *ear.Analysis {
	a, err := ear.Analyse(context.Background(), s, o)
	require.NoError(t, err)
	wellFormed(t, a)
	return a
}

// wellFormed holds for every Analysis whatever was heard.
func wellFormed(t testing.TB, a *ear.Analysis) {
	require.True(t, sort.Float64sAreSorted(a.Beats), "beats in order")
	require.True(t, sort.Float64sAreSorted(a.Onsets), "onsets in order")
	require.Subset(t, a.Beats, a.Downbeats)
	require.Len(t, a.Hits, len(a.Onsets))
	for _, v := range [][]float64{a.Beats, a.Onsets} {
		for _, x := range v {
			require.True(t, x >= 0 && x <= a.Duration+0.01, "%v within the song", x)
		}
	}
	for _, c := range []float64{a.Confidence.Tempo, a.Confidence.Beats, a.Confidence.Downbeats} {
		require.True(t, c >= 0 && c <= 1, "confidence %v", c)
	}
	for i, p := range a.Parts {
		require.Less(t, p.From, p.To)
		if i > 0 {
			require.InDelta(t, a.Parts[i-1].To, p.From, 1e-6)
		}
	}
	_, err := a.BeatMap()
	require.NoError(t, err)
}

// fMeasure is 2PR/(P+R) of one-to-one matches within a window.
func fMeasure(ref, est []float64, window float64) float64 {
	i, j, n := 0, 0, 0
	for i < len(ref) && j < len(est) {
		switch d := ref[i] - est[j]; {
		case math.Abs(d) <= window:
			n, i, j = n+1, i+1, j+1
		case d < 0:
			i++
		default:
			j++
		}
	}
	if n == 0 {
		return 0
	}
	return 2 * float64(n) / float64(len(ref)+len(est))
}

// errorsOf lists est-ref for each ref with an est within 50 ms.
func errorsOf(ref, est []float64) []float64 {
	var out []float64
	for _, r := range ref {
		best := 1.0
		for _, e := range est {
			if math.Abs(e-r) < math.Abs(best) {
				best = e - r
			}
		}
		if math.Abs(best) < 0.05 {
			out = append(out, best)
		}
	}
	sort.Float64s(out)
	return out
}
