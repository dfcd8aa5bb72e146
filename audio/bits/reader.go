package bits

import (
	"encoding/binary"
	mathbits "math/bits"
)

// Reader reads bits from the front of Buf, which is padded behind with at
// least eight bytes that do not count.
type Reader struct {
	Buf []byte
	Pos int // in bits
	End int // in bits; what is read behind is rubbish
}

// Window gives the next bits at the top of a word; 57 of them count.
func (r *Reader) Window() uint64 {
	return binary.BigEndian.Uint64(r.Buf[min(r.Pos>>3, len(r.Buf)-8):]) << (r.Pos & 7)
}

// Read gives the next n bits, at most 32.
func (r *Reader) Read(n int) int {
	v := int(r.Window() >> 1 >> (63 - n))
	r.Pos += n
	return v
}

// Flag gives the next bit.
func (r *Reader) Flag() bool { return r.Read(1) == 1 }

// Signed reads a number of n bits in two's complement, at most 33.
func (r *Reader) Signed(n int) int64 {
	v := int64(r.Window()) >> (64 - n)
	r.Pos += n
	return v
}

// Unary counts the zeros before the next one, but not beyond limit.
func (r *Reader) Unary(limit int) int {
	const safe = 56 // bits in a window
	n := 0
	for {
		z := min(mathbits.LeadingZeros64(r.Window()), safe)
		r.Pos += z
		n += z
		if z < safe || n > limit || r.Pos > r.End {
			r.Pos++
			return n
		}
	}
}
