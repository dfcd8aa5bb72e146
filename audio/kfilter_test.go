package audio

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// The coefficients of ITU-R BS.1770-4 tables 1 and 2 for 48 kHz (from memory).
func TestKFilterIsThatOfBS1770(t *testing.T) {
	f := newKFilter(48000)
	for _, c := range []struct{ want, got float64 }{
		{1.53512485958697, f.shelf.b0}, {-2.69169618940638, f.shelf.b1}, {1.19839281085285, f.shelf.b2},
		{-1.69065929318241, f.shelf.a1}, {0.73248077421585, f.shelf.a2},
		{1, f.high.b0}, {-2, f.high.b1}, {1, f.high.b2},
		{-1.99004745483398, f.high.a1}, {0.99007225036621, f.high.a2},
	} {
		require.InDelta(t, c.want, c.got, 1e-9)
	}
}
