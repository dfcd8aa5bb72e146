package testsound

import (
	"encoding/binary"
	"math"
	"slices"
)

// WAVKind is a kind of WAV file, written here for tests.
type WAVKind struct {
	Tag        uint16 // 1 PCM, 3 float
	Bits       int    // of the container
	Extensible bool
	RF64       bool
	Extra      bool // odd chunks before and after the samples
}

// Make writes samples as a file of that kind.
func (k WAVKind) Make(rate, channels int, samples []float64) []byte {
	var data []byte
	for _, v := range samples {
		data = k.append(data, v)
	}
	var b []byte
	if k.RF64 {
		b = Chunk(b, "ds64", Concat(u64(0), u64(uint64(len(data))), u64(uint64(len(samples)/channels)), U32(0)))
	}
	if k.Extra {
		b = Chunk(b, "LIST", []byte("INFOx")) // odd: one byte of padding follows
	}
	b = Chunk(b, "fmt ", k.Format(rate, channels))
	if k.Extra {
		b = Chunk(b, "bext", make([]byte, 603))
	}
	at := len(b)
	b = Chunk(b, "data", data)
	if k.RF64 {
		copy(b[at+4:], U32(0xFFFFFFFF))
	}
	if k.Extra {
		b = Chunk(b, "id3 ", []byte("odd"))
	}
	return k.Wrap(b)
}

// Wrap puts the outer chunk around.
func (k WAVKind) Wrap(b []byte) []byte {
	if k.RF64 {
		b = Concat([]byte("RF64"), U32(0xFFFFFFFF), []byte("WAVE"), b)
		copy(b[20:], u64(uint64(len(b)-8)))
		return b
	}
	return Concat([]byte("RIFF"), U32(uint32(len(b)+4)), []byte("WAVE"), b)
}

// Format is the body of a fmt chunk.
func (k WAVKind) Format(rate, channels int) []byte {
	tag := k.Tag
	if k.Extensible {
		tag = 0xFFFE
	}
	align := channels * k.Bits / 8
	b := Concat(u16(tag), u16(uint16(channels)), U32(uint32(rate)), U32(uint32(rate*align)), u16(uint16(align)), u16(uint16(k.Bits)))
	if k.Extensible {
		guid := "\x00\x00\x00\x00\x10\x00\x80\x00\x00\xaa\x00\x38\x9b\x71"
		b = Concat(b, u16(22), u16(uint16(k.Bits)), U32(0), u16(k.Tag), []byte(guid))
	}
	return b
}

// append writes one sample.
func (k WAVKind) append(b []byte, v float64) []byte {
	le := binary.LittleEndian
	switch {
	case k.Tag == 3 && k.Bits == 32:
		return le.AppendUint32(b, math.Float32bits(float32(v)))
	case k.Tag == 3:
		return le.AppendUint64(b, math.Float64bits(v))
	case k.Bits == 8:
		return append(b, byte(128+math.Round(v*127)))
	}
	full := float64(int64(1)<<(k.Bits-1) - 1)
	n := int64(math.Round(v * full))
	for i := range k.Bits / 8 {
		b = append(b, byte(n>>(8*i)))
	}
	return b
}

// Chunk appends a RIFF chunk with its padding.
func Chunk(b []byte, id string, body []byte) []byte {
	b = Concat(b, []byte(id), U32(uint32(len(body))), body)
	if len(body)%2 == 1 {
		b = append(b, 0)
	}
	return b
}

// Concat joins parts.
func Concat(parts ...[]byte) []byte { return slices.Concat(parts...) }

// U32 is the bytes of a number, the lowest first.
func U32(v uint32) []byte { return binary.LittleEndian.AppendUint32(nil, v) }

func u16(v uint16) []byte { return binary.LittleEndian.AppendUint16(nil, v) }
func u64(v uint64) []byte { return binary.LittleEndian.AppendUint64(nil, v) }

// Tones is a signal for WAV files: a different tone in each channel, near full
// scale.
func Tones(rate, channels, frames int) []float64 {
	list := make([]float64, 0, frames*channels)
	for i := range frames {
		for c := range channels {
			list = append(list, 0.99*math.Sin(2*math.Pi*float64((c+1)*441*i)/float64(rate)))
		}
	}
	return list
}
