package match

import (
	"context"
	"fmt"
	"math"

	"emberbeat/audio"
)

// Reader makes a Side of the frames of a recording as they come, for those who read it
// for something else as well; its Write is a sink for audio.Run.
type Reader struct {
	side     *Side
	rate     int
	channels int
	frames   int64
	mono     []float32
	to       *resampler
	thin     []*thinner
	out      []float32
	bands    *bander
	again    bool // what Alike asks was kept
	full     int  // samples that are kept before every third one is
}

// NewReader reads a recording that open opens again, where its sound was forgotten
// meanwhile. The error is an *audio.FileError without a path, for sound at under 2000
// samples a second.
func NewReader(in audio.Info, open Opener) (*Reader, error) {
	if in.Rate < 2000 || in.Channels < 1 {
		return nil, &audio.FileError{What: fmt.Sprintf("has %d samples a second", in.Rate), Want: "match recordings of 2000 or more"}
	}
	s := &Side{Rate: matchRate, Channels: in.Channels, Sampled: in.Rate, open: open}
	return &Reader{side: s, rate: in.Rate, channels: in.Channels, to: newResampler(in.Rate, matchRate), bands: newBander(), full: longestFull * matchRate}, nil
}

// read reads a recording to its end.
func (r *Reader) read(ctx context.Context, src audio.Source, progress func(done, total int64)) (*Side, error) {
	if err := audio.Run(ctx, src, 0, r.Write, audio.Progress(src, progress)); err != nil {
		return nil, err
	}
	return r.Finish(), nil
}

// Write takes the next whole frames, full scale ±1.
func (r *Reader) Write(frames []float32) error {
	n := len(frames) / r.channels
	r.frames += int64(n)
	r.mono = mix(frames, r.channels, r.mono[:0])
	r.out = r.to.run(r.mono, r.out[:0])
	r.keep(r.out)
	return nil
}

// keep takes samples at matchRate.
func (r *Reader) keep(x []float32) {
	r.bands.feed(x)
	for _, h := range r.thin {
		x = h.run(x)
	}
	s := r.side
	s.Mono = append(s.Mono, x...)
	if len(s.Mono) > r.full {
		h := &thinner{}
		whole := s.Mono
		s.Mono = whole[:0] // what is written is behind what is read
		for len(whole) > 0 {
			n := min(len(whole), 1<<16)
			part := h.run(whole[:n])
			whole = whole[n:]
			s.Mono = append(s.Mono, part...)
		}
		r.thin = append(r.thin, h)
		s.Rate /= thinBy
	}
}

// Finish takes what the filters still hold, and gives what was read.
func (r *Reader) Finish() *Side {
	r.keep(r.to.rest(r.out[:0]))
	s := r.side
	r.bands.flush()
	s.bands = r.bands.out
	if !r.again {
		s.marks = marksOf(s.bands)
		s.chroma = chromaOf(s.bands)
	}
	s.Duration = float64(r.frames) / float64(r.rate)
	want := int(math.Ceil(s.Duration * float64(s.Rate)))
	for len(s.Mono) < want { // the end of the filters
		s.Mono = append(s.Mono, 0)
	}
	s.Mono = s.Mono[:want]
	return s
}

// lean is how much more the left channel counts than the right one. With the
// plain mean, sides in opposite phase would leave silence.
const lean = 0.2

// mix makes one channel of many.
func mix(frames []float32, channels int, out []float32) []float32 {
	switch channels {
	case 1:
		return append(out, frames...)
	case 2:
		for i := 0; i+1 < len(frames); i += 2 {
			out = append(out, (0.5+lean/2)*frames[i]+(0.5-lean/2)*frames[i+1])
		}
		return out
	}
	k := 1 / float32(channels)
	for i := 0; i+channels <= len(frames); i += channels {
		var sum float32
		for c, v := range frames[i : i+channels] {
			sum += v * (1 - lean*float32(c)*k)
		}
		out = append(out, sum*k)
	}
	return out
}

// resampler changes the rate of sound that comes in blocks by a windowed sinc.
// Its delay is taken out: sample k of what comes out is at k/to seconds.
type resampler struct {
	num, den int64 // input samples per output sample, as a fraction in lowest terms
	half     int64 // input samples that count on either side
	phases   [][]float32
	buf      []float32
	first    int64 // index of buf[0] in the input
	at       int64 // index of the next output
}

const (
	zeroes    = 12   // of the sinc on either side
	passed    = 0.92 // of the lower of both half rates
	maxPhases = 4096 // beyond, the nearest is taken: it is less than 1/4096 of a sample off
)

func newResampler(from, to int) *resampler {
	g := gcd(int64(from), int64(to))
	r := &resampler{num: int64(from) / g, den: int64(to) / g}
	squeeze := min(1, float64(to)/float64(from))
	r.half = int64(math.Ceil(zeroes / squeeze))
	n := min(r.den, maxPhases)
	for p := range n {
		w := make([]float32, 2*r.half)
		sum := 0.0
		for i := range w {
			x := float64(int64(i)-r.half+1) - float64(p)/float64(n)
			v := 0.5 + 0.5*math.Cos(math.Pi*min(1, max(-1, x/float64(r.half))))
			if a := math.Pi * x * passed * squeeze; math.Abs(a) > 1e-9 {
				v *= math.Sin(a) / a
			}
			w[i], sum = float32(v), sum+v
		}
		for i := range w {
			w[i] /= float32(sum)
		}
		r.phases = append(r.phases, w)
	}
	r.buf = make([]float32, r.half-1) // silence before the beginning
	r.first = 1 - r.half
	return r
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// run takes x and appends to out what can be made by now.
func (r *resampler) run(x, out []float32) []float32 {
	r.buf = append(r.buf, x...)
	for {
		place := r.at * r.num / r.den
		from := place - r.half + 1 - r.first
		if from+2*r.half > int64(len(r.buf)) {
			drop := min(max(from, 0), int64(len(r.buf)))
			r.buf = r.buf[:copy(r.buf, r.buf[drop:])]
			r.first += drop
			return out
		}
		part := r.at * r.num % r.den * int64(len(r.phases)) / r.den
		w, in := r.phases[part], r.buf[from:from+2*r.half]
		if r.den == 1 { // the one phase is the same on both sides of its middle, and nothing at its end
			out = append(out, folded(in[:r.half], in[r.half-1:], w[r.half-1:]))
			r.at++
			continue
		}
		var a, b, c, d float32
		i := 0
		for ; i+4 <= len(in) && i+4 <= len(w); i += 4 {
			a += in[i] * w[i]
			b += in[i+1] * w[i+1]
			c += in[i+2] * w[i+2]
			d += in[i+3] * w[i+3]
		}
		for ; i < len(in); i++ {
			a += in[i] * w[i]
		}
		out = append(out, a+b+c+d)
		r.at++
	}
}

// folded sums samples before and after a middle, the last of before and the first of
// after, under weights that are the same on both sides of it.
func folded(before, after, w []float32) float32 {
	sum := after[0] * w[0]
	n := len(before) - 1 // beside the middle
	before, after, w = before[:n], after[1:n+1], w[1:n+1]
	var a, b, c float32
	i, j := 0, n-1
	for ; i+3 <= n; i, j = i+3, j-3 {
		a += (before[j] + after[i]) * w[i]
		b += (before[j-1] + after[i+1]) * w[i+1]
		c += (before[j-2] + after[i+2]) * w[i+2]
	}
	for ; i < n; i, j = i+1, j-1 {
		sum += (before[j] + after[i]) * w[i]
	}
	return sum + a + b + c
}

// rest appends to out what silence after the end lets through.
func (r *resampler) rest(out []float32) []float32 {
	return r.run(make([]float32, 2*r.half), out)
}

// thinner leaves every third sample of sound that comes in blocks, behind a low
// pass whose delay is taken out. Thirds of matchRate are whole numbers; halves are not.
type thinner struct {
	buf, out []float32
}

const (
	thinBy   = 3
	thinHalf = 24 // samples that count on either side
)

// thinTaps is a windowed sinc at the third of the half rate.
var thinTaps = func() (w [2*thinHalf + 1]float32) {
	sum := 0.0
	for i := range w {
		x := float64(i - thinHalf)
		v := 0.5 + 0.5*math.Cos(math.Pi*x/(thinHalf+1))
		if a := math.Pi * x * passed / thinBy; a != 0 {
			v *= math.Sin(a) / a
		}
		w[i], sum = float32(v), sum+v
	}
	for i := range w {
		w[i] /= float32(sum)
	}
	return w
}()

// run gives what can be made by now; it is good until the next call.
func (h *thinner) run(x []float32) []float32 {
	if h.buf == nil {
		h.buf = make([]float32, thinHalf) // silence before the beginning
	}
	h.buf = append(h.buf, x...)
	h.out = h.out[:0]
	at := 0
	for ; at+len(thinTaps) <= len(h.buf); at += thinBy {
		var sum float32
		in := h.buf[at : at+len(thinTaps)]
		for i, w := range &thinTaps {
			sum += w * in[i]
		}
		h.out = append(h.out, sum)
	}
	h.buf = h.buf[:copy(h.buf, h.buf[min(at, len(h.buf)):])]
	return h.out
}
