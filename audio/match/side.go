package match

import (
	"context"
	"sync"

	"emberbeat/audio"
)

// matchRate is the rate at which waveforms are compared, in samples a second:
// what lies under 5 kHz tells where a sound is to far below a millisecond.
const matchRate = 11025

// longestFull is how much of a recording, in seconds, is kept at matchRate; of
// a longer one every third sample, and so on, so that hours fit into memory.
const longestFull = 1800

// Side is one of two recordings as it was read for matching.
type Side struct {
	Rate     int       // of Mono, samples a second
	Mono     []float32 // one channel, the whole recording
	Duration float64   // s
	Channels int       // of the recording
	Sampled  int       // samples a second of the recording

	open   Opener
	bands  []uint8 // bandCount values a frame
	marks  []mark
	chroma []float32 // pitches values a frame
	once   sync.Once
	index  *index // of the marks; nil until it is asked
}

// Opener opens a recording at its beginning, each time anew.
type Opener func() (audio.Source, error)

// Options steer the reading of a Side. The zero value hears every channel.
type Options struct {
	// Progress, if not nil, hears now and then how much has been read, in frames.
	Progress func(done, total int64)
}

// Read reads a recording to its end and keeps what matching needs of it. It
// stops with ctx.Err() soon after ctx ends; other errors are those of open and
// of reading, and an *audio.FileError without a path for sound at under 2000 samples a second.
func Read(ctx context.Context, open Opener, o Options) (*Side, error) {
	src, err := open()
	if err != nil {
		return nil, err
	}
	defer src.Close()
	r, err := NewReader(src.Info(), open)
	if err != nil {
		return nil, err
	}
	return r.read(ctx, src, o.Progress)
}

// Compact forgets the sound and its spectrum and keeps what Alike asks, half a megabyte
// for a song; Match reads the recording again.
func (s *Side) Compact() { s.Mono, s.bands = nil, nil }

// whole reads the sound again that was forgotten.
func (s *Side) whole(ctx context.Context) error {
	src, err := s.open()
	if err != nil {
		return err
	}
	defer src.Close()
	r, err := NewReader(src.Info(), s.open)
	if err != nil {
		return err
	}
	r.again = true
	again, err := r.read(ctx, src, nil)
	if err != nil {
		return err
	}
	s.Rate, s.Mono, s.bands = again.Rate, again.Mono, again.bands
	return nil
}
