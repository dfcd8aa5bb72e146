package ltc

import (
	"fmt"
	"io"
	"math"

	"emberbeat/timeline"
)

// Run is a stretch of consecutive frames.
type Run struct {
	At     timeline.Time // of the first frame's start, from the start of the sound
	First  int64         // frame from timecode midnight; labels go on over midnight
	Frames int64
}

// end is where the run's last frame ends.
func (r Run) end(rate timeline.Rate) timeline.Time { return r.At + rate.At(r.Frames) }

// Stripe is the sound of one or more runs of timecode, one channel, with
// silence between runs.
type Stripe struct {
	Rate       timeline.Rate
	SampleRate int     // samples a second, minSampleRate to maxSampleRate
	Bits       int     // 16 or 24 a sample
	Level      float64 // of the peaks, in dB below full scale, -60 to 0
	Runs       []Run   // by time, at least one frame of silence between two
}

// Limits of a stripe.
const (
	minSampleRate = 22050 // at 30 frames a half bit then has 4.6 samples
	maxSampleRate = 384000
	minLevel      = -60.0
	maxFrames     = 1000 * 24 * 3600 * 30
)

// RiseTime is how long an edge takes from 10 to 90 percent: SMPTE ST 12-1
// allows 40 ± 10 µs.
const RiseTime = 40e-6

// tailCells is the length of what follows a run: its last edge, and a fall that
// brings the wave back to where a run starts from.
const tailCells = 2

// Check returns an error unless the stripe can be written.
func (s *Stripe) Check() error {
	switch {
	case s.Rate.FrameTicks() == 0:
		return fmt.Errorf("a timecode stripe needs a frame rate")
	case s.SampleRate < minSampleRate || s.SampleRate > maxSampleRate:
		return fmt.Errorf("a timecode stripe at %d samples a second cannot be written: choose %d to %d, such as 44100, 48000 or 96000", s.SampleRate, minSampleRate, maxSampleRate)
	case s.Bits != 16 && s.Bits != 24:
		return fmt.Errorf("a timecode stripe of %d bits cannot be written: choose 16 or 24", s.Bits)
	case !(s.Level >= minLevel && s.Level <= 0):
		return fmt.Errorf("a level of %v dB is out of range: choose %v to 0 dB below full scale", s.Level, minLevel)
	case len(s.Runs) == 0:
		return fmt.Errorf("a timecode stripe needs at least one frame")
	}
	return s.checkRuns()
}

func (s *Stripe) checkRuns() error {
	var free timeline.Time
	for i, r := range s.Runs {
		if r.Frames < 1 || r.Frames > maxFrames || r.First < -maxFrames || r.First > maxFrames {
			return fmt.Errorf("run %d of the stripe has %d frames from frame %d: choose 1 to %d", i+1, r.Frames, r.First, int64(maxFrames))
		}
		if r.At < free {
			return fmt.Errorf("run %d of the stripe starts at %s s, before %s s", i+1, r.At, free)
		}
		free = r.end(s.Rate) + s.Rate.FrameTicks()
	}
	return nil
}

// Samples is the length of the sound: to the end of the last frame and its
// tail.
func (s *Stripe) Samples() int64 {
	last := s.Runs[len(s.Runs)-1]
	end := s.place(last.end(s.Rate))
	return (end+s.cells(tailCells))>>phaseBits + 1 + s.reach()
}

// FrameSample is the sample at which frame i of a run starts: the one nearest
// to its exact time, however long the run.
func (s *Stripe) FrameSample(r Run, i int64) int64 {
	return (r.At + s.Rate.At(i)).Samples(s.SampleRate)
}

// Places are counted in parts of a sample.
const (
	phaseBits = 8
	phases    = 1 << phaseBits
)

// place gives the nearest part of a sample to a time.
func (s *Stripe) place(t timeline.Time) int64 { return t.Samples(s.SampleRate * phases) }

// cells is the length of n bit cells in parts of a sample.
func (s *Stripe) cells(n int64) int64 {
	return (s.Rate.FrameTicks() * timeline.Time(n)).Samples(s.SampleRate*phases) / wordBits
}

// edgeTime is the whole length of an edge. Its shape is half a cosine, of which
// 10 to 90 percent are the middle 59 percent: acos(0.8)/π = 0.2048.
var edgeTime = RiseTime / (1 - 2*math.Acos(0.8)/math.Pi)

// reach is how many samples an edge can touch on either side of its middle.
func (s *Stripe) reach() int64 { return int64(edgeTime/2*float64(s.SampleRate)) + 1 }

// WriteTo writes the samples, little-endian and signed, as a WAV file holds
// them. It keeps a block in memory, however long the stripe.
func (s *Stripe) WriteTo(w io.Writer) (int64, error) {
	if err := s.Check(); err != nil {
		return 0, err
	}
	p := newPen(w, s)
	for i, r := range s.Runs {
		s.run(p, r, i > 0)
	}
	p.to(s.Samples())
	p.flush()
	return p.written, p.err
}

// run draws a run and its tail. Where there is silence before, the wave is low
// for a bit cell first, so that the first edge is a whole one.
func (s *Stripe) run(p *pen, r Run, after bool) {
	start := s.place(r.At)
	if cell := s.cells(1); after || start > cell*2 {
		p.edge(start-cell, silent, low)
	}
	day := s.Rate.DayFrames()
	for i := range r.Frames {
		tc, _ := s.Rate.Timecode(floorMod(r.First+i, day)) // within the day
		end := s.place(r.At + s.Rate.At(i+1))
		p.word(NewWord(s.Rate, tc), start, end-start)
		start = end
		if p.err != nil {
			return
		}
	}
	p.edge(start, low, high)
	p.edge(start+s.cells(1), high, low)
	p.edge(start+s.cells(tailCells), low, silent)
}

func floorMod(a, b int64) int64 { return (a%b + b) % b }
