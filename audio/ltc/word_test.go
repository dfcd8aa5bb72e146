package ltc_test

import (
	"encoding/hex"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/audio/ltc"
	"emberbeat/timeline"
)

// Codewords derived by hand from the bit table of SMPTE ST 12-1, bytes with the
// first bit lowest.
func TestWordBytes(t *testing.T) {
	for _, c := range []struct {
		rate  timeline.Rate
		label string
		want  string
	}{
		{timeline.Rate25, "00:00:00:00", "00 00 00 00 00 00 00 08 FC BF"},
		{timeline.Rate25, "01:02:03:04", "04 00 03 00 02 00 01 00 FC BF"},
		{timeline.Rate25, "23:59:59:24", "04 02 09 05 09 05 03 02 FC BF"},
		{timeline.Rate30, "10:11:12:13", "03 01 02 09 01 01 00 01 FC BF"},
		{timeline.Rate30, "23:59:59:29", "09 02 09 0D 09 05 03 02 FC BF"},
		{timeline.Rate2997DF, "00:00:00:00", "00 04 00 00 00 00 00 00 FC BF"}, // the drop flag alone evens the ones
	} {
		tc, err := timeline.ParseTimecode(c.label)
		require.NoError(t, err)
		w := ltc.NewWord(c.rate, tc)
		require.Equal(t, c.want, strings.ToUpper(spaced(w[:])), "%s at %s", c.label, c.rate)
	}
}

func spaced(b []byte) string {
	var parts []string
	for _, x := range b {
		parts = append(parts, hex.EncodeToString([]byte{x}))
	}
	return strings.Join(parts, " ")
}

// Every label of a day at every rate is read back from its codeword, whose
// ones are even and whose user bits and group flags are zero.
func TestWordsOfADay(t *testing.T) {
	for _, rate := range timeline.Rates() {
		for f := int64(0); f < rate.DayFrames(); f += 7 { // 7 is prime to every count of frames
			tc, err := rate.Timecode(f)
			require.NoError(t, err)
			w := ltc.NewWord(rate, tc)
			got, ok := w.Label()
			if !ok || got != tc || w.Drop() != rate.Drop() || w.UserBits() != 0 || w.GroupFlags(rate) != 0 {
				t.Fatalf("%s at %s: %v", tc, rate, w)
			}
		}
	}
}

func TestLabelsThatAreNone(t *testing.T) {
	for _, w := range []ltc.Word{{0x0A}, {0x00, 0x03}, {0, 0, 0, 0x06}, {0, 0, 0, 0, 0, 0x06}, {0, 0, 0, 0, 0, 0, 0x04, 0x02}} {
		_, ok := w.Label()
		require.False(t, ok, "%v", w)
	}
}

// Group flags stand at 27, 58, 43 at 25 frames and at 43, 58, 59 otherwise
// (SMPTE ST 12-1).
func TestGroupFlagPlaces(t *testing.T) {
	var w ltc.Word
	w[27/8] |= 1 << (27 % 8)
	require.Equal(t, 1, w.GroupFlags(timeline.Rate25))
	require.Equal(t, 0, w.GroupFlags(timeline.Rate30))
	w[59/8] |= 1 << (59 % 8)
	require.Equal(t, 4, w.GroupFlags(timeline.Rate30))
	require.EqualValues(t, 0, w.UserBits())
}
