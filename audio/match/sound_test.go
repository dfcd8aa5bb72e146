package match_test

import (
	"context"
	"io"
	"math"
	"math/rand/v2"
	"path/filepath"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/audio"
	"emberbeat/audio/match"
	"emberbeat/timeline"
	_ "emberbeat/timeline/testtool"
)

// sound is a recording in memory.
type sound struct {
	rate, channels int
	x              []float32
}

func (s sound) frames() int      { return len(s.x) / s.channels }
func (s sound) seconds() float64 { return float64(s.frames()) / float64(s.rate) }

// from gives the frames between two times.
func (s sound) from(a, b float64) sound {
	at := func(t float64) int { return min(s.frames(), int(math.Round(t*float64(s.rate)))) * s.channels }
	return sound{s.rate, s.channels, s.x[at(a):at(b)]}
}

// open is an Opener.
func (s sound) open() (audio.Source, error) { return &memory{sound: s}, nil }

type memory struct {
	sound
	at int
}

func (m *memory) Info() audio.Info {
	return audio.Info{Format: audio.WAV, Rate: m.rate, Channels: m.channels, Frames: int64(m.frames())}
}

func (m *memory) Read(dst []float32) (int, error) {
	n := copy(dst[:len(dst)/m.channels*m.channels], m.x[m.at:])
	if m.at += n; n == 0 {
		return 0, io.EOF
	}
	return n / m.channels, nil
}

func (m *memory) Close() error { return nil }

// songs are the recordings of the example, decoded once.
var songs = func() map[string]func() sound {
	all := map[string]func() sound{}
	for _, name := range []string{"kettle-lightning", "tidewater-engine"} {
		all[name] = sync.OnceValue(func() sound {
			src, err := audio.Open(filepath.Join("..", "..", "shows", "example", "show", "audio", name+".ogg"))
			if err != nil {
				panic(err)
			}
			defer src.Close()
			in := src.Info()
			s := sound{rate: in.Rate, channels: in.Channels}
			err = audio.Run(context.Background(), src, 0, func(frames []float32) error { s.x = append(s.x, frames...); return nil })
			if err != nil {
				panic(err)
			}
			return s
		})
	}
	return all
}()

func read(t testing.TB, s sound) *match.Side {
	t.Helper()
	side, err := match.Read(context.Background(), s.open, match.Options{})
	require.NoError(t, err)
	return side
}

func compared(t testing.TB, old, new sound) *timeline.TimeMap {
	t.Helper()
	m, err := match.Match(context.Background(), read(t, old), read(t, new))
	require.NoError(t, err)
	require.NoError(t, m.Check())
	return m
}

// joined puts pieces one after another, each faded into the next over 8 ms.
func joined(parts ...sound) sound {
	out := sound{parts[0].rate, parts[0].channels, append([]float32(nil), parts[0].x...)}
	for _, p := range parts[1:] {
		n := min(out.rate*4/1000, p.frames())
		from := len(out.x)
		out.x = append(out.x, p.x...)
		for i := range n * out.channels { // the new part comes up; what was before it has ended
			out.x[from+i] *= float32(math.Sin(math.Pi / 2 * float64(i/out.channels) / float64(n)))
		}
		for i := range n * out.channels {
			out.x[from-1-i] *= float32(math.Sin(math.Pi / 2 * float64(i/out.channels) / float64(n)))
		}
	}
	return out
}

// times is every sample multiplied.
func (s sound) times(gain float32) sound {
	out := sound{s.rate, s.channels, make([]float32, len(s.x))}
	for i, v := range s.x {
		out.x[i] = gain * v
	}
	return out
}

// noisy has white noise so many decibels under its own level.
func (s sound) noisy(under float64, seed uint64) sound {
	square := 0.0
	for _, v := range s.x {
		square += float64(v) * float64(v)
	}
	level := math.Sqrt(square/float64(len(s.x))) * math.Pow(10, -under/20)
	r := rand.New(rand.NewPCG(seed, 0))
	out := sound{s.rate, s.channels, make([]float32, len(s.x))}
	for i, v := range s.x {
		out.x[i] = v + float32(level*r.NormFloat64())
	}
	return out
}

// clipped is pushed against a ceiling, as a careless master is.
func (s sound) clipped(gain float32) sound {
	out := s.times(gain)
	for i, v := range out.x {
		out.x[i] = float32(math.Tanh(float64(v)))
	}
	return out
}

// mono is the mean of both channels.
func (s sound) mono() sound {
	out := sound{s.rate, 1, make([]float32, s.frames())}
	for i := range out.x {
		out.x[i] = (s.x[2*i] + s.x[2*i+1]) / 2
	}
	return out
}

const (
	sincHalf   = 16
	sincPlaces = 1024 // between two samples
)

// sincs are the weights of a windowed sinc for places between samples.
var sincs = func() (w [sincPlaces][2 * sincHalf]float32) {
	for p := range w {
		for i := range w[p] {
			x := float64(p)/sincPlaces - float64(i-sincHalf+1)
			v := 0.5 + 0.5*math.Cos(math.Pi*x/(sincHalf+1))
			if math.Abs(x) > 1e-9 {
				v *= math.Sin(math.Pi*x) / (math.Pi * x)
			}
			w[p][i] = float32(v)
		}
	}
	return w
}()

// at gives a channel between its samples.
func (s sound) at(channel int, place float64) float32 {
	whole := math.Floor(place)
	w := &sincs[int((place-whole)*sincPlaces)]
	sum := float32(0)
	for i, v := range w {
		if k := int(whole) - sincHalf + 1 + i; k >= 0 && k < s.frames() {
			sum += v * s.x[k*s.channels+channel]
		}
	}
	return sum
}

// played is the sound with so many of its samples a sample, at a rate.
func (s sound) played(step float64, rate int) sound {
	n := int(float64(s.frames()) / step)
	out := sound{rate, s.channels, make([]float32, n*s.channels)}
	for i := range n {
		for c := range s.channels {
			out.x[i*s.channels+c] = s.at(c, float64(i)*step)
		}
	}
	return out
}

// stretched keeps the pitch and plays so many old seconds in a new one: windows
// of 60 ms laid over each other where they go on best within 8 ms.
func (s sound) stretched(rate float64) sound {
	size, reach := s.rate*60/1000/2*2, s.rate*8/1000
	hop := size / 2
	n := int(float64(s.frames()) / rate)
	out := sound{s.rate, 1, make([]float32, n)}
	last := 0
	for at := 0; at+size < n; at += hop {
		best, place := math.Inf(-1), int(float64(at)*rate)
		if at > 0 {
			want := last + hop // where the window before goes on
			top := place
			for d := -reach; d <= reach; d += 8 {
				p := place + d
				if p < 0 || p+hop >= s.frames() || want+hop >= s.frames() {
					continue
				}
				sum, energy := 0.0, 1e-9
				for i := 0; i < hop; i += 4 {
					a, b := float64(s.x[p+i]), float64(s.x[want+i])
					sum, energy = sum+a*b, energy+a*a
				}
				if v := sum / math.Sqrt(energy); v > best {
					best, top = v, p
				}
			}
			place = top
		}
		for i := 0; i < size && place+i < s.frames(); i++ {
			w := float32(0.5 - 0.5*math.Cos(2*math.Pi*(float64(i)+0.5)/float64(size)))
			if at == 0 && i < hop {
				w = 1
			}
			out.x[at+i] += w * s.x[place+i]
		}
		last = place
	}
	return out
}
