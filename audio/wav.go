package audio

import (
	"bufio"
	"fmt"
	"io"

	"emberbeat/audio/bits"
)

// wavSource reads the data chunk of a WAV file.
type wavSource struct {
	info  Info
	in    *bufio.Reader
	left  int64 // frames not yet read
	frame int   // bytes a frame
	conv  converter
	buf   []byte
}

// wavBlock is the number of bytes converted at once.
const wavBlock = 1 << 15

// newWAV opens a WAV file of size bytes.
func newWAV(r io.ReadSeeker, size int64) (Source, error) {
	h, err := readWAVHead(r, size)
	if err != nil {
		return nil, err
	}
	conv, err := h.format.converter()
	if err != nil {
		return nil, err
	}
	if _, err := r.Seek(h.dataAt, io.SeekStart); err != nil {
		return nil, err
	}
	frame := h.format.frameBytes()
	s := &wavSource{in: bufio.NewReaderSize(r, wavBlock), frame: frame, conv: conv, left: h.dataSize / int64(frame)}
	s.buf = make([]byte, max(1, wavBlock/frame)*frame)
	s.info = Info{Format: WAV, Rate: h.format.rate, Channels: h.format.channels, Frames: s.left, Warnings: h.warnings}
	if s.left == 0 {
		return nil, bits.Wrong("export the song again", "holds no sound: its data chunk is empty")
	}
	return s, nil
}

func (s *wavSource) Info() Info { return s.info }

func (s *wavSource) Close() error { return nil }

func (s *wavSource) Read(dst []float32) (int, error) {
	want := int(min(int64(len(dst)/s.info.Channels), s.left))
	if s.left == 0 {
		return 0, io.EOF
	}
	done := 0
	for done < want {
		bytes := s.buf[:min((want-done)*s.frame, len(s.buf))]
		n, err := io.ReadFull(s.in, bytes)
		frames := n / s.frame
		s.conv(dst[done*s.info.Channels:], s.buf[:frames*s.frame])
		done += frames
		s.left -= int64(frames)
		if err != nil {
			return done, s.cut(err, done)
		}
	}
	return done, nil
}

// cut handles a file that ends before its checked size, because it shrank
// while being read.
func (s *wavSource) cut(err error, done int) error {
	if err != io.EOF && err != io.ErrUnexpectedEOF {
		return err
	}
	s.info.Frames -= s.left
	s.info.Warnings = append(s.info.Warnings, fmt.Sprintf("The file got shorter while it was read: %d frames are missing.", s.left))
	s.left = 0
	if done == 0 {
		return io.EOF
	}
	return nil
}
