package ltc

import (
	"math/bits"

	"emberbeat/timeline"
)

// Bits in a codeword, and its length in bytes.
const (
	wordBits  = 80
	wordBytes = wordBits / 8
)

// Word is the codeword of one frame (SMPTE ST 12-1): 80 bits, the first sent
// is the lowest of the first byte. Bytes 8 and 9 are the sync word.
type Word [wordBytes]byte

// syncWord is bits 64 to 79, bit 64 lowest: sent as 0011 1111 1111 1101.
const syncWord = 0xBFFC

// Places of single bits.
const (
	dropBit      = 10
	parityBit25  = 59
	parityBit30  = 27 // at 24 and 30 frames
	lastTimeByte = 8  // exclusive
)

// NewWord makes the codeword of a label. User bits, binary group flags and the
// colour frame flag are zero; the polarity correction bit makes the number of
// ones even, so that every frame starts with the same polarity.
func NewWord(rate timeline.Rate, tc timeline.Timecode) Word {
	w := Word{tc.F % 10, tc.F / 10, tc.S % 10, tc.S / 10, tc.M % 10, tc.M / 10, tc.H % 10, tc.H / 10,
		syncWord & 0xFF, syncWord >> 8}
	if rate.Drop() {
		w.set(dropBit)
	}
	if w.ones()%2 != 0 {
		w.set(parityBit(rate))
	}
	return w
}

// parityBit is the place of the polarity correction bit.
func parityBit(rate timeline.Rate) int {
	if rate.Nominal() == 25 {
		return parityBit25
	}
	return parityBit30
}

func (w *Word) set(bit int) { w[bit/8] |= 1 << (bit % 8) }

// bit gives one bit.
func (w *Word) bit(i int) byte { return w[i/8] >> (i % 8) & 1 }

// ones counts the bits that are one.
func (w *Word) ones() int {
	n := 0
	for _, b := range w {
		n += bits.OnesCount8(b)
	}
	return n
}

// Drop reports whether the drop-frame flag is set.
func (w *Word) Drop() bool { return w.bit(dropBit) == 1 }

// Label gives the timecode. The second result is false where the digits are
// none, or no time of day.
func (w *Word) Label() (timeline.Timecode, bool) {
	f, okF := digits(w[0], w[1]&3)
	s, okS := digits(w[2], w[3]&7)
	m, okM := digits(w[4], w[5]&7)
	h, okH := digits(w[6], w[7]&3)
	ok := okF && okS && okM && okH && f < 30 && s < 60 && m < 60 && h < 24
	return timeline.Timecode{H: h, M: m, S: s, F: f}, ok
}

// digits joins a byte whose lower half is the units with the tens.
func digits(units, tens byte) (uint8, bool) {
	units &= 15
	return tens*10 + units, units < 10
}

// UserBits gives the eight binary groups, the first lowest.
func (w *Word) UserBits() uint32 {
	var u uint32
	for i := range lastTimeByte {
		u |= uint32(w[i]>>4) << (4 * i)
	}
	return u
}

// GroupFlags gives binary group flags 0 to 2 as a number from 0 to 7. Where
// they stand depends on the rate.
func (w *Word) GroupFlags(rate timeline.Rate) int {
	places := [3]int{43, 58, 59}
	if rate.Nominal() == 25 {
		places = [3]int{27, 58, 43}
	}
	flags := 0
	for i, bit := range places {
		flags |= int(w.bit(bit)) << i
	}
	return flags
}
