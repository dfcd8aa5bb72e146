package flac

import (
	"encoding/binary"
	"errors"
	"io"

	"emberbeat/audio/bits"
)

// stream is what the head of a FLAC stream says (RFC 9639 §8.2).
type stream struct {
	blockSize int // of fixed-size blocks
	rate      int
	channels  int
	bits      int
	frames    int64 // 0 if not known
	shift     int64 // first frame of the first block
}

// errDamaged is where a block cannot be decoded.
var errDamaged = errors.New("damaged block")

// read reads the mark and the metadata, of which only the first block counts.
func (s *stream) read(in *bits.Window) error {
	const infoSize = 34
	b, err := in.Peek(4 + 4 + infoSize)
	if err != nil {
		return err
	}
	if len(b) < 4+4+infoSize || !bits.HasAt(b, 0, "fLaC") || b[4]&127 != 0 {
		return bits.Wrong(bits.WantAgain, "is a FLAC file that ends inside its header")
	}
	s.parse(b[8:])
	in.Drop(4)
	for last := false; !last; {
		b, err := in.Peek(4)
		if err != nil {
			return err
		}
		if len(b) < 4 {
			return bits.Wrong(bits.WantAgain, "is a FLAC file that ends inside its header")
		}
		last = b[0]&0x80 != 0
		size := int(binary.BigEndian.Uint32(b) & 0xFFFFFF)
		in.Drop(4)
		if err := in.Skip(size); err == io.ErrUnexpectedEOF {
			return bits.Wrong(bits.WantAgain, "is a FLAC file that ends inside its header")
		} else if err != nil {
			return err
		}
	}
	return nil
}

// parse reads the STREAMINFO block.
func (s *stream) parse(b []byte) {
	s.blockSize = int(binary.BigEndian.Uint16(b[2:]))
	v := binary.BigEndian.Uint64(b[10:])
	s.rate = int(v >> 44)
	s.channels = int(v>>41&7) + 1
	s.bits = int(v>>36&31) + 1
	s.frames = int64(v & (1<<36 - 1))
}

// atTag tells whether one of the tags begins here that stand behind the sound.
func atTag(in *bits.Window) bool {
	b, err := in.Peek(4)
	return err == nil && bits.IsTag(b)
}

// resync moves on, by one byte at least, to where a block may begin.
func resync(in *bits.Window) bool {
	b, err := in.Peek(1)
	if err != nil {
		return false
	}
	in.Drop(len(b))
	for {
		b, err := in.Peek(2)
		if err != nil || len(b) < 2 {
			return false
		}
		if b[0] == 0xFF && b[1]&0xFE == 0xF8 {
			return true
		}
		in.Drop(1)
	}
}
