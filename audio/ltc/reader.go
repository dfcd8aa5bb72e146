package ltc

import (
	"math"

	"emberbeat/timeline"
)

// Reading is what a sound says about its timecode.
type Reading struct {
	Rate   timeline.Rate // by labels, drop flag and measured speed; RateUnset without frames
	Drop   bool          // the drop-frame flag is set
	Frames int64         // read in full
	First  Frame         // first and last by their place in the sound
	Last   Frame
	FPS    float64 // frames a second as measured
	Level  float64 // mean amplitude, full scale 1
	Jumps  []Jump  // at most mostJumps
	Jumped int     // number of all jumps
	// Spoiled counts frames whose label is out of line while the labels before
	// and after it go on, and frames whose digits are no time of day.
	Spoiled int64
}

// Jump is a place where the labels, or the sound, do not go on.
type Jump struct {
	At       float64 // sample at which the frame after it begins
	From, To timeline.Timecode
	Labels   int64   // labels left out; negative where they go back
	Gap      float64 // samples without timecode
}

const mostJumps = 1000

// Reader reads the timecode of a sound from front to back.
type Reader struct {
	decoder    *Decoder
	sampleRate int
	r          Reading
	samples    float64 // of all frames
	levels     float64
	nominal    int
	drops      int64
	last       Frame
	odd        *Frame // out of line; the next one tells what it is
}

// NewReader reads sound of one channel.
func NewReader(sampleRate int) *Reader {
	r := &Reader{sampleRate: sampleRate}
	r.decoder = NewDecoder(sampleRate, r.frame)
	return r
}

// Write takes the next samples, full scale ±1.
func (r *Reader) Write(samples []float32) error { return r.decoder.Write(samples) }

// Close gives what was read.
func (r *Reader) Close() *Reading {
	_ = r.decoder.Close() // gives no error
	if r.odd != nil {
		r.settle()
	}
	if r.r.Frames == 0 {
		r.r.Spoiled = r.decoder.invalid
		return &r.r
	}
	n := float64(r.r.Frames)
	r.r.Last, r.r.Level, r.r.FPS = r.last, r.levels/n, n*float64(r.sampleRate)/r.samples
	r.r.Drop = 2*r.drops > r.r.Frames
	r.r.Rate = rateOf(r.nominal, r.r.Drop, r.r.FPS)
	r.r.Spoiled += r.decoder.invalid
	for i := range r.r.Jumps {
		r.r.Jumps[i].Labels = r.labelsBetween(r.r.Jumps[i])
	}
	return &r.r
}

// frame takes the next frame.
func (r *Reader) frame(f Frame) {
	r.r.Frames++
	r.samples += f.length()
	r.levels += f.Level
	if f.Word.Drop() {
		r.drops++
	}
	switch {
	case r.r.Frames == 1:
		r.r.First, r.last = f, f
		r.nominal = nearestNominal(float64(r.sampleRate) / f.length())
	case r.odd != nil:
		r.afterOdd(f)
	case r.adjoins(r.last, f) && r.follows(r.last, f):
		r.last = f
	case r.adjoins(r.last, f):
		odd := f
		r.odd = &odd
	default:
		r.jump(r.last, f)
		r.last = f
	}
}

// afterOdd tells whether the odd frame was spoiled or began something new.
func (r *Reader) afterOdd(f Frame) {
	between := r.last
	between.Label = r.step(r.last.Label, r.last.Reverse())
	if r.adjoins(*r.odd, f) && r.follows(between, f) {
		r.r.Spoiled++
		r.last, r.odd = f, nil
		return
	}
	r.settle()
	if !r.adjoins(r.last, f) || !r.follows(r.last, f) {
		r.jump(r.last, f)
	}
	r.last = f
}

// settle takes the odd frame for the start of something new.
func (r *Reader) settle() {
	r.jump(r.last, *r.odd)
	r.last, r.odd = *r.odd, nil
}

func (r *Reader) jump(a, b Frame) {
	r.r.Jumped++
	if len(r.r.Jumps) < mostJumps {
		gap := b.from() - a.to()
		if r.adjoins(a, b) {
			gap = 0
		}
		r.r.Jumps = append(r.r.Jumps, Jump{At: b.from(), From: a.Label, To: b.Label, Gap: gap})
	}
}

// adjoins reports whether b begins where a ends, to half a frame.
func (r *Reader) adjoins(a, b Frame) bool {
	return math.Abs(b.from()-a.to()) < (a.length()+b.length())/4
}

// follows reports whether b's label comes next after a's in the direction of
// play. Where the number of frames in a second, taken from the speed, does not
// fit, another one may: a stripe can be played at any speed.
func (r *Reader) follows(a, b Frame) bool {
	if a.Reverse() != b.Reverse() {
		return false
	}
	from, to := a.Label, b.Label
	if a.Reverse() {
		from, to = to, from
	}
	if r.after(from, r.nominal, b.Word.Drop()) == to {
		return true
	}
	for _, n := range []int{24, 25, 30} {
		if r.after(from, n, b.Word.Drop()) == to {
			r.nominal = n
			return true
		}
	}
	return false
}

// step is the label after one, or before it.
func (r *Reader) step(tc timeline.Timecode, back bool) timeline.Timecode {
	rate := rateOf(r.nominal, r.last.Word.Drop(), float64(r.nominal))
	frame, err := rate.Frame(tc)
	if err != nil {
		return tc
	}
	if back {
		frame -= 2
	}
	next, _ := rate.Timecode(floorMod(frame+1, rate.DayFrames())) // within the day
	return next
}

// after is the label that follows one at a number of frames a second.
func (r *Reader) after(tc timeline.Timecode, nominal int, drop bool) timeline.Timecode {
	if tc.F++; int(tc.F) < nominal {
		return tc
	}
	tc.F = 0
	if tc.S++; tc.S < 60 {
		return tc
	}
	tc.S = 0
	if tc.M++; tc.M == 60 {
		tc.M = 0
		tc.H = (tc.H + 1) % 24
	}
	if drop && tc.M%10 != 0 {
		tc.F = 2
	}
	return tc
}

// labelsBetween counts the labels that a jump leaves out, the shorter way
// round the day.
func (r *Reader) labelsBetween(j Jump) int64 {
	from, errFrom := r.r.Rate.Frame(j.From)
	to, errTo := r.r.Rate.Frame(j.To)
	if errFrom != nil || errTo != nil {
		return 0
	}
	day := r.r.Rate.DayFrames()
	n := floorMod(to-from+day/2, day) - day/2
	if n > 0 {
		n--
	}
	return n
}

// nearestNominal is the number of labels in a second that a speed is nearest
// to.
func nearestNominal(fps float64) int {
	switch {
	case fps < 24.5:
		return 24
	case fps < 27:
		return 25
	}
	return 30
}

// rateOf names a rate. Where the number of frames leaves two, the measured
// speed tells them apart.
func rateOf(nominal int, drop bool, fps float64) timeline.Rate {
	slow := fps < float64(nominal)*2000/2001
	switch {
	case nominal == 25:
		return timeline.Rate25
	case nominal == 24 && slow:
		return timeline.Rate23976
	case nominal == 24:
		return timeline.Rate24
	case drop:
		return timeline.Rate2997DF
	case slow:
		return timeline.Rate2997NDF
	}
	return timeline.Rate30
}
