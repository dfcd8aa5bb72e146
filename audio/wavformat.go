package audio

import (
	"bytes"
	"encoding/binary"
	"fmt"

	"emberbeat/audio/bits"
)

// wavFormat is the content of a fmt chunk.
type wavFormat struct {
	tag            uint16 // kind of samples: wavPCM or wavFloat
	channels, rate int
	bytes          int    // a sample takes
	odd            string // what was read around, a sentence, or ""
}

// Format tags of the fmt chunk (RFC 2361 and Microsoft's mmreg.h).
const (
	wavPCM        = 1
	wavFloat      = 3
	wavExtensible = 0xFFFE
)

// wavRefused names the tags that are known but not read.
var wavRefused = map[uint16]string{
	2: "Microsoft ADPCM", 6: "A-law", 7: "µ-law", 0x11: "IMA ADPCM", 0x31: "GSM 6.10", 0x50: "MPEG audio", 0x55: "MP3 inside WAV",
	0x674F: "Vorbis", 0x6750: "Vorbis", 0x6751: "Vorbis", 0x676F: "Vorbis", 0x6770: "Vorbis", 0x6771: "Vorbis",
}

// Limits of what is taken for a sensible header.
const (
	minRate, maxRate = 2000, 768000
	maxChannels      = 64
)

const wantPCM = "export it as WAV with 16, 24 or 32 bit integer or 32 bit float samples"

// subtypeTail is the fixed part of the subtype GUIDs of WAVE_FORMAT_EXTENSIBLE
// whose first two bytes are a format tag.
var subtypeTail = []byte{0, 0, 0, 0, 0x10, 0, 0x80, 0, 0, 0xAA, 0, 0x38, 0x9B, 0x71}

// parseWAVFormat reads a fmt chunk of at least 16 bytes.
func parseWAVFormat(b []byte) (wavFormat, error) {
	le := binary.LittleEndian
	f := wavFormat{tag: le.Uint16(b), channels: int(le.Uint16(b[2:])), rate: int(le.Uint32(b[4:]))}
	align, width := int(le.Uint16(b[12:])), int(le.Uint16(b[14:]))
	if f.tag == wavExtensible {
		if len(b) < 40 {
			return f, bits.Wrong(wantWAV, "is a damaged WAV file: the fmt chunk of an extensible file has %d bytes instead of 40", len(b))
		}
		f.tag = le.Uint16(b[24:])
		if !bytes.Equal(b[26:40], subtypeTail) {
			return f, bits.Wrong(wantPCM, "is a WAV file with samples of an unknown kind (subtype %x)", b[24:40])
		}
	}
	if err := checkShape(f.channels, f.rate); err != nil {
		return f, err
	}
	f.bytes = (width + 7) / 8
	if width == 24 && align == 4*f.channels {
		f.bytes = 4 // 24 bits in containers of 32 are written; others are not
	}
	if err := f.check(width); err != nil {
		return f, err
	}
	if align != 0 && align != f.frameBytes() {
		f.odd = fmt.Sprintf("The header of the file says that a frame has %d bytes, and its samples make %d; all of it is read, as these say.", align, f.frameBytes())
	}
	return f, nil
}

// checkShape refuses numbers of channels and rates that no song has.
func checkShape(channels, rate int) error {
	if channels < 1 || channels > maxChannels {
		return bits.Wrong(fmt.Sprintf("1 to %d are read", maxChannels), "says it has %d channels", channels)
	}
	if rate < minRate || rate > maxRate {
		return bits.Wrong(fmt.Sprintf("%d to %d Hz are read", minRate, maxRate), "says its sample rate is %d Hz", rate)
	}
	return nil
}

// check refuses kinds of samples that are not read.
func (f wavFormat) check(width int) error {
	if name, ok := wavRefused[f.tag]; ok {
		return bits.Wrong(wantPCM, "is a WAV file with %s samples, which are not read", name)
	}
	if _, err := f.converter(); err != nil {
		return bits.Wrong(wantPCM, "is a WAV file with %d bit samples of kind %d, which are not read", width, f.tag)
	}
	return nil
}

// frameBytes is the size of one frame.
func (f wavFormat) frameBytes() int { return f.bytes * f.channels }

// converter gives the function that makes floats of this kind of samples.
func (f wavFormat) converter() (converter, error) {
	if c, ok := converters[sampleKind{f.tag, f.bytes}]; ok {
		return c, nil
	}
	return nil, bits.Wrong(wantPCM, "is a WAV file with samples of %d bytes and kind %d", f.bytes, f.tag)
}
