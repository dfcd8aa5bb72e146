package audio_test

import (
	"encoding/binary"
	"math"
	"slices"
)

// wavKind is a kind of WAV file, written here for tests.
type wavKind struct {
	tag        uint16 // 1 PCM, 3 float
	bits       int    // of the container
	extensible bool
	rf64       bool
	extra      bool // odd chunks before and after the samples
}

// make writes samples as a file of that kind.
func (k wavKind) make(rate, channels int, samples []float64) []byte {
	var data []byte
	for _, v := range samples {
		data = k.append(data, v)
	}
	var b []byte
	if k.rf64 {
		b = chunk(b, "ds64", concat(u64(0), u64(uint64(len(data))), u64(uint64(len(samples)/channels)), u32(0)))
	}
	if k.extra {
		b = chunk(b, "LIST", []byte("INFOx")) // odd: one byte of padding follows
	}
	b = chunk(b, "fmt ", k.format(rate, channels))
	if k.extra {
		b = chunk(b, "bext", make([]byte, 603))
	}
	at := len(b)
	b = chunk(b, "data", data)
	if k.rf64 {
		copy(b[at+4:], u32(0xFFFFFFFF))
	}
	if k.extra {
		b = chunk(b, "id3 ", []byte("odd"))
	}
	return k.wrap(b)
}

// wrap puts the outer chunk around.
func (k wavKind) wrap(b []byte) []byte {
	if k.rf64 {
		b = concat([]byte("RF64"), u32(0xFFFFFFFF), []byte("WAVE"), b)
		copy(b[20:], u64(uint64(len(b)-8)))
		return b
	}
	return concat([]byte("RIFF"), u32(uint32(len(b)+4)), []byte("WAVE"), b)
}

func (k wavKind) format(rate, channels int) []byte {
	tag := k.tag
	if k.extensible {
		tag = 0xFFFE
	}
	align := channels * k.bits / 8
	b := concat(u16(tag), u16(uint16(channels)), u32(uint32(rate)), u32(uint32(rate*align)), u16(uint16(align)), u16(uint16(k.bits)))
	if k.extensible {
		guid := "\x00\x00\x00\x00\x10\x00\x80\x00\x00\xaa\x00\x38\x9b\x71"
		b = concat(b, u16(22), u16(uint16(k.bits)), u32(0), u16(k.tag), []byte(guid))
	}
	return b
}

// append writes one sample.
func (k wavKind) append(b []byte, v float64) []byte {
	le := binary.LittleEndian
	switch {
	case k.tag == 3 && k.bits == 32:
		return le.AppendUint32(b, math.Float32bits(float32(v)))
	case k.tag == 3:
		return le.AppendUint64(b, math.Float64bits(v))
	case k.bits == 8:
		return append(b, byte(128+math.Round(v*127)))
	}
	full := float64(int64(1)<<(k.bits-1) - 1)
	n := int64(math.Round(v * full))
	for i := range k.bits / 8 {
		b = append(b, byte(n>>(8*i)))
	}
	return b
}

// chunk appends a RIFF chunk with its padding.
func chunk(b []byte, id string, body []byte) []byte {
	b = concat(b, []byte(id), u32(uint32(len(body))), body)
	if len(body)%2 == 1 {
		b = append(b, 0)
	}
	return b
}

func concat(parts ...[]byte) []byte { return slices.Concat(parts...) }
func u16(v uint16) []byte           { return binary.LittleEndian.AppendUint16(nil, v) }
func u32(v uint32) []byte           { return binary.LittleEndian.AppendUint32(nil, v) }
func u64(v uint64) []byte           { return binary.LittleEndian.AppendUint64(nil, v) }

// tones is a signal for WAV files: a different tone in each channel, near full
// scale.
func tones(rate, channels, frames int) []float64 {
	list := make([]float64, 0, frames*channels)
	for i := range frames {
		for c := range channels {
			list = append(list, 0.99*math.Sin(2*math.Pi*float64((c+1)*441*i)/float64(rate)))
		}
	}
	return list
}
