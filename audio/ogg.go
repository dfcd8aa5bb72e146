package audio

import (
	"fmt"
	"io"

	"github.com/jfreymuth/oggvorbis"
)

// oggSource reads Vorbis out of Ogg.
type oggSource struct {
	info Info
	r    *oggvorbis.Reader
	done int64
	over bool
}

// newOGG opens the Vorbis stream in r.
func newOGG(r io.ReadSeeker, _ int64) (Source, error) {
	v, err := oggvorbis.NewReader(r)
	if err != nil {
		return nil, &FileError{What: fmt.Sprintf("is a damaged Ogg Vorbis file (%v)", err), Want: wantAgain, Err: err}
	}
	s := &oggSource{r: v, info: Info{Format: OGG, Rate: v.SampleRate(), Channels: v.Channels(), Frames: -1}}
	if n := v.Length() - v.Position(); v.Length() > 0 && n >= 0 {
		s.info.Frames = n
	}
	return s, checkShape(s.info.Channels, s.info.Rate)
}

func (s *oggSource) Info() Info { return s.info }

func (s *oggSource) Close() error { return nil }

func (s *oggSource) Read(dst []float32) (int, error) {
	channels := s.info.Channels
	want, n := len(dst)/channels, 0
	for n < want && !s.over {
		got, err := s.r.Read(dst[n*channels : want*channels])
		n += got / channels
		s.over = err != nil
		if err != nil && err != io.EOF {
			s.info.Warnings = append(s.info.Warnings, fmt.Sprintf("The file is cut short or damaged after %s: %v.", clock(s.done+int64(n), s.info.Rate), err))
		}
	}
	for i, v := range dst[:n*channels] {
		dst[i] = sane(v)
	}
	s.done += int64(n)
	if n == 0 && want > 0 {
		return 0, s.end()
	}
	return n, nil
}

// end settles the length at the end of the sound.
func (s *oggSource) end() error {
	if s.done == 0 {
		return wrong(wantAgain, "is an Ogg Vorbis file from which no sound can be read%s", because(s.info.Warnings))
	}
	if s.info.Frames > s.done && len(s.info.Warnings) == 0 {
		s.info.Warnings = append(s.info.Warnings, fmt.Sprintf("The file is cut short: it announces %d frames and holds %d.", s.info.Frames, s.done))
	}
	s.info.Frames = s.done
	return io.EOF
}
