package audio

import "encoding/binary"

// mp3Header is the four bytes that begin a frame of MPEG audio (ISO/IEC
// 11172-3 §2.4.1.3, 13818-3 §2.4.2.3).
type mp3Header uint32

// parseMP3Header reads a header; ok tells whether the bits make sense.
func parseMP3Header(b []byte) (h mp3Header, ok bool) {
	if len(b) < 4 {
		return 0, false
	}
	h = mp3Header(binary.BigEndian.Uint32(b))
	const sync, reserved = 0xFFE00000, 3
	ok = h&sync == sync && h.version() != 1 && h.layerBits() != 0 && h.bitrateIndex() != 15 && h.rateIndex() != reserved
	return h, ok
}

// bits gives n bits from position at.
func (h mp3Header) bits(at, n uint) int { return int(h>>at) & (1<<n - 1) }

// version is 3 for MPEG 1, 2 for MPEG 2, 0 for MPEG 2.5.
func (h mp3Header) version() int      { return h.bits(19, 2) }
func (h mp3Header) layerBits() int    { return h.bits(17, 2) }
func (h mp3Header) layer() int        { return 4 - h.layerBits() }
func (h mp3Header) hasCRC() bool      { return h.bits(16, 1) == 0 }
func (h mp3Header) bitrateIndex() int { return h.bits(12, 4) }
func (h mp3Header) rateIndex() int    { return h.bits(10, 2) }
func (h mp3Header) padding() int      { return h.bits(9, 1) }
func (h mp3Header) mode() int         { return h.bits(6, 2) }

// Channel modes.
const (
	mp3Joint = 1
	mp3Mono  = 3
)

// middleSide and intensity tell the two kinds of joint stereo.
func (h mp3Header) middleSide() bool { return h.mode() == mp3Joint && h.bits(5, 1) == 1 }
func (h mp3Header) intensity() bool  { return h.mode() == mp3Joint && h.bits(4, 1) == 1 }

// lowRate tells MPEG 2 and 2.5, whose frames have half the length.
func (h mp3Header) lowRate() bool { return h.version() != 3 }

func (h mp3Header) channels() int {
	if h.mode() == mp3Mono {
		return 1
	}
	return 2
}

// mp3Bitrates are the bit rates of layer III, in kbit/s, for MPEG 1 and for
// MPEG 2 and 2.5. Index 0 is the free format.
var mp3Bitrates = [2][15]int{
	{0, 32, 40, 48, 56, 64, 80, 96, 112, 128, 160, 192, 224, 256, 320},
	{0, 8, 16, 24, 32, 40, 48, 56, 64, 80, 96, 112, 128, 144, 160},
}

// rate is the sample rate in Hz.
func (h mp3Header) rate() int {
	rate := [3]int{44100, 48000, 32000}[h.rateIndex()]
	switch h.version() {
	case 2:
		return rate / 2
	case 0:
		return rate / 4
	}
	return rate
}

// table is the row of mp3Bands for this header's rate.
func (h mp3Header) table() int { return h.rateIndex() + [4]int{6, 0, 3, 0}[h.version()] }

// granules is the number of granules of 576 samples in a frame.
func (h mp3Header) granules() int {
	if h.lowRate() {
		return 1
	}
	return 2
}

// samples is the number of samples a channel in a frame.
func (h mp3Header) samples() int { return h.granules() * mp3Lines }

// size is the number of bytes of the frame, header included; 0 for the free
// format.
func (h mp3Header) size() int {
	low := 0
	if h.lowRate() {
		low = 1
	}
	rate := mp3Bitrates[low][h.bitrateIndex()] * 1000
	if rate == 0 {
		return 0
	}
	return h.samples()/8*rate/h.rate() + h.padding()
}

// sideSize is the number of bytes of side information.
func (h mp3Header) sideSize() int {
	switch {
	case h.lowRate() && h.channels() == 1:
		return 9
	case h.lowRate() || h.channels() == 1:
		return 17
	}
	return 32
}

// dataAt is the offset of the main data in the frame.
func (h mp3Header) dataAt() int {
	n := 4 + h.sideSize()
	if h.hasCRC() {
		n += 2
	}
	return n
}

// follows tells whether a frame with this header can follow one with header g:
// version, layer and rate stay the same throughout a file.
func (h mp3Header) follows(g mp3Header) bool {
	const same = 3<<19 | 3<<17 | 3<<10
	return h&same == g&same
}
