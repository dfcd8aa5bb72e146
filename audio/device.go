package audio

import (
	"encoding/binary"
	"io"
	"math"

	"github.com/faiface/beep"
)

// DeviceFrame is the number of bytes of a frame from NewDeviceReader.
const DeviceFrame = 8

// deviceReader makes bytes of a stream.
type deviceReader struct {
	s       beep.Streamer
	samples [512][2]float64
}

// NewDeviceReader gives what s streams as bytes for a sound device: stereo,
// float32, little-endian, clipped to ±1. Its Read allocates nothing, fills
// whole frames, and gives io.EOF when s drains.
func NewDeviceReader(s beep.Streamer) io.Reader { return &deviceReader{s: s} }

// Read streams as many frames as fit.
func (d *deviceReader) Read(b []byte) (n int, err error) {
	for len(b)-n >= DeviceFrame {
		want := min(len(d.samples), (len(b)-n)/DeviceFrame)
		got, ok := d.s.Stream(d.samples[:want])
		for _, f := range d.samples[:got] {
			binary.LittleEndian.PutUint32(b[n:], deviceSample(f[0]))
			binary.LittleEndian.PutUint32(b[n+4:], deviceSample(f[1]))
			n += DeviceFrame
		}
		if !ok && n == 0 {
			return 0, drained(d.s)
		}
		if got < want {
			break
		}
	}
	return n, nil
}

// deviceSample is the bits of a clipped sample.
func deviceSample(v float64) uint32 {
	return math.Float32bits(float32(max(-1, min(1, v))))
}

// drained is why a stream gives no more.
func drained(s beep.Streamer) error {
	if err := s.Err(); err != nil {
		return err
	}
	return io.EOF
}
