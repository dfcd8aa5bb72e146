package mp3

import "encoding/binary"

// header is the four bytes that begin a frame of MPEG audio (ISO/IEC
// 11172-3 §2.4.1.3, 13818-3 §2.4.2.3).
type header uint32

// parseHeader reads a header; ok tells whether the bits make sense.
func parseHeader(b []byte) (h header, ok bool) {
	if len(b) < 4 {
		return 0, false
	}
	h = header(binary.BigEndian.Uint32(b))
	const sync, reserved = 0xFFE00000, 3
	ok = h&sync == sync && h.version() != 1 && h.layerBits() != 0 && h.bitrateIndex() != 15 && h.rateIndex() != reserved
	return h, ok
}

// bits gives n bits from position at.
func (h header) bits(at, n uint) int { return int(h>>at) & (1<<n - 1) }

// version is 3 for MPEG 1, 2 for MPEG 2, 0 for MPEG 2.5.
func (h header) version() int      { return h.bits(19, 2) }
func (h header) layerBits() int    { return h.bits(17, 2) }
func (h header) layer() int        { return 4 - h.layerBits() }
func (h header) hasCRC() bool      { return h.bits(16, 1) == 0 }
func (h header) bitrateIndex() int { return h.bits(12, 4) }
func (h header) rateIndex() int    { return h.bits(10, 2) }
func (h header) padding() int      { return h.bits(9, 1) }
func (h header) mode() int         { return h.bits(6, 2) }

// Channel modes.
const (
	joint = 1
	mono  = 3
)

// middleSide and intensity tell the two kinds of joint stereo.
func (h header) middleSide() bool { return h.mode() == joint && h.bits(5, 1) == 1 }
func (h header) intensity() bool  { return h.mode() == joint && h.bits(4, 1) == 1 }

// lowRate tells MPEG 2 and 2.5, whose frames have half the length.
func (h header) lowRate() bool { return h.version() != 3 }

func (h header) channels() int {
	if h.mode() == mono {
		return 1
	}
	return 2
}

// bitrates are the bit rates of layer III, in kbit/s, for MPEG 1 and for
// MPEG 2 and 2.5. Index 0 is the free format.
var bitrates = [2][15]int{
	{0, 32, 40, 48, 56, 64, 80, 96, 112, 128, 160, 192, 224, 256, 320},
	{0, 8, 16, 24, 32, 40, 48, 56, 64, 80, 96, 112, 128, 144, 160},
}

// rate is the sample rate in Hz.
func (h header) rate() int {
	rate := [3]int{44100, 48000, 32000}[h.rateIndex()]
	switch h.version() {
	case 2:
		return rate / 2
	case 0:
		return rate / 4
	}
	return rate
}

// table is the row of bands for this header's rate.
func (h header) table() int { return h.rateIndex() + [4]int{6, 0, 3, 0}[h.version()] }

// granules is the number of granules of 576 samples in a frame.
func (h header) granules() int {
	if h.lowRate() {
		return 1
	}
	return 2
}

// samples is the number of samples a channel in a frame.
func (h header) samples() int { return h.granules() * lineCount }

// size is the number of bytes of the frame, header included; 0 for the free
// format.
func (h header) size() int {
	low := 0
	if h.lowRate() {
		low = 1
	}
	rate := bitrates[low][h.bitrateIndex()] * 1000
	if rate == 0 {
		return 0
	}
	return h.samples()/8*rate/h.rate() + h.padding()
}

// sideSize is the number of bytes of side information.
func (h header) sideSize() int {
	switch {
	case h.lowRate() && h.channels() == 1:
		return 9
	case h.lowRate() || h.channels() == 1:
		return 17
	}
	return 32
}

// dataAt is the offset of the main data in the frame.
func (h header) dataAt() int {
	n := 4 + h.sideSize()
	if h.hasCRC() {
		n += 2
	}
	return n
}

// follows tells whether a frame with this header can follow one with header g:
// version, layer and rate stay the same throughout a file.
func (h header) follows(g header) bool {
	const same = 3<<19 | 3<<17 | 3<<10
	return h&same == g&same
}
