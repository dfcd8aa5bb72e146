package audio

import (
	"encoding/binary"
	"math"

	"emberbeat/audio/bits"
)

// sampleKind is a way of writing samples: format tag and bytes a sample.
type sampleKind struct {
	tag   uint16
	bytes int
}

// converter makes floats of all whole samples in src.
type converter func(dst []float32, src []byte)

// converters holds the kinds of samples that are read. 8 bit samples are
// unsigned, all others signed, little-endian.
var converters = map[sampleKind]converter{
	{wavPCM, 1}:   fromU8,
	{wavPCM, 2}:   fromS16,
	{wavPCM, 3}:   fromS24,
	{wavPCM, 4}:   fromS32,
	{wavFloat, 4}: fromF32,
	{wavFloat, 8}: fromF64,
}

func fromU8(dst []float32, src []byte) {
	for i, b := range src {
		dst[i] = float32(int(b)-128) / (1 << 7)
	}
}

func fromS16(dst []float32, src []byte) {
	for i := range len(src) / 2 {
		dst[i] = float32(int16(binary.LittleEndian.Uint16(src[2*i:]))) / (1 << 15)
	}
}

func fromS24(dst []float32, src []byte) {
	for i := range len(src) / 3 {
		b := src[3*i : 3*i+3]
		v := int32(uint32(b[0])<<8|uint32(b[1])<<16|uint32(b[2])<<24) >> 8
		dst[i] = float32(v) / (1 << 23)
	}
}

func fromS32(dst []float32, src []byte) {
	for i := range len(src) / 4 {
		dst[i] = float32(int32(binary.LittleEndian.Uint32(src[4*i:]))) / (1 << 31)
	}
}

func fromF32(dst []float32, src []byte) {
	for i := range len(src) / 4 {
		dst[i] = bits.Sane(math.Float32frombits(binary.LittleEndian.Uint32(src[4*i:])))
	}
}

func fromF64(dst []float32, src []byte) {
	for i := range len(src) / 8 {
		dst[i] = bits.Sane(float32(math.Float64frombits(binary.LittleEndian.Uint64(src[8*i:]))))
	}
}
