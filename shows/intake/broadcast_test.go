package intake_test

import (
	"bytes"
	"encoding/binary"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/intake"
	"emberbeat/timeline"
)

// chunk makes a RIFF chunk, padded to even.
func chunk(id string, parts ...[]byte) []byte {
	body := join(parts...)
	b := append(binary.LittleEndian.AppendUint32([]byte(id), uint32(len(body))), body...)
	if len(body)%2 == 1 {
		b = append(b, 0)
	}
	return b
}

func le32(v uint32) []byte { return binary.LittleEndian.AppendUint32(nil, v) }

func format(rate uint32) []byte {
	return chunk("fmt ", []byte{1, 0, 1, 0}, le32(rate), le32(rate*2), []byte{2, 0, 16, 0})
}

// bext makes a broadcast extension with a time reference.
func bext(reference uint64) []byte {
	b := make([]byte, 602)
	copy(b, "night one")
	copy(b[256:], "recorder")
	copy(b[320:], "2031-05-09")
	copy(b[330:], "20:00:00")
	binary.LittleEndian.PutUint64(b[338:], reference)
	return chunk("bext", b)
}

func cues(samples ...uint32) []byte {
	b := le32(uint32(len(samples)))
	for i, s := range samples {
		b = append(b, join(le32(uint32(i+1)), le32(uint32(i)), []byte("data"), le32(0), le32(0), le32(s))...)
	}
	return chunk("cue ", b)
}

func wave(chunks ...[]byte) []byte {
	body := join(append([][]byte{[]byte("WAVE")}, chunks...)...)
	return append(append([]byte("RIFF"), le32(uint32(len(body)))...), body...)
}

func broadcast(t *testing.T, data []byte) *intake.Broadcast {
	t.Helper()
	b, err := intake.ReadBroadcast(bytes.NewReader(data), int64(len(data)))
	require.NoError(t, err)
	return b
}

// Time references derived from samples since midnight.
func TestTimeReference(t *testing.T) {
	for _, c := range []struct {
		rate      uint32
		reference uint64
		want      string
	}{
		{48000, 0x0A4CB800, "01:00:00:00"},
		{48000, 0x14997000, "02:00:00:00"},
		{48000, 0xCDFE6000, "20:00:00:00"},
		{96000, 23 * 3600 * 96000, "23:00:00:00"}, // needs the high word
		{44100, 44100 * 60, "00:01:00:00"},
	} {
		b := broadcast(t, wave(format(c.rate), bext(c.reference), chunk("data", []byte{0, 0})))
		require.Equal(t, "night one", b.Description)
		require.Equal(t, "recorder", b.Originator)
		require.Equal(t, "2031-05-09", b.Date)
		require.Equal(t, "20:00:00", b.Time)
		f, err := b.Found(timeline.Rate25)
		require.NoError(t, err)
		require.Equal(t, c.want, f.Start.String())
		require.Empty(t, f.Notes)
	}
	f, err := broadcast(t, wave(format(48000), bext(48001))).Found(timeline.Rate25)
	require.NoError(t, err)
	require.Len(t, f.Notes, 1, "no whole frame")
	_, err = broadcast(t, wave(format(48000), bext(48000*86400))).Found(timeline.Rate25)
	require.ErrorContains(t, err, "does not cross midnight")
	_, err = broadcast(t, wave(format(48000), bext(1<<60))).Found(timeline.Rate25)
	require.ErrorContains(t, err, "no time of a day")
}

func TestCueLabels(t *testing.T) {
	adtl := chunk("LIST", []byte("adtl"), chunk("labl", le32(2), []byte("drop\x00")), chunk("note", le32(1), []byte("the start\x00")),
		chunk("ltxt", le32(2), le32(10), []byte("rgn "), make([]byte, 8)), chunk("note", le32(2), []byte("loud\x00")))
	b := broadcast(t, wave(format(48000), cues(96000, 48000, 5), adtl))
	require.Equal(t, []intake.CueLabel{{Sample: 5, Name: "marker 3"}, {Sample: 48000, Name: "drop"}, {Sample: 96000, Name: "the start"}}, b.Labels)
	f, err := b.Found(timeline.Rate25)
	require.NoError(t, err)
	require.Equal(t, "0:01.0000", f.Markers[1].At.String())
	require.Nil(t, f.Start)
}

func TestDamagedBroadcasts(t *testing.T) {
	b := broadcast(t, wave(format(48000), chunk("bext", make([]byte, 100))))
	require.False(t, b.HasExtension)
	require.Len(t, b.Notes, 1)
	b = broadcast(t, wave(format(48000), chunk("cue ", le32(1<<31), make([]byte, 24))))
	require.Len(t, b.Labels, 1)
	whole := wave(format(48000), bext(48000))
	b = broadcast(t, whole[:len(whole)-10])
	require.False(t, b.HasExtension)
	require.Len(t, b.Notes, 1)
	_, err := intake.ReadBroadcast(bytes.NewReader([]byte("RIFF")), 4)
	require.ErrorContains(t, err, "no WAV")
	_, err = broadcast(t, wave()).Found(timeline.Rate25)
	require.ErrorContains(t, err, "sample rate")
}

func TestReadFile(t *testing.T) {
	dir := t.TempDir()
	for name, c := range map[string]struct {
		data []byte
		want string
	}{
		"song.mid": {file(0, 96, join(tempo128, tempo60, endTrack)), ""},
		"song.wav": {wave(format(48000), bext(48000)), ""},
		"song.txt": {[]byte("hello"), "neither"},
		"none":     {nil, "neither"},
		"bad.mid":  {[]byte("MThd"), "no Standard MIDI File"},
	} {
		path := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(path, c.data, 0o600))
		f, err := intake.ReadFile(path, timeline.Rate25)
		if c.want != "" {
			require.ErrorContains(t, err, c.want, name)
			continue
		}
		require.NoError(t, err)
		require.False(t, f.Empty())
	}
	_, err := intake.ReadFile(filepath.Join(dir, "missing"), timeline.Rate25)
	require.ErrorIs(t, err, os.ErrNotExist)
}

// Whatever the bytes, reading ends, and what is found is a legal edit.
func FuzzBroadcast(f *testing.F) {
	f.Add(wave(format(48000), bext(48000), cues(1, 2), chunk("LIST", []byte("adtl"), chunk("labl", le32(2), []byte("drop\x00")))))
	f.Add(append([]byte("RF64\xff\xff\xff\xffWAVE"), join(chunk("ds64", make([]byte, 28)), format(44100), chunk("data", []byte{1, 2}))...))
	f.Fuzz(func(t *testing.T, data []byte) {
		b, err := intake.ReadBroadcast(bytes.NewReader(data), int64(len(data)))
		if err != nil {
			return
		}
		found, err := b.Found(timeline.Rate2997DF)
		if err != nil {
			return
		}
		putInto(t, found)
	})
}
