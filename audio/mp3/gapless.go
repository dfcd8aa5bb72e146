package mp3

import (
	"encoding/binary"
	"slices"

	"emberbeat/audio/bits"
)

// decoderDelay is the number of samples by which any layer III decoder is late: the
// filter bank's delay, 528 + 1.
const decoderDelay = 529

// gap is what the information frame at the head of an MP3 file says about
// the samples that the encoder added.
type gap struct {
	present bool  // there is such a frame: it is no sound
	frames  int64 // frames of sound that follow, 0 if not said
	delayed bool  // delay and padding are said
	delay   int   // samples the encoder put before the song
	padding int   // samples it put behind the song
}

// readGap reads the information frame: the header "Xing" or "Info" with the
// extension that LAME introduced and others write too, or "VBRI".
func readGap(h header, frame []byte) gap {
	at := 4 + h.sideSize() // where the main data begins; no CRC is counted
	switch {
	case bits.HasAt(frame, at, "Xing"), bits.HasAt(frame, at, "Info"):
		return readXing(frame[at+4:])
	case bits.HasAt(frame, at+2, "Xing"), bits.HasAt(frame, at+2, "Info"):
		return readXing(frame[at+6:])
	case bits.HasAt(frame, 36, "VBRI") && len(frame) >= 36+18:
		return gap{present: true, frames: int64(binary.BigEndian.Uint32(frame[36+14:]))}
	}
	return gap{}
}

// readXing reads behind the mark: flags, then the fields they announce, then
// the extension.
func readXing(b []byte) gap {
	g := gap{present: true}
	if len(b) < 4 {
		return g
	}
	flags := binary.BigEndian.Uint32(b)
	b = b[4:]
	for bit, size := range []int{4, 4, 100, 4} { // frames, bytes, table, quality
		if flags&(1<<bit) == 0 {
			continue
		}
		if len(b) < size {
			return g
		}
		if bit == 0 {
			g.frames = int64(binary.BigEndian.Uint32(b))
		}
		b = b[size:]
	}
	g.readLAME(b)
	return g
}

// lameMarks begin the extensions whose delays can be believed.
var lameMarks = []string{"LAME", "Lavf", "Lavc", "L3.9"}

// readLAME reads the extension: nine bytes of encoder's name, and at byte 21
// twice twelve bits, the delay and the padding.
func (g *gap) readLAME(b []byte) {
	if len(b) < 24 || !slices.Contains(lameMarks, string(b[:4])) {
		return
	}
	g.delayed = true
	g.delay = int(b[21])<<4 | int(b[22])>>4
	g.padding = int(b[22]&15)<<8 | int(b[23])
}

// cut gives the first sample of the song and the number of its samples, of
// total that come out of the decoder. A file that is not as long as its header
// says has lost its padding, or holds more than one song: it ends as it is.
func (g *gap) cut(total int64, frame int) (start, length int64) {
	if !g.delayed {
		return 0, total
	}
	start = min(int64(g.delay)+decoderDelay, total)
	length = total - start
	frames := total / int64(frame)
	if tail := int64(g.padding) - decoderDelay; tail > 0 && (g.frames == 0 || g.frames == frames) {
		length = max(0, length-tail)
	}
	return start, length
}
