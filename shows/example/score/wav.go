package score

import (
	"encoding/binary"
	"fmt"
	"io"
)

// WriteWAV writes 16-bit stereo samples, as Render gives them, as a WAV file
// at SampleRate. The error is the writer's, or says that the samples are not
// in pairs.
func WriteWAV(w io.Writer, samples []int16) error {
	const channels, width, header = 2, 2, 36
	if len(samples)%channels != 0 {
		return fmt.Errorf("wav: %d samples do not make whole stereo pairs", len(samples))
	}
	size := uint32(len(samples) * width)
	b := make([]byte, 0, 8+header+int(size))
	b = append(b, "RIFF"...)
	b = binary.LittleEndian.AppendUint32(b, header+size)
	b = append(b, "WAVEfmt "...)
	b = binary.LittleEndian.AppendUint32(b, 16) // length of the format that follows
	b = binary.LittleEndian.AppendUint16(b, 1)  // plain integers
	b = binary.LittleEndian.AppendUint16(b, channels)
	b = binary.LittleEndian.AppendUint32(b, SampleRate)
	b = binary.LittleEndian.AppendUint32(b, SampleRate*channels*width)
	b = binary.LittleEndian.AppendUint16(b, channels*width)
	b = binary.LittleEndian.AppendUint16(b, 8*width)
	b = append(b, "data"...)
	b = binary.LittleEndian.AppendUint32(b, size)
	for _, s := range samples {
		b = binary.LittleEndian.AppendUint16(b, uint16(s))
	}
	_, err := w.Write(b)
	return err
}
