package ltc

import (
	"fmt"
	"math"

	"emberbeat/timeline"
)

// leastFrames is the least number of frames, read in full, at which a channel
// holds timecode: what is taken for one word in music or noise does not come
// three times.
const leastFrames = 3

// Found is timecode on one channel of a recording.
type Found struct {
	Channel int // counted from 1
	Rate    timeline.Rate
	First   timeline.Timecode // the first label
	At      timeline.Time     // where its frame begins in the recording
	Reverse bool
}

// Start is the timecode at which the recording begins: whole frames before the
// first label. It gives none where the labels run backwards, or would begin
// before midnight.
func (f Found) Start() (timeline.Timecode, bool) {
	frame, err := f.Rate.Frame(f.First)
	if err != nil || f.Reverse {
		return timeline.Timecode{}, false
	}
	at := f.Rate.At(frame) - f.At
	if at < -f.Rate.At(1)/2 {
		return timeline.Timecode{}, false
	}
	tc, err := f.Rate.Timecode(max(f.Rate.Nearest(at), 0))
	return tc, err == nil
}

// String says what was found, in a sentence without its full stop.
func (f Found) String() string {
	label := f.First.String()
	if frame, err := f.Rate.Frame(f.First); err == nil {
		label = f.Rate.Label(frame)
	}
	return fmt.Sprintf("channel %d holds timecode at %s, from %s at %s: it is never played", f.Channel, f.Rate, label, f.At.Clock(3))
}

// Finder looks for timecode on every channel of a sound; its Write is a sink for
// interleaved frames.
type Finder struct {
	channels []listener
	rate     int
}

// listener looks for timecode on one channel, a block at a time. Music is most of
// what there is to look through, and reading it for words is slow: the reader
// hears silence instead of blocks that are nothing like timecode, and nothing like
// it before and after.
type listener struct {
	*Reader
	block, held []float32 // being filled; full, and waiting for the next one
	like, was   bool      // the held block is like timecode; the one before it was
}

// blocks is the number of blocks in a second.
const blocks = 10

// NewFinder looks through frames of some channels, rate of them a second.
func NewFinder(rate, channels int) *Finder {
	f := &Finder{rate: rate}
	size := max(rate/blocks, 1)
	for range channels {
		f.channels = append(f.channels, listener{Reader: NewReader(rate), block: make([]float32, 0, size), held: make([]float32, 0, size)})
	}
	return f
}

// Write takes the next whole frames, full scale ±1.
func (f *Finder) Write(frames []float32) error {
	for c := range f.channels {
		l := &f.channels[c]
		for i := c; i < len(frames); {
			from := len(l.block)
			l.block = l.block[:min(cap(l.block), from+(len(frames)-i+len(f.channels)-1)/len(f.channels))]
			for k := from; k < len(l.block); k++ {
				l.block[k] = frames[i]
				i += len(f.channels)
			}
			if len(l.block) == cap(l.block) {
				if err := l.next(alike(l.block)); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// next hands the held block on and holds the one that is full.
func (l *listener) next(like bool) error {
	var err error
	if !l.was && !l.like && !like {
		l.Reader.decoder.finder.silence(len(l.held))
	} else {
		err = l.Reader.Write(l.held)
	}
	l.was, l.like = l.like, like
	l.block, l.held = l.held[:0], l.block
	return err
}

// alike reports whether a block may be timecode: a signal that keeps going from
// one level to another is nearly always far from its middle. The mean distance
// from the middle is all of the effective value for a square, 0.90 of it for a
// sine, 0.80 for noise and less for most music (derived).
func alike(block []float32) bool {
	const least = 0.85
	var sum, square, far float64
	for _, v := range block {
		sum += float64(v)
	}
	middle := sum / float64(len(block))
	for _, v := range block {
		d := float64(v) - middle
		square += d * d
		far += math.Abs(d)
	}
	return square > 0 && far*far >= least*least*square*float64(len(block))
}

// Close gives the channels that hold timecode, in their order.
func (f *Finder) Close() (found []Found) {
	for c := range f.channels {
		l := &f.channels[c]
		like := len(l.block) > 0 && alike(l.block)
		_ = l.next(like) // the readers give no error
		_ = l.next(like)
		got := l.Reader.Close()
		if got.Frames < leastFrames {
			continue
		}
		first := got.First
		found = append(found, Found{Channel: c + 1, Rate: got.Rate, First: first.Label, Reverse: first.Reverse(),
			At: timeline.FromSeconds(min(first.Start, first.End) / float64(f.rate))})
	}
	return found
}

// Heard gives the channels of a recording that may be played, counted from 1: the
// wanted ones, or all where none are wanted, and never one that holds timecode.
func Heard(channels int, wanted []int, found []Found) (heard []int) {
	for c := 1; c <= channels; c++ {
		may := len(wanted) == 0
		for _, w := range wanted {
			may = may || w == c
		}
		for _, f := range found {
			may = may && f.Channel != c
		}
		if may {
			heard = append(heard, c)
		}
	}
	return heard
}
