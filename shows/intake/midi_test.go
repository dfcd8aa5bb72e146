package intake_test

import (
	"encoding/binary"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/intake"
	"emberbeat/timeline"
)

// file makes a MIDI file of tracks.
func file(format, division uint16, tracks ...[]byte) []byte {
	be := binary.BigEndian
	b := be.AppendUint32([]byte("MThd"), 6)
	b = be.AppendUint16(be.AppendUint16(be.AppendUint16(b, format), uint16(len(tracks))), division)
	for _, t := range tracks {
		b = append(be.AppendUint32(append(b, "MTrk"...), uint32(len(t))), t...)
	}
	return b
}

func join(parts ...[]byte) []byte {
	var all []byte
	for _, p := range parts {
		all = append(all, p...)
	}
	return all
}

// Events with the delta times 0 and, at 96 ticks to a quarter, 384: a bar.
var (
	tempo128  = []byte{0, 0xFF, 0x51, 3, 0x07, 0x27, 0x0E} // 468750 µs, derived
	tempo60   = []byte{0x83, 0, 0xFF, 0x51, 3, 0x0F, 0x42, 0x40}
	metre68   = []byte{0, 0xFF, 0x58, 4, 6, 3, 36, 8}
	metre34in = []byte{0x83, 0, 0xFF, 0x58, 4, 3, 2, 24, 8}
	endTrack  = []byte{0, 0xFF, 0x2F, 0}
)

func marker(delta byte, kind byte, text string) []byte {
	return append([]byte{delta, 0xFF, kind, byte(len(text))}, text...)
}

func found(t *testing.T, data []byte) *intake.Found {
	t.Helper()
	m, err := intake.ReadMIDI(data)
	require.NoError(t, err)
	f, err := m.Found()
	require.NoError(t, err)
	return f
}

func TestTempoMap(t *testing.T) {
	f := found(t, file(0, 96, join(tempo128, tempo60, endTrack)))
	require.Equal(t, timeline.Time(0), f.Beats.BarStart(1))
	require.Equal(t, timeline.FromMillis(1875), f.Beats.BarStart(2))
	require.Equal(t, timeline.FromMillis(5875), f.Beats.BarStart(3))
	require.Equal(t, "4/4", f.Beats.MetreAt(1).String())

	// A file that says nothing about tempo has no beat map to give.
	require.True(t, found(t, file(0, 96, join(marker(0, 6, "go"), endTrack))).Beats.Empty())
}

// The tempo that holds where a file says none is a tempo all the same where it is
// said: 120 quarters a minute are bars of 2 s.
func TestTempoSaidAsTheUsual(t *testing.T) {
	f := found(t, file(0, 96, join([]byte{0, 0xFF, 0x51, 3, 0x07, 0xA1, 0x20}, endTrack))) // 500000 µs
	require.False(t, f.Beats.Empty())
	require.Equal(t, 2*timeline.Second, f.Beats.BarStart(2))
	require.Equal(t, "4/4", f.Beats.MetreAt(1).String())

	// Zero is no tempo, and so says nothing.
	require.True(t, found(t, file(0, 96, join([]byte{0, 0xFF, 0x51, 3, 0, 0, 0}, endTrack))).Beats.Empty())
}

// A time signature inside a bar ends that bar.
func TestSignatureInsideBar(t *testing.T) {
	f := found(t, file(0, 96, join([]byte{0, 0xFF, 0x58, 4, 5, 2, 24, 8}, metre34in, endTrack))) // 5/4, cut after four quarters
	require.Empty(t, f.Notes)
	require.Equal(t, "4/4", f.Beats.MetreAt(1).String())
	require.Equal(t, "3/4", f.Beats.MetreAt(2).String())
	require.Equal(t, 2*timeline.Second, f.Beats.BarStart(2)) // four quarters of half a second
	require.Equal(t, "6/8", found(t, file(0, 96, join(metre68, endTrack))).Beats.MetreAt(7).String())
}

// Markers on bar lines are sections, others and cue points markers; a track's
// name decides where it tells.
func TestNames(t *testing.T) {
	f := found(t, file(1, 96, join(tempo128, marker(0, 6, "Verse"), marker(10, 6, "hit"), marker(0, 7, "curtain"), marker(0, 6, ""), endTrack),
		join(marker(0, 3, "markers"), marker(0, 6, "start"), endTrack), join(marker(0, 3, "sections"), marker(96, 6, "Bridge"), endTrack)))
	require.Len(t, f.Sections, 2)
	require.Equal(t, "Verse", f.Sections[0].Name)
	require.Equal(t, "1.1", f.Sections[0].At.String())
	require.Equal(t, "1.2", f.Sections[1].At.String())
	require.Len(t, f.Markers, 3)
	require.Equal(t, "start", f.Markers[0].Name)
	require.Equal(t, "1.1+5/48", f.Markers[1].At.String())
}

// A text event tells which bar the first bar line is.
func TestBarNumbers(t *testing.T) {
	f := found(t, file(0, 96, join(marker(0, 1, "bar 5 at tick 384"), tempo128, tempo60, endTrack)))
	require.Equal(t, timeline.FromMillis(1875), f.Beats.BarStart(5))
	f = found(t, file(0, 96, join(marker(0, 1, "bar 5 at tick 100"), tempo128, tempo60, endTrack)))
	require.Equal(t, timeline.FromMillis(1875), f.Beats.BarStart(2))
	require.Len(t, f.Notes, 1)
}

// Ticks that are parts of a frame have times and no beats.
func TestFrameDivision(t *testing.T) {
	m, err := intake.ReadMIDI(file(0, 0xE728, join(marker(100, 6, "at 0.1 s"), endTrack))) // 25 frames of 40 ticks: milliseconds (RP-001)
	require.NoError(t, err)
	require.Equal(t, timeline.FromMillis(100), m.TimeAt(100))
	f, err := m.Found()
	require.NoError(t, err)
	require.True(t, f.Beats.Empty())
	require.Equal(t, "0:00.1000", f.Markers[0].At.String())

	// The four frame rates of the standard (RP-001); -29 is 30 drop frame, whose
	// frames are 1001/30000 s long as those of 29.97 are.
	for division, second := range map[uint16]timeline.Time{
		0xE802: timeline.FromMillis(1250), 0xE702: timeline.FromMillis(1200), 0xE302: timeline.FromMillis(1001), 0xE202: timeline.FromMillis(1000),
	} {
		m, err := intake.ReadMIDI(file(0, division, endTrack))
		require.NoError(t, err)
		require.Equal(t, second, m.TimeAt(60), "30 frames of %04x", division)
	}
}

func TestFilesThatAreNone(t *testing.T) {
	for want, data := range map[string][]byte{
		"no Standard MIDI File": []byte("MThx\x00\x00\x00\x06\x00\x00\x00\x01\x00\x60"),
		"format 2":              file(2, 96),
		"0 ticks":               file(0, 0),
		"no division":           file(0, 0x9001),
		"1000 hours": file(0, 1, join([]byte{0, 0xFF, 0x51, 3, 0xFF, 0xFF, 0xFF},
			[]byte{0xFF, 0xFF, 0xFF, 0x7F, 0xFF, 0x2F, 0})),
	} {
		_, err := intake.ReadMIDI(data)
		require.ErrorContains(t, err, want)
	}
	m, err := intake.ReadMIDI(file(0, 96, join([]byte{0, 0xFF, 0x51, 3, 0, 0, 1}, endTrack)))
	require.NoError(t, err)
	_, err = m.Found()
	require.ErrorContains(t, err, "tempo map cannot be taken")
}

// A file that ends early is read as far as it goes.
func TestDamagedFiles(t *testing.T) {
	whole := file(0, 96, join(tempo128, tempo60, endTrack))
	for n := 14; n < len(whole); n++ {
		m, err := intake.ReadMIDI(whole[:n])
		require.NoError(t, err)
		if n < len(whole)-4 { // only the end of the track is missing after that
			require.NotEmpty(t, m.Notes, "%d bytes", n)
		}
	}
	// A meta event that claims 256 MB is 20 bytes of work.
	m, err := intake.ReadMIDI(file(0, 96, []byte{0, 0xFF, 1, 0xFF, 0xFF, 0xFF, 0x7F}))
	require.NoError(t, err)
	require.Len(t, m.Notes, 1)
}

// Whatever the bytes, reading ends, and what is found is a legal edit.
func FuzzMIDI(f *testing.F) {
	f.Add(file(0, 96, join(tempo128, metre68, tempo60, metre34in, marker(3, 6, "a"), endTrack)))
	f.Add(file(1, 0xE728, join(marker(100, 6, "x"), endTrack)))
	f.Add(file(0, 480, join(marker(0, 1, "bar -3 at tick 0"), []byte{5, 0x90, 60, 1, 5, 60, 0, 0, 0xF0, 1, 0xF7, 0, 0xC0, 1}, metre68, endTrack)))
	f.Fuzz(func(t *testing.T, data []byte) {
		m, err := intake.ReadMIDI(data)
		if err != nil {
			return
		}
		found, err := m.Found()
		if err != nil {
			return
		}
		putInto(t, found)
	})
}
