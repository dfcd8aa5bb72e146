package intake_test

import (
	"bytes"
	"context"
	"encoding/binary"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/audio/ltc"
	"emberbeat/audio/testsound"
	"emberbeat/shows/intake"
	"emberbeat/timeline"
)

// Timecode on the right channel beside something else on the left.
func TestTimecodeOfAChannel(t *testing.T) {
	var b bytes.Buffer
	s := ltc.Stripe{Rate: timeline.Rate2997DF, SampleRate: 44100, Bits: 16, Level: -20, Runs: []ltc.Run{{First: 107892, Frames: 30}}}
	_, err := s.WriteTo(&b)
	require.NoError(t, err)
	var both []int16
	for i := 0; i < b.Len(); i += 2 {
		both = append(both, int16(i*37), int16(binary.LittleEndian.Uint16(b.Bytes()[i:])))
	}
	path := filepath.Join(t.TempDir(), "both.wav")
	require.NoError(t, testsound.WriteWAV16(path, 44100, 2, both))
	r, info, err := intake.ReadTimecode(context.Background(), path, 2, nil)
	require.NoError(t, err)
	require.Equal(t, 44100, info.Rate)
	require.Equal(t, timeline.Rate2997DF, r.Rate)
	require.EqualValues(t, 30, r.Frames)
	require.Equal(t, "01:00:00:00", r.First.Label.String())
	r, _, err = intake.ReadTimecode(context.Background(), path, 1, nil)
	require.NoError(t, err)
	require.Zero(t, r.Frames)
	_, _, err = intake.ReadTimecode(context.Background(), path, 3, nil)
	require.ErrorContains(t, err, "no channel 3")
}
