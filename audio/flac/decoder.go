package flac

import (
	"io"

	"emberbeat/audio/bits"
)

// Decoder reads a FLAC stream (RFC 9639).
//
// github.com/mewkiz/flac 1.0.14 was to do this. It writes a line to the log for
// every block at 24 and 176.4 kHz, refuses 32 bit samples, stops at the first
// damaged block, and allocates 86 MB for four minutes.
type Decoder struct {
	stream   stream
	frames   int64 // in all, -1 while unknown
	warnings bits.Warnings
	in       bits.Window
	block    block
	used     int   // frames of block already given
	silence  int64 // frames of silence to give before block
	done     int64 // frames given
	over     bool
}

// New opens the FLAC stream in r.
func New(r io.Reader) (*Decoder, error) {
	s := &Decoder{in: bits.NewWindow(r)}
	if err := s.stream.read(&s.in); err != nil {
		return nil, err
	}
	if s.frames = s.stream.frames; s.frames == 0 {
		s.frames = -1
	}
	return s, nil
}

// Rate is the number of frames a second.
func (s *Decoder) Rate() int { return s.stream.rate }

// Channels is the number of samples a frame.
func (s *Decoder) Channels() int { return s.stream.channels }

// Frames is the number of frames that Read gives in all, -1 while unknown.
func (s *Decoder) Frames() int64 { return s.frames }

// Warnings says in sentences what is wrong with the file and was read around.
// It can grow while reading.
func (s *Decoder) Warnings() []string { return s.warnings }

// Read fills dst with interleaved samples, full scale ±1, and gives the number
// of whole frames; io.EOF comes alone.
func (s *Decoder) Read(dst []float32) (int, error) {
	channels := s.stream.channels
	want, n := len(dst)/channels, 0
	for n < want {
		rest := dst[n*channels : want*channels]
		if s.silence > 0 {
			n += s.giveSilence(rest)
			continue
		}
		if s.used < s.block.frames {
			got := s.block.take(rest, s.used)
			s.used += got
			n += got
			continue
		}
		if s.over {
			break
		}
		if err := s.next(s.done + int64(n)); err != nil {
			return n, err
		}
	}
	s.done += int64(n)
	if n == 0 && want > 0 {
		return 0, s.end()
	}
	return n, nil
}

// giveSilence gives some of the silence that stands for lost blocks.
func (s *Decoder) giveSilence(dst []float32) int {
	n := int(min(s.silence, int64(len(dst)/s.stream.channels)))
	clear(dst[:n*s.stream.channels])
	s.silence -= int64(n)
	return n
}

// next decodes the next block, where done frames have been given. Blocks that
// are lost are replaced by as much silence: what follows keeps its time.
func (s *Decoder) next(done int64) error {
	lost := false
	s.used, s.block.frames = 0, 0
	for {
		err := s.block.decode(&s.in, &s.stream)
		if err == nil && s.fits(done, lost) {
			break
		}
		s.block.frames = 0
		lost = true
		switch {
		case err == nil: // behind it the next one begins
		case err == errDamaged && atTag(&s.in):
			s.over = true
			return nil
		case err == io.EOF || err == errDamaged && !resync(&s.in):
			s.finish(done, err)
			return nil
		case err != errDamaged:
			return err
		}
	}
	if s.block.first > done {
		s.silence = s.block.first - done
		s.warnings.Add("The file is damaged: %d frames from %s on are lost and silent.", s.silence, bits.Clock(done, s.stream.rate))
	} else if lost {
		s.warnings.Add("Something that is not sound was skipped at %s.", bits.Clock(done, s.stream.rate))
	}
	return nil
}

// finish notes that no more blocks follow after done frames.
func (s *Decoder) finish(done int64, err error) {
	s.over = true
	if err != io.EOF && (s.stream.frames == 0 || done < s.stream.frames) {
		s.warnings.Add("The file is cut short or damaged after %s.", bits.Clock(done, s.stream.rate))
	}
}

// fits tells whether the block just decoded can come after done frames. A
// stream may begin later than 0 if it was cut.
func (s *Decoder) fits(done int64, lost bool) bool {
	if done == 0 && !lost {
		s.stream.shift = s.block.first
	}
	s.block.first -= s.stream.shift
	limit := done + bits.LongestGap*int64(s.stream.rate)
	if s.stream.frames > 0 {
		limit = s.stream.frames
	}
	return s.block.first >= done && (s.block.first == done || s.block.first < limit)
}

// end settles the length at the end of the sound.
func (s *Decoder) end() error {
	if s.done == 0 {
		return bits.Wrong(bits.WantAgain, "is a FLAC file without any sound that can be read")
	}
	if s.frames > s.done && len(s.warnings) == 0 {
		s.warnings.Add("The file is cut short: %d frames are announced, %d are there.", s.frames, s.done)
	}
	s.frames = s.done
	return io.EOF
}
