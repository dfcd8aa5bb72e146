package flac

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/audio/bits"
)

// FuzzFLACBlock reads subframes from any bytes: in whole files checksums keep
// damage away from here.
func FuzzFLACBlock(f *testing.F) {
	f.Add([]byte{0x00, 0x12, 0x34}, uint8(16), uint16(100))
	f.Add([]byte{0x10, 1, 2, 3, 4, 5, 6, 7, 8, 9}, uint8(24), uint16(16))
	f.Add([]byte{0x12, 0, 1, 0, 2, 0x20, 0xFF, 0x80, 0x80}, uint8(16), uint16(8))
	f.Add([]byte{0x60, 0xFF, 0x80, 0x11, 0x22, 0x33, 0x44, 0x55}, uint8(8), uint16(33))
	f.Fuzz(func(t *testing.T, b []byte, width uint8, frames uint16) {
		in := bits.NewWindow(bytes.NewReader(b))
		r, err := in.Bits(len(b))
		require.NoError(t, err)
		readSubframe(&r, make([]int64, int(frames)+1), int(width)%33+1)
	})
}
