package app

import (
	"bytes"
	"encoding/binary"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/audio/ltc"
	"emberbeat/audio/testsound"
	"emberbeat/timeline"
)

// A recording with timecode on a channel is told of when it is read; the song can
// be started where it says, and what the player holds is the other channel alone.
func TestTimecodeOfARecordingIsToldAndOffered(t *testing.T) {
	h := withExample(t)
	song := h.a.work.InView()
	rate := h.a.work.Session.Show().Head.Rate
	first, err := rate.Frame(timeline.Timecode{H: 7})
	require.NoError(t, err)
	var b bytes.Buffer
	_, err = (&ltc.Stripe{Rate: rate, SampleRate: 48000, Bits: 16, Level: -6, Runs: []ltc.Run{{First: first, Frames: 50}}}).WriteTo(&b)
	require.NoError(t, err)
	samples := make([]int16, b.Len()) // two channels
	for i := range b.Len() / 2 {
		samples[2*i] = 1000
		samples[2*i+1] = int16(binary.LittleEndian.Uint16(b.Bytes()[2*i:]))
	}
	require.NoError(t, testsound.WriteWAV16(filepath.Join(h.dir, "audio", "coded.wav"), 48000, 2, samples))
	h.a.Use("take-timecode")
	require.Equal(t, song.Start, h.a.work.Session.Show().Song(song.ID).Start, "there is none yet")
	h.a.Do("another recording", func(d *timeline.Draft) error {
		head := timeline.KindOf("song").Clone(&d.Show().Song(song.ID).SongHead).(*timeline.SongHead)
		head.Audio = timeline.Audio{Path: "audio/coded.wav"}
		d.Put("", head)
		return nil
	})
	h.step()
	h.until(func() bool { return h.sound() != nil && h.sound().Ready && len(h.sound().Timecode) > 0 })
	require.Contains(t, h.a.note.text, "channel 2 holds timecode")
	require.Contains(t, h.a.note.text, "never played")
	require.Contains(t, h.a.note.text, "07:00:00:00")
	require.Equal(t, 1, h.sound().PCM.Channels)
	h.a.Use("take-timecode")
	require.Equal(t, timeline.Timecode{H: 7}, h.a.work.Session.Show().Song(song.ID).Start)
}
