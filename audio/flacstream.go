package audio

import (
	"encoding/binary"
	"errors"
	"io"
)

// flacStream is what the head of a FLAC stream says (RFC 9639 §8.2).
type flacStream struct {
	blockSize int // of fixed-size blocks
	rate      int
	channels  int
	bits      int
	frames    int64 // 0 if not known
	shift     int64 // first frame of the first block
}

// errFLACDamaged is where a block cannot be decoded.
var errFLACDamaged = errors.New("damaged block")

// read reads the mark and the metadata, of which only the first block counts.
func (s *flacStream) read(in *flacWindow) error {
	const infoSize = 34
	b, err := in.peek(4 + 4 + infoSize)
	if err != nil {
		return err
	}
	if len(b) < 4+4+infoSize || !hasAt(b, 0, "fLaC") || b[4]&127 != 0 {
		return wrong(wantAgain, "is a FLAC file that ends inside its header")
	}
	s.parse(b[8:])
	in.drop(4)
	for last := false; !last; {
		b, err := in.peek(4)
		if err != nil {
			return err
		}
		if len(b) < 4 {
			return wrong(wantAgain, "is a FLAC file that ends inside its header")
		}
		last = b[0]&0x80 != 0
		size := int(binary.BigEndian.Uint32(b) & 0xFFFFFF)
		in.drop(4)
		if err := in.skip(size); err != nil {
			return err
		}
	}
	return nil
}

// parse reads the STREAMINFO block.
func (s *flacStream) parse(b []byte) {
	s.blockSize = int(binary.BigEndian.Uint16(b[2:]))
	v := binary.BigEndian.Uint64(b[10:])
	s.rate = int(v >> 44)
	s.channels = int(v>>41&7) + 1
	s.bits = int(v>>36&31) + 1
	s.frames = int64(v & (1<<36 - 1))
}

// flacWindow is a reader that can look ahead.
type flacWindow struct {
	r          io.Reader
	buf        []byte
	start, end int
	eof        bool
}

const (
	flacPad   = 8 // bytes behind the window that bitReader may touch
	flacChunk = 1 << 16
)

// peek gives the next n bytes, fewer only at the end of the file.
func (w *flacWindow) peek(n int) ([]byte, error) {
	if w.end-w.start < n && !w.eof {
		if err := w.fill(n); err != nil {
			return nil, err
		}
	}
	return w.buf[w.start:min(w.end, w.start+n)], nil
}

// fill reads until the window holds n bytes, or all there are.
func (w *flacWindow) fill(n int) error {
	if len(w.buf) < n+flacChunk+flacPad {
		w.buf = append(make([]byte, 0, n+flacChunk+flacPad), w.buf[w.start:w.end]...)
		w.buf = w.buf[:cap(w.buf)]
	} else {
		copy(w.buf, w.buf[w.start:w.end])
	}
	w.start, w.end = 0, w.end-w.start
	for w.end < n && !w.eof {
		got, err := w.r.Read(w.buf[w.end : len(w.buf)-flacPad])
		w.end += got
		if err == io.EOF {
			w.eof = true
		} else if err != nil {
			return err
		}
	}
	return nil
}

// drop moves on by n bytes that were peeked at.
func (w *flacWindow) drop(n int) { w.start += n }

// skip moves on by n bytes.
func (w *flacWindow) skip(n int) error {
	for n > 0 {
		b, err := w.peek(min(n, flacChunk))
		if err != nil {
			return err
		}
		if len(b) == 0 {
			return wrong(wantAgain, "is a FLAC file that ends inside its header")
		}
		w.drop(len(b))
		n -= len(b)
	}
	return nil
}

// bits gives a reader of n bytes from here on, or fewer at the end.
func (w *flacWindow) bits(n int) (bitReader, error) {
	b, err := w.peek(n)
	if err != nil {
		return bitReader{}, err
	}
	if len(w.buf) < w.start+len(b)+flacPad { // an empty file
		return bitReader{buf: make([]byte, flacPad)}, nil
	}
	return bitReader{buf: w.buf[w.start : w.start+len(b)+flacPad], end: 8 * len(b)}, nil
}

// resync moves on, by one byte at least, to where a block may begin.
func (w *flacWindow) resync() bool {
	w.start = min(w.start+1, w.end)
	for {
		b, err := w.peek(2)
		if err != nil || len(b) < 2 {
			return false
		}
		if b[0] == 0xFF && b[1]&0xFE == 0xF8 {
			return true
		}
		w.drop(1)
	}
}
