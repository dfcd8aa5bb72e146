package stripe

import (
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"

	"emberbeat/shows/report"
	"emberbeat/timeline"
)

// Ticks is a rehearsal track: a click on every hit, the instant at which the
// audience sees the effect. Times of commands are never in it, and timecode is
// never in the same file: nothing can be driven by it.
type Ticks struct {
	o       StripeOptions
	hits    []timeline.Time // from the start of the file, rising
	length  timeline.Time
	Count   int
	Outside int // hits before the audio, which the file cannot hold
}

// NewTicks gives the clicks of the songs and bars that the filter shows. The
// file starts with the audio of the first song; the pre-roll of the options is
// not used.
func NewTicks(p *timeline.Plan, f report.Filter, o StripeOptions) (*Ticks, error) {
	t := &Ticks{o: o}
	if err := t.check(); err != nil {
		return nil, err
	}
	var origin timeline.Time
	first := true
	for i := range p.Songs {
		ps := &p.Songs[i]
		if !f.Shows(ps.Song.ID) {
			continue
		}
		if first {
			origin, first = ps.At, false
		}
		t.add(ps, f, ps.At-origin)
	}
	if first {
		return nil, errors.New("there is no song to write ticks for")
	}
	slices.Sort(t.hits)
	t.hits = slices.Compact(t.hits)
	t.Count = len(t.hits)
	return t, nil
}

func (t *Ticks) check() error {
	switch {
	case t.o.SampleRate < 8000 || t.o.SampleRate > 384000:
		return fmt.Errorf("ticks at %d samples a second cannot be written: choose 8000 to 384000", t.o.SampleRate)
	case t.o.Bits != 16 && t.o.Bits != 24:
		return fmt.Errorf("ticks of %d bits cannot be written: choose 16 or 24", t.o.Bits)
	case !(t.o.Level >= -60 && t.o.Level <= 0):
		return fmt.Errorf("a level of %v dB is out of range: choose -60 to 0 dB below full scale", t.o.Level)
	}
	return nil
}

func (t *Ticks) add(ps *timeline.PlanSong, f report.Filter, at timeline.Time) {
	for _, hit := range ps.Hits() {
		switch {
		case !f.ShowsAt(ps.Song, hit):
		case at+hit < 0:
			t.Outside++
		default:
			t.hits = append(t.hits, at+hit)
			t.length = max(t.length, at+hit+timeline.Second)
		}
	}
	t.length = max(t.length, at+ps.Duration)
}

// The click: a sine that dies away.
const (
	tickHz     = 1800
	tickLength = 0.02 // seconds
)

// tick gives the samples of a click.
func (t *Ticks) tick() []float64 {
	list := make([]float64, int(tickLength*float64(t.o.SampleRate)))
	peak := math.Pow(10, t.o.Level/20)
	for i := range list {
		s := float64(i) / float64(t.o.SampleRate)
		list[i] = peak * math.Cos(2*math.Pi*tickHz*s) * math.Exp(-6*s/tickLength)
	}
	return list
}

// WriteWAV writes the ticks as a WAV file of one channel. A click starts on the
// sample nearest to its hit; one that starts before the last has died away
// takes its place.
func (t *Ticks) WriteWAV(w io.Writer) error {
	n := t.length.Samples(t.o.SampleRate)
	if _, err := w.Write(waveHead(n, t.o.SampleRate, t.o.Bits)); err != nil {
		return err
	}
	sound, age, next := t.tick(), math.MaxInt, 0
	buf := make([]byte, 0, 1<<16)
	for i := int64(0); i < n; i++ {
		for next < len(t.hits) && t.hits[next].Samples(t.o.SampleRate) <= i {
			next, age = next+1, 0
		}
		var v float64
		if age < len(sound) {
			v = sound[age]
			age++
		}
		if buf = t.appendSample(buf, v); len(buf) >= cap(buf)-4 {
			if _, err := w.Write(buf); err != nil {
				return err
			}
			buf = buf[:0]
		}
	}
	_, err := w.Write(append(buf, wavePad(n, t.o.Bits)...))
	return err
}

func (t *Ticks) appendSample(b []byte, v float64) []byte {
	s := int32(math.Round(v * float64(int64(1)<<(t.o.Bits-1)-1)))
	b = binary.LittleEndian.AppendUint16(b, uint16(s))
	if t.o.Bits == 24 {
		b = append(b, byte(s>>16))
	}
	return b
}
