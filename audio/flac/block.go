package flac

import (
	"io"
	mathbits "math/bits"

	"emberbeat/audio/bits"
)

// block is one block of a FLAC stream: what the format calls a frame.
type block struct {
	first  int64 // number of its first frame
	frames int
	bits   int
	layout int
	scale  float32
	data   [8][]int64 // samples by channel
}

// Layouts of two channels beyond plain ones.
const (
	leftSide  = 8
	sideRight = 9
	midSide   = 10
)

// take converts frames from the given one on, as many as fit.
func (b *block) take(dst []float32, from int) int {
	channels := 2
	if b.layout < leftSide {
		channels = b.layout + 1
	}
	n := min(len(dst)/channels, b.frames-from)
	for c := range channels {
		i := c
		for _, v := range b.data[c][from : from+n] {
			dst[i] = float32(v) * b.scale
			i += channels
		}
	}
	return n
}

// maxHeader is the size of the longest block header.
const maxHeader = 16

// decode reads the block at the head of in and moves past it; at a block that
// is damaged it stays.
func (b *block) decode(in *bits.Window, s *stream) error {
	r, err := in.Bits(maxHeader)
	if err != nil {
		return err
	}
	if r.End == 0 {
		return io.EOF
	}
	head, ok := b.readHeader(&r, s)
	if !ok {
		return errDamaged
	}
	// No encoder writes a block longer than its plain samples; twice that is
	// enough.
	r, err = in.Bits(head + 2*s.channels*(b.frames*(b.bits+1)/8+8) + 2)
	if err != nil {
		return err
	}
	r.Pos = 8 * head
	if !b.readChannels(&r, s.channels) {
		return errDamaged
	}
	size := (r.Pos + 7) / 8
	if 8*(size+2) > r.End || crc16(r.Buf[:size]) != uint16(r.Buf[size])<<8|uint16(r.Buf[size+1]) {
		return errDamaged
	}
	in.Drop(size + 2)
	b.join()
	return nil
}

// readHeader reads the header (RFC 9639 §9.1) and gives its size in bytes; ok
// is false unless it fits the stream and its checksum.
func (b *block) readHeader(r *bits.Reader, s *stream) (size int, ok bool) {
	sync, variable := r.Read(15), r.Flag()
	sizeCode, rateCode := r.Read(4), r.Read(4)
	b.layout = r.Read(4)
	bitsCode, reserved := r.Read(3), r.Flag()
	number, ok := readCodedNumber(r)
	if sync != 0x7FFC || reserved || !ok || sizeCode == 0 || b.layout > midSide {
		return 0, false
	}
	b.frames = blockSize(sizeCode, r)
	rate := rateOf(rateCode, s.rate, r)
	b.bits = [8]int{s.bits, 8, 12, 0, 16, 20, 24, 32}[bitsCode]
	size = r.Pos / 8
	if rate != s.rate || b.bits != s.bits || b.channels() != s.channels || 8*(size+1) > r.End || crc8(r.Buf[:size]) != r.Buf[size] {
		return 0, false
	}
	b.first = number
	if !variable {
		b.first *= int64(s.blockSize)
	}
	b.scale = 1 / float32(int64(1)<<(b.bits-1))
	return size + 1, true
}

func (b *block) channels() int {
	if b.layout >= leftSide {
		return 2
	}
	return b.layout + 1
}

// readCodedNumber reads a number written like a character in UTF-8, of up to
// 36 bits.
func readCodedNumber(r *bits.Reader) (int64, bool) {
	lead := uint8(r.Read(8))
	ones := mathbits.LeadingZeros8(^lead)
	if ones == 0 {
		return int64(lead), true
	}
	if ones == 1 || ones == 8 {
		return 0, false
	}
	v := int64(lead & (1<<(7-ones) - 1))
	for range ones - 1 {
		next := r.Read(8)
		if next>>6 != 2 {
			return 0, false
		}
		v = v<<6 | int64(next&63)
	}
	return v, true
}

// blockSize is the number of frames that a code stands for.
func blockSize(code int, r *bits.Reader) int {
	switch {
	case code == 1:
		return 192
	case code <= 5:
		return 144 << code
	case code == 6:
		return r.Read(8) + 1
	case code == 7:
		return r.Read(16) + 1
	}
	return 1 << code
}

// rateOf is the sample rate that a code stands for; for 0 it is the stream's.
func rateOf(code, stream int, r *bits.Reader) int {
	switch code {
	case 0:
		return stream
	case 12:
		return r.Read(8) * 1000
	case 13:
		return r.Read(16)
	case 14:
		return r.Read(16) * 10
	case 15:
		return -1
	}
	return [12]int{0, 88200, 176400, 192000, 8000, 16000, 22050, 24000, 32000, 44100, 48000, 96000}[code]
}

// readChannels reads the subframe of each channel.
func (b *block) readChannels(r *bits.Reader, channels int) bool {
	for c := range channels {
		if cap(b.data[c]) < b.frames {
			b.data[c] = make([]int64, b.frames)
		}
		b.data[c] = b.data[c][:b.frames]
		bits := b.bits
		if b.layout == sideRight && c == 0 || (b.layout == leftSide || b.layout == midSide) && c == 1 {
			bits++ // a difference
		}
		if !readSubframe(r, b.data[c], bits) || r.Pos > r.End {
			return false
		}
	}
	return true
}

// join makes left and right of their differences and means.
func (b *block) join() {
	x := b.data[0]
	y := b.data[1]
	switch b.layout {
	case leftSide:
		for i, left := range x {
			y[i] = left - y[i]
		}
	case sideRight:
		for i, right := range y {
			x[i] += right
		}
	case midSide:
		for i, side := range y {
			mid := x[i]<<1 | side&1
			x[i], y[i] = (mid+side)>>1, (mid-side)>>1
		}
	}
}
