package audio

import (
	"encoding/binary"
	"fmt"
	"io"
)

// EncodeWAV16 writes a 16 bit WAV file to w.
func EncodeWAV16(w io.Writer, rate, channels int, samples []int16) error {
	if err := checkShape(channels, rate); err != nil {
		return err
	}
	if len(samples)%channels != 0 {
		return fmt.Errorf("%d samples are not whole frames of %d channels", len(samples), channels)
	}
	if int64(len(samples)) > (1<<32-1-36)/2 {
		return fmt.Errorf("%d samples are too many for a WAV file of 4 GB", len(samples))
	}
	if _, err := w.Write(wavHeader16(rate, channels, len(samples)*2)); err != nil {
		return err
	}
	return writeS16(w, samples)
}

// wavHeader16 is the header before size bytes of 16 bit samples.
func wavHeader16(rate, channels, size int) []byte {
	le := binary.LittleEndian
	b := append([]byte("RIFF"), le.AppendUint32(nil, uint32(36+size))...)
	b = le.AppendUint32(append(b, "WAVEfmt "...), 16)
	b = le.AppendUint16(le.AppendUint16(b, wavPCM), uint16(channels))
	b = le.AppendUint32(le.AppendUint32(b, uint32(rate)), uint32(rate*channels*2))
	b = le.AppendUint16(le.AppendUint16(b, uint16(channels*2)), 16)
	return le.AppendUint32(append(b, "data"...), uint32(size))
}

// writeS16 writes samples in blocks.
func writeS16(w io.Writer, samples []int16) error {
	buf := make([]byte, 0, 8192)
	for len(samples) > 0 {
		n := min(len(samples), cap(buf)/2)
		buf = buf[:0]
		for _, v := range samples[:n] {
			buf = binary.LittleEndian.AppendUint16(buf, uint16(v))
		}
		if _, err := w.Write(buf); err != nil {
			return err
		}
		samples = samples[n:]
	}
	return nil
}
