package timeline

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Packet times derived from 44 µs a slot (ANSI E1.11) and the shortest break
// and mark that a transmitter sends, 92 and 12 µs (from memory of it):
// 104 + 44 (n + 1).
func TestDMXPacket(t *testing.T) {
	timing := DMXTiming{Break: 92, Mark: 12, Slot: 44}
	for slots, want := range map[float64]float64{512: 22676, 256: 11412, 128: 5780, 24: 1204} {
		require.Equal(t, want, timing.Packet(slots))
	}
	full := timing.Packet(512)
	require.InDelta(t, 44.10, 1e6/full, 0.005, "packets a second")
	require.InDelta(t, 11.3, full/2000, 0.05, "mean delay in ms")
	require.Equal(t, "0.0227", FromMicros(full).Text(4))
}
