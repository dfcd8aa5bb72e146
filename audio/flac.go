package audio

import (
	"bufio"
	"fmt"
	"io"

	"github.com/mewkiz/flac"
	"github.com/mewkiz/flac/frame"
)

// flacSource reads a FLAC stream.
type flacSource struct {
	info    Info
	stream  *flac.Stream
	bits    int // a sample, by the stream's header
	current *frame.Frame
	used    int // frames of current already given
	done    int64
}

// newFLAC opens the FLAC stream in r.
func newFLAC(r io.ReadSeeker, _ int64) (Source, error) {
	stream, err := flac.New(bufio.NewReaderSize(r, 1<<16))
	if err != nil {
		return nil, &FileError{What: fmt.Sprintf("is a damaged FLAC file (%v)", err), Want: wantAgain, Err: err}
	}
	h := stream.Info
	s := &flacSource{stream: stream, bits: int(h.BitsPerSample)}
	s.info = Info{Format: FLAC, Rate: int(h.SampleRate), Channels: int(h.NChannels), Frames: int64(h.NSamples)}
	if h.NSamples == 0 {
		s.info.Frames = -1
	}
	return s, checkShape(s.info.Channels, s.info.Rate)
}

func (s *flacSource) Info() Info { return s.info }

func (s *flacSource) Close() error { return nil }

func (s *flacSource) Read(dst []float32) (int, error) {
	want, n := len(dst)/s.info.Channels, 0
	for n < want {
		if s.current == nil && !s.next() {
			break
		}
		n += s.take(dst[n*s.info.Channels : want*s.info.Channels])
	}
	s.done += int64(n)
	if n == 0 && want > 0 {
		return 0, s.end()
	}
	return n, nil
}

// next decodes the next block. A block that cannot be decoded ends the sound
// there, with a warning.
func (s *flacSource) next() bool {
	f, err := s.stream.ParseNext()
	if err == nil && f.Channels.Count() != s.info.Channels {
		err = fmt.Errorf("the number of channels changes to %d", f.Channels.Count())
	}
	switch {
	case err == io.EOF:
		return false
	case err != nil:
		s.info.Warnings = append(s.info.Warnings, fmt.Sprintf("The file is cut short or damaged after %s: %v.", clock(s.done, s.info.Rate), err))
		return false
	}
	s.current, s.used = f, 0
	return true
}

// take converts what fits of the current block.
func (s *flacSource) take(dst []float32) int {
	bits := int(s.current.BitsPerSample)
	if bits == 0 {
		bits = s.bits
	}
	scale := 1 / float32(int64(1)<<(bits-1))
	channels := s.info.Channels
	n := min(len(dst)/channels, int(s.current.BlockSize)-s.used)
	for c, sub := range s.current.Subframes {
		for i, v := range sub.Samples[s.used : s.used+n] {
			dst[i*channels+c] = float32(v) * scale
		}
	}
	if s.used += n; s.used >= int(s.current.BlockSize) {
		s.current = nil
	}
	return n
}

// end settles the length at the end of the sound.
func (s *flacSource) end() error {
	if s.done == 0 {
		return wrong(wantAgain, "is a FLAC file from which no sound can be read%s", because(s.info.Warnings))
	}
	if s.info.Frames > s.done && len(s.info.Warnings) == 0 {
		s.info.Warnings = append(s.info.Warnings, fmt.Sprintf("The file is cut short: it announces %d frames and holds %d.", s.info.Frames, s.done))
	}
	s.info.Frames = s.done
	return io.EOF
}
