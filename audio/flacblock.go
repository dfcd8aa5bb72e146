package audio

import (
	"io"
	mathbits "math/bits"
)

// flacBlock is one block of a FLAC stream: what the format calls a frame.
type flacBlock struct {
	first  int64 // number of its first frame
	frames int
	bits   int
	layout int
	scale  float32
	data   [8][]int64 // samples by channel
}

// Layouts of two channels beyond plain ones.
const (
	flacLeftSide  = 8
	flacSideRight = 9
	flacMidSide   = 10
)

// take converts frames from the given one on, as many as fit.
func (b *flacBlock) take(dst []float32, from int) int {
	channels := 2
	if b.layout < flacLeftSide {
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

// flacMaxHeader is the size of the longest block header.
const flacMaxHeader = 16

// decode reads the block at the head of in and moves past it; at a block that
// is damaged it stays.
func (b *flacBlock) decode(in *window, s *flacStream) error {
	r, err := in.bits(flacMaxHeader)
	if err != nil {
		return err
	}
	if r.end == 0 {
		return io.EOF
	}
	head, ok := b.readHeader(&r, s)
	if !ok {
		return errFLACDamaged
	}
	// No encoder writes a block longer than its plain samples; twice that is
	// enough.
	r, err = in.bits(head + 2*s.channels*(b.frames*(b.bits+1)/8+8) + 2)
	if err != nil {
		return err
	}
	r.pos = 8 * head
	if !b.readChannels(&r, s.channels) {
		return errFLACDamaged
	}
	size := (r.pos + 7) / 8
	if 8*(size+2) > r.end || crc16(r.buf[:size]) != uint16(r.buf[size])<<8|uint16(r.buf[size+1]) {
		return errFLACDamaged
	}
	in.drop(size + 2)
	b.join()
	return nil
}

// readHeader reads the header (RFC 9639 §9.1) and gives its size in bytes; ok
// is false unless it fits the stream and its checksum.
func (b *flacBlock) readHeader(r *bitReader, s *flacStream) (size int, ok bool) {
	sync, variable := r.read(15), r.flag()
	sizeCode, rateCode := r.read(4), r.read(4)
	b.layout = r.read(4)
	bitsCode, reserved := r.read(3), r.flag()
	number, ok := readCodedNumber(r)
	if sync != 0x7FFC || reserved || !ok || sizeCode == 0 || b.layout > flacMidSide {
		return 0, false
	}
	b.frames = flacBlockSize(sizeCode, r)
	rate := flacRate(rateCode, s.rate, r)
	b.bits = [8]int{s.bits, 8, 12, 0, 16, 20, 24, 32}[bitsCode]
	size = r.pos / 8
	if rate != s.rate || b.bits != s.bits || b.channels() != s.channels || 8*(size+1) > r.end || crc8(r.buf[:size]) != r.buf[size] {
		return 0, false
	}
	b.first = number
	if !variable {
		b.first *= int64(s.blockSize)
	}
	b.scale = 1 / float32(int64(1)<<(b.bits-1))
	return size + 1, true
}

func (b *flacBlock) channels() int {
	if b.layout >= flacLeftSide {
		return 2
	}
	return b.layout + 1
}

// readCodedNumber reads a number written like a character in UTF-8, of up to
// 36 bits.
func readCodedNumber(r *bitReader) (int64, bool) {
	lead := uint8(r.read(8))
	ones := mathbits.LeadingZeros8(^lead)
	if ones == 0 {
		return int64(lead), true
	}
	if ones == 1 || ones == 8 {
		return 0, false
	}
	v := int64(lead & (1<<(7-ones) - 1))
	for range ones - 1 {
		next := r.read(8)
		if next>>6 != 2 {
			return 0, false
		}
		v = v<<6 | int64(next&63)
	}
	return v, true
}

// flacBlockSize is the number of frames that a code stands for.
func flacBlockSize(code int, r *bitReader) int {
	switch {
	case code == 1:
		return 192
	case code <= 5:
		return 144 << code
	case code == 6:
		return r.read(8) + 1
	case code == 7:
		return r.read(16) + 1
	}
	return 1 << code
}

// flacRate is the sample rate that a code stands for; for 0 it is the stream's.
func flacRate(code, stream int, r *bitReader) int {
	switch code {
	case 0:
		return stream
	case 12:
		return r.read(8) * 1000
	case 13:
		return r.read(16)
	case 14:
		return r.read(16) * 10
	case 15:
		return -1
	}
	return [12]int{0, 88200, 176400, 192000, 8000, 16000, 22050, 24000, 32000, 44100, 48000, 96000}[code]
}

// readChannels reads the subframe of each channel.
func (b *flacBlock) readChannels(r *bitReader, channels int) bool {
	for c := range channels {
		if cap(b.data[c]) < b.frames {
			b.data[c] = make([]int64, b.frames)
		}
		b.data[c] = b.data[c][:b.frames]
		bits := b.bits
		if b.layout == flacSideRight && c == 0 || (b.layout == flacLeftSide || b.layout == flacMidSide) && c == 1 {
			bits++ // a difference
		}
		if !readSubframe(r, b.data[c], bits) || r.pos > r.end {
			return false
		}
	}
	return true
}

// join makes left and right of their differences and means.
func (b *flacBlock) join() {
	x := b.data[0]
	y := b.data[1]
	switch b.layout {
	case flacLeftSide:
		for i, left := range x {
			y[i] = left - y[i]
		}
	case flacSideRight:
		for i, right := range y {
			x[i] += right
		}
	case flacMidSide:
		for i, side := range y {
			mid := x[i]<<1 | side&1
			x[i], y[i] = (mid+side)>>1, (mid-side)>>1
		}
	}
}
