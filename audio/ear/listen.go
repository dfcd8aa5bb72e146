package ear

import (
	"context"
	"errors"
	"io"
	"math"
	"sync"

	"emberbeat/audio"
)

// chunkFrames is how much sound is in hand at once: short enough that a
// cancelled analysis stops well within a tenth of a second.
const chunkFrames = 16384

// maxRate is the highest rate worth analysing; above it the sound is decimated first.
const maxRate = 50000

// listener runs sound through all stages and gathers the features.
type listener struct {
	info   audio.Info
	factor int
	mix    mixer
	dec    *decimator
	low    []float32
	flux   *fluxStage
	env    *envelopeStage
	tone   *toneStage
	meter  *audio.Loudness
	out    *features
	frames int64
}

func newListener(info audio.Info) *listener {
	l := &listener{info: info, factor: 1, out: &features{}}
	for info.Rate/l.factor > maxRate {
		l.factor *= 2
	}
	rate := info.Rate / l.factor
	l.out.rate = info.Rate
	if l.factor > 1 {
		l.dec = newDecimator(l.factor, chunkFrames)
	}
	n := chunkFrames/l.factor + 1
	l.flux = newFluxStage(rate, n, l.out)
	l.env = newEnvelopeStage(rate, l.out)
	l.tone = newToneStage(rate, n, l.out)
	l.meter = audio.NewLoudness(info.Rate, info.Channels)
	return l
}

// listen reads src to its end. Decoding and mixing of the next chunk, the flux
// and the other stages run side by side; none reads what another writes, so
// the result does not depend on how they are scheduled.
func listen(ctx context.Context, src audio.Source, progress func(float64)) (*features, error) {
	info := src.Info()
	if info.Rate < 2000 || info.Channels < 1 {
		return nil, errors.New("sound at under 2000 samples a second cannot be analysed")
	}
	l := newListener(info)
	if s := float64(info.Frames) / float64(info.Rate); s > 0 && s < longestTrusted {
		l.out.reserve(s)
	}
	raw := [2][]float32{make([]float32, chunkFrames*info.Channels), make([]float32, chunkFrames*info.Channels)}
	mono := [2][]float32{make([]float32, chunkFrames), make([]float32, chunkFrames)}
	var wait sync.WaitGroup
	for turn := 0; ; turn ^= 1 {
		if err := ctx.Err(); err != nil {
			wait.Wait()
			return nil, err
		}
		n, err := fill(src, raw[turn], info.Channels)
		if err != nil {
			wait.Wait()
			return nil, err
		}
		if n == 0 {
			break
		}
		sound := raw[turn][:n*info.Channels]
		x := l.mono(sound, mono[turn])
		wait.Wait()
		wait.Add(2)
		go func() { defer wait.Done(); l.flux.feed(x) }()
		go func() { defer wait.Done(); l.env.feed(x); l.tone.feed(x); _ = l.meter.Write(sound) }()
		l.frames += int64(n)
		report(progress, float64(l.frames), float64(src.Info().Frames))
	}
	wait.Wait()
	l.flux.flush()
	l.tone.flush()
	l.out.duration = float64(l.frames) / float64(info.Rate)
	l.loudness()
	return l.out, nil
}

// loudness copies what the meter measured, silence as -70 LUFS.
func (l *listener) loudness() {
	real := func(v float64) float64 {
		if math.IsInf(v, 0) || math.IsNaN(v) {
			return quietest
		}
		return v
	}
	l.out.loud = Loudness{real(l.meter.Integrated()), real(l.meter.Range()), real(l.meter.Peak())}
	if l.out.loud.Range == quietest {
		l.out.loud.Range = 0
	}
	steps := l.meter.Steps()
	for i := range steps {
		end := min(i+15, steps-1) // the 3 s around the step, not before it
		v := l.meter.ShortTerm(end)
		if end < 29 {
			v = l.meter.Momentary(end)
		}
		l.out.short = append(l.out.short, float32(real(v)))
	}
}

const quietest = -70 // LUFS, the absolute gate of BS.1770

// longestTrusted is the length in seconds up to which a file's own word about
// its length is believed before it has been read.
const longestTrusted = 4 * 3600

// listenShare is the part of the whole work that listening makes up, for progress.
const listenShare = 0.9

func report(progress func(float64), done, total float64) {
	if progress != nil && total > 0 {
		progress(listenShare * min(1, done/total))
	}
}

// fill reads until raw is full or the sound ends.
func fill(src audio.Source, raw []float32, channels int) (int, error) {
	got := 0
	for got*channels < len(raw) {
		n, err := src.Read(raw[got*channels:])
		got += n
		if err == io.EOF {
			break
		}
		if err != nil {
			return got, err
		}
		if n == 0 {
			return got, io.ErrNoProgress
		}
	}
	return got, nil
}

// mono mixes a chunk down and, at high rates, decimates it.
func (l *listener) mono(raw, into []float32) []float32 {
	x := l.mix.down(raw, l.info.Channels, into)
	if l.dec == nil {
		return x
	}
	l.low = append(l.low[:0], x...)
	return l.dec.run(l.low, into[:0])
}

// mixer makes one channel of many. It is the plain mean, except that channels
// in opposite phase, which would cancel, are turned round: a channel joins with
// the sign of its correlation with the first one over the chunk, blended
// slowly so that no step is heard.
//
// A constant offset is taken out, so that its beginning is not heard as a hit.
type mixer struct {
	gain   []float32
	offset float32
	begun  bool
}

func (m *mixer) down(raw []float32, channels int, out []float32) []float32 {
	n := len(raw) / channels
	out = out[:n]
	if channels == 1 {
		copy(out, raw)
		m.level(out)
		return out
	}
	if m.gain == nil {
		m.gain = make([]float32, channels)
		for c := range m.gain {
			m.gain[c] = 1
		}
	}
	clear(out)
	for c := range channels {
		from, to := m.gain[c], m.target(raw, channels, c)
		m.gain[c] = to
		step := (to - from) / float32(n)
		g, k := from/float32(channels), 1/float32(channels)
		for i := range out {
			out[i] += g * raw[i*channels+c]
			g += step * k
		}
	}
	m.level(out)
	return out
}

// level subtracts the mean, which is followed slowly.
func (m *mixer) level(x []float32) {
	mean := float32(0)
	for _, v := range x {
		mean += v
	}
	mean /= float32(max(1, len(x)))
	if !m.begun {
		m.offset, m.begun = mean, true
	}
	to := m.offset + (mean-m.offset)*0.05
	step := (to - m.offset) / float32(max(1, len(x)))
	for i := range x {
		x[i] -= m.offset
		m.offset += step
	}
	m.offset = to
}

// target is the gain a channel should have by the end of the chunk.
func (m *mixer) target(raw []float32, channels, c int) float32 {
	if c == 0 {
		return 1
	}
	var aa, bb, ab float32
	for i := 0; i+c < len(raw); i += channels {
		a, b := raw[i], raw[i+c]
		aa, bb, ab = aa+a*a, bb+b*b, ab+a*b
	}
	if ab < 0 && ab*ab > 0.8*aa*bb {
		return -1
	}
	if ab > 0 && ab*ab > 0.1*aa*bb {
		return 1
	}
	return m.gain[c]
}
