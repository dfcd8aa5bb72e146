package stripe

import (
	"encoding/binary"
	"math"
)

// Sizes of a WAV file's head, without the eight bytes in front.
const (
	riffHead = 36
	ds64Size = 28
)

// waveHead is what stands before n samples of one channel in a WAV file. A file
// over 4 GB becomes RF64, whose ds64 chunk holds the sizes (EBU Tech 3306).
func waveHead(n int64, rate, bits int) []byte {
	le := binary.LittleEndian
	size := n * int64(bits/8)
	riff, data := riffHead+size+size%2, size
	b := make([]byte, 0, 80)
	if riff > math.MaxUint32 {
		b = append(b, "RF64\xff\xff\xff\xffWAVEds64"...)
		b = le.AppendUint32(b, ds64Size)
		b = le.AppendUint64(b, uint64(riff)+8+ds64Size)
		b = le.AppendUint64(b, uint64(size))
		b = le.AppendUint64(b, uint64(n))
		b = le.AppendUint32(b, 0) // no sizes of other chunks
		data = math.MaxUint32
	} else {
		b = append(b, "RIFF"...)
		b = le.AppendUint32(b, uint32(riff))
		b = append(b, "WAVE"...)
	}
	b = le.AppendUint32(append(b, "fmt "...), 16)
	b = le.AppendUint16(le.AppendUint16(b, 1), 1) // integers, one channel
	b = le.AppendUint32(le.AppendUint32(b, uint32(rate)), uint32(rate*bits/8))
	b = le.AppendUint16(le.AppendUint16(b, uint16(bits/8)), uint16(bits))
	return le.AppendUint32(append(b, "data"...), uint32(data))
}

// wavePad is what stands after n samples: chunks are even.
func wavePad(n int64, bits int) []byte { return make([]byte, n*int64(bits/8)%2) }
