package audio

import "encoding/binary"

// bitReader reads bits from the front of buf, which is padded behind with at
// least eight bytes that do not count.
type bitReader struct {
	buf []byte
	pos int // in bits
	end int // in bits; what is read behind is rubbish
}

// window gives the next bits at the top of a word; 57 of them count.
func (r *bitReader) window() uint64 {
	return binary.BigEndian.Uint64(r.buf[min(r.pos>>3, len(r.buf)-8):]) << (r.pos & 7)
}

// read gives the next n bits, at most 32.
func (r *bitReader) read(n int) int {
	v := int(r.window() >> 1 >> (63 - n))
	r.pos += n
	return v
}

// flag gives the next bit.
func (r *bitReader) flag() bool { return r.read(1) == 1 }
