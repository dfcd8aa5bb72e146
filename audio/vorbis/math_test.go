package vorbis

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/audio/bits"
)

func TestVorbisMDCTIsItsFormula(t *testing.T) {
	for _, size := range []int{64, 256, 1024} {
		lines, x := make([]float32, size/2), make([]float32, size)
		r := rand.New(rand.NewPCG(1, 2))
		for i := range lines {
			lines[i] = r.Float32()*2 - 1
		}
		newMDCT(size).inverse(lines, x)
		for i := range x {
			var want float64
			for k, v := range lines {
				want += float64(v) * math.Cos(2*math.Pi/float64(size)*(float64(i)+0.5+float64(size)/4)*(float64(k)+0.5))
			}
			require.InDelta(t, want, x[i], 1e-4, "%d", i)
		}
	}
}

// The example of Vorbis I §3.2.1 (from memory): lengths and their codes.
func TestVorbisCodes(t *testing.T) {
	codes, ok := codesOf([]uint8{2, 4, 4, 4, 4, 2, 3, 3})
	require.True(t, ok)
	require.Equal(t, []bits.Code{
		{Bits: 0b00, Length: 2, Value: 0}, {Bits: 0b0100, Length: 4, Value: 1}, {Bits: 0b0101, Length: 4, Value: 2}, {Bits: 0b0110, Length: 4, Value: 3}, {Bits: 0b0111, Length: 4, Value: 4}, {Bits: 0b10, Length: 2, Value: 5}, {Bits: 0b110, Length: 3, Value: 6}, {Bits: 0b111, Length: 3, Value: 7},
	}, codes)
	for _, bad := range [][]uint8{{1, 1, 1}, {1, 2}, {2, 2, 2}} {
		_, ok := codesOf(bad)
		require.False(t, ok, "%v", bad)
	}
	for _, fine := range [][]uint8{{}, {0, 0}, {0, 1}, {7}} {
		_, ok := codesOf(fine)
		require.True(t, ok, "%v", fine)
	}
}

// Long codes lead through several tables.
func TestVorbisBookReadsCodesOfAllLengths(t *testing.T) {
	var lengths []uint8
	for n := uint8(1); n <= 32; n++ {
		lengths = append(lengths, n)
	}
	lengths = append(lengths, 32)
	codes, ok := codesOf(lengths)
	require.True(t, ok)
	var b book
	b.build(codes)
	for _, c := range codes {
		var packet [5]byte
		for i := range c.Length {
			packet[i/8] |= byte(c.Bits>>(c.Length-1-i)&1) << (i % 8)
		}
		var r bitReader
		r.reset(packet[:])
		require.EqualValues(t, c.Value, b.entry(&r))
		require.EqualValues(t, c.Length, r.pos)
	}
}

func TestLatticeSide(t *testing.T) {
	for _, c := range []struct{ entries, dims, side int }{
		{1, 1, 1}, {625, 4, 5}, {624, 4, 4}, {81, 4, 3}, {6561, 8, 3}, {255, 8, 1}, {256, 8, 2}, {1 << 18, 2, 512}, {7, 65535, 1},
	} {
		require.Equal(t, c.side, latticeSide(c.entries, c.dims), "%v", c)
	}
}

// A header that asks for more memory than any real one is refused at once.
func TestVorbisBookRefusesGreed(t *testing.T) {
	head := func(dims, entries uint64) []byte {
		v := uint64(0x564342) | dims<<24 | entries<<40
		var b []byte
		for i := range 8 {
			b = append(b, byte(v>>(8*i)))
		}
		return append(b, make([]byte, 64)...)
	}
	for _, c := range [][2]uint64{{1, 1<<24 - 1}, {65535, 1 << 17}, {0, 10}, {10, 0}} {
		var r bitReader
		r.reset(head(c[0], c[1]))
		var b book
		require.False(t, b.read(&r, &budget{maxEntries, maxValues}), "%v", c)
	}
}
