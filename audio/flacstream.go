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
func (s *flacStream) read(in *window) error {
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
		if err := in.skip(size); err == io.ErrUnexpectedEOF {
			return wrong(wantAgain, "is a FLAC file that ends inside its header")
		} else if err != nil {
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

// atTag tells whether one of the tags begins here that stand behind the sound.
func atTag(in *window) bool {
	b, err := in.peek(4)
	return err == nil && isTag(b)
}

// resync moves on, by one byte at least, to where a block may begin.
func resync(in *window) bool {
	b, err := in.peek(1)
	if err != nil {
		return false
	}
	in.drop(len(b))
	for {
		b, err := in.peek(2)
		if err != nil || len(b) < 2 {
			return false
		}
		if b[0] == 0xFF && b[1]&0xFE == 0xF8 {
			return true
		}
		in.drop(1)
	}
}
