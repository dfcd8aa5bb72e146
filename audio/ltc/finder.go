package ltc

import (
	"fmt"

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
	readers []*Reader
	rate    int
	one     []float32
}

// NewFinder looks through frames of some channels, rate of them a second.
func NewFinder(rate, channels int) *Finder {
	f := &Finder{rate: rate}
	for range channels {
		f.readers = append(f.readers, NewReader(rate))
	}
	return f
}

// Write takes the next whole frames, full scale ±1.
func (f *Finder) Write(frames []float32) error {
	for c, r := range f.readers {
		f.one = f.one[:0]
		for i := c; i < len(frames); i += len(f.readers) {
			f.one = append(f.one, frames[i])
		}
		if err := r.Write(f.one); err != nil {
			return err
		}
	}
	return nil
}

// Close gives the channels that hold timecode, in their order.
func (f *Finder) Close() (found []Found) {
	for c, r := range f.readers {
		got := r.Close()
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
