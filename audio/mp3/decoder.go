package mp3

import (
	"fmt"
	"io"

	"emberbeat/audio/bits"
)

// Decoder reads an MP3 file.
type Decoder struct {
	rate, channels int
	frames         int64
	warnings       []string
	walk           *walk
	decoder        *frameDecoder
	skip           int64     // frames still to cut at the start
	left           int64     // frames still to give
	block          []float32 // decoded, interleaved
	ready          []float32 // what of block is not yet given
}

// New opens the MP3 file in r. It goes over all headers first: only so is
// the length known.
func New(r io.ReadSeeker) (*Decoder, error) {
	survey, err := surveyAll(r)
	if err != nil {
		return nil, err
	}
	if _, err := r.Seek(0, io.SeekStart); err != nil {
		return nil, err
	}
	h := survey.first
	s := &Decoder{walk: newWalk(r), decoder: newFrameDecoder(h)}
	s.skip, s.left = survey.gap.cut(survey.frames*int64(h.samples()), h.samples())
	s.rate, s.channels, s.frames, s.warnings = h.rate(), h.channels(), s.left, survey.warnings()
	s.block = make([]float32, h.samples()*h.channels())
	if survey.gap.present {
		_, err = s.walk.next()
	}
	return s, err
}

// survey is what the headers of a file tell.
type survey struct {
	first  header
	gap    gap
	frames int64 // of sound
	hole   int64 // frames before the first damaged place, -1 without one
	cut    bool
}

// surveyAll goes over all frames of r.
func surveyAll(r io.Reader) (survey, error) {
	w := newWalk(r)
	h, err := w.next()
	if err == io.EOF {
		return survey{}, bits.Wrong(bits.WantAgain, "is an MP3 file without a whole frame of sound")
	}
	if err == nil {
		err = refuse(h)
	}
	if err != nil {
		return survey{}, err
	}
	s := survey{first: h, gap: readGap(h, w.frame), hole: -1}
	if !s.gap.present {
		s.frames = 1
	}
	for {
		_, err := w.next()
		if err == io.EOF {
			break
		}
		if err != nil {
			return s, err
		}
		if w.lost && s.hole < 0 {
			s.hole = s.frames
		}
		s.frames++
	}
	if s.frames == 0 {
		return s, bits.Wrong(bits.WantAgain, "is an MP3 file without any sound behind its header")
	}
	s.cut = w.cut
	return s, nil
}

// refuse refuses the kinds of MPEG audio that are not read.
func refuse(h header) error {
	switch {
	case h.layer() != 3:
		return bits.Wrong(bits.WantFormats, "is MPEG audio of layer %d, which is not read", h.layer())
	case h.size() == 0:
		return bits.Wrong("encode it with a constant or variable bit rate", "is an MP3 file in the free format, which is not read")
	}
	return nil
}

// warnings says what is odd about the file.
func (s *survey) warnings() (list []string) {
	if s.hole >= 0 {
		list = append(list, fmt.Sprintf("The file is damaged at %s: what follows may come too early.",
			bits.Clock(s.hole*int64(s.first.samples()), s.first.rate())))
	}
	if s.gap.frames > s.frames+1 || s.cut {
		list = append(list, fmt.Sprintf("The file is cut short: %d of %d blocks are there.", s.frames, max(s.gap.frames, s.frames+1)))
	}
	return list
}

// Begins tells whether r begins with frames of sound that can be found, if
// behind some other bytes.
func Begins(r io.Reader) bool {
	_, err := newWalk(r).next()
	return err == nil
}

// Rate is the number of frames a second.
func (s *Decoder) Rate() int { return s.rate }

// Channels is the number of samples a frame.
func (s *Decoder) Channels() int { return s.channels }

// Frames is the number of frames that Read gives in all.
func (s *Decoder) Frames() int64 { return s.frames }

// Warnings says in sentences what is wrong with the file and was read around.
func (s *Decoder) Warnings() []string { return s.warnings }

// Read fills dst with interleaved samples, full scale ±1, and gives the number
// of whole frames; io.EOF comes alone.
func (s *Decoder) Read(dst []float32) (int, error) {
	channels := s.channels
	want, n := int(min(int64(len(dst)/channels), s.left)), 0
	for n < want {
		if len(s.ready) == 0 {
			if err := s.decode(); err == io.EOF {
				s.left = int64(n) // the file shrank since it was surveyed
				break
			} else if err != nil {
				return n, err
			}
			continue
		}
		got := copy(dst[n*channels:want*channels], s.ready)
		s.ready = s.ready[got:]
		n += got / channels
	}
	s.left -= int64(n)
	if n == 0 && s.left == 0 {
		return 0, io.EOF
	}
	return n, nil
}

// decode decodes the next frame, less what is cut at the start.
func (s *Decoder) decode() error {
	h, err := s.walk.next()
	if err != nil {
		return err
	}
	if s.walk.lost {
		s.decoder.reservoir.have = 0
	}
	s.decoder.decode(h, s.walk.frame, s.block)
	for i, v := range s.block {
		s.block[i] = bits.Sane(v)
	}
	frames := int64(h.samples())
	drop := min(frames, s.skip)
	s.skip -= drop
	s.ready = s.block[drop*int64(s.channels):]
	return nil
}
