package vorbis

import "encoding/binary"

// bitReader reads bits from the low end of each byte. buf is padded behind
// with eight bytes.
type bitReader struct {
	buf []byte
	pos int // in bits
	end int // in bits; what is read behind is rubbish
}

// reset begins to read a packet, of which it makes a copy.
func (r *bitReader) reset(packet []byte) {
	r.buf = append(r.buf[:0], packet...)
	r.buf = append(r.buf, 0, 0, 0, 0, 0, 0, 0, 0)
	r.pos, r.end = 0, 8*len(packet)
}

// window gives the next bits at the bottom of a word; 57 of them count.
func (r *bitReader) window() uint64 {
	return binary.LittleEndian.Uint64(r.buf[min(r.pos>>3, len(r.buf)-8):]) >> (r.pos & 7)
}

// read gives the next n bits, at most 32.
func (r *bitReader) read(n int) int {
	v := int(r.window() & (1<<n - 1))
	r.pos += n
	return v
}

func (r *bitReader) flag() bool { return r.read(1) == 1 }

// over tells whether more was read than there is.
func (r *bitReader) over() bool { return r.pos > r.end }
