package arrival_test

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"io"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/audio/ltc"
	"emberbeat/audio/testsound"
	"emberbeat/shows"
	"emberbeat/shows/arrival"
	"emberbeat/shows/session"
	"emberbeat/timeline"
)

// dying is a storage that does so many things and then no more, as when the program is
// killed.
type dying struct {
	shows.Storage
	left int
}

var errDead = errors.New("nothing is done any more")

func (d *dying) alive() error {
	if d.left--; d.left < 0 {
		return errDead
	}
	return nil
}

// Write leaves half of what it was about to write.
func (d *dying) Write(name string, r io.Reader) error {
	if err := d.alive(); err != nil {
		if b, read := io.ReadAll(r); d.left == -1 && read == nil {
			_ = d.Storage.Write(name, bytes.NewReader(b[:len(b)/2]))
		}
		return err
	}
	return d.Storage.Write(name, r)
}

func (d *dying) Rename(from, to string) error {
	if err := d.alive(); err != nil {
		return err
	}
	return d.Storage.Rename(from, to)
}

func (d *dying) Remove(name string) error {
	if err := d.alive(); err != nil {
		return err
	}
	return d.Storage.Remove(name)
}

func (d *dying) MkdirAll(dir string) error {
	if err := d.alive(); err != nil {
		return err
	}
	return d.Storage.MkdirAll(dir)
}

func (d *dying) SyncDir(dir string) error {
	if err := d.alive(); err != nil {
		return err
	}
	return d.Storage.SyncDir(dir)
}

// Killed anywhere between the first byte of the recording's copy and the end of the
// save, a show is what it was or what it became; a recording that nothing names is told
// of, and carrying over again takes it.
func TestKilledBetweenCopyAndSave(t *testing.T) {
	sound := music(t)
	dir, s, song := tour(t, sound, session.Options{})
	ctx := context.Background()
	edit := write(t, filepath.Join(t.TempDir(), "take 9.wav"), sound[2*rate:])
	desk := arrival.At(s)
	list, err := desk.Look(ctx, []string{edit}, arrival.Options{})
	require.NoError(t, err)
	before := s.Show()
	after, err := before.Edit(list[0].Try())
	require.NoError(t, err)
	require.NotEmpty(t, timeline.Diff(before, after))
	require.NoError(t, s.Close())

	untouched := t.TempDir()
	require.NoError(t, os.CopyFS(filepath.Join(untouched, "tour"), os.DirFS(dir)))
	was, became, stray := 0, 0, 0
	for n := 0; ; n++ {
		require.NoError(t, os.RemoveAll(dir))
		require.NoError(t, os.CopyFS(dir, os.DirFS(filepath.Join(untouched, "tour"))))
		disk := &dying{shows.OS(dir), n}
		killed, err := session.Open(dir, session.Options{NoJournal: true, Storage: disk})
		require.NoError(t, err)
		if _, err = desk.On(killed).Accept(ctx, list[0]); err == nil {
			err = killed.Save()
		}
		_ = killed.Close() // it is as good as dead
		if disk.left >= 0 {
			require.NoError(t, err)
			break
		}
		s, err := session.Open(dir, session.Options{ReadOnly: true})
		require.NoError(t, err, n)
		unnamed, err := s.Unnamed()
		require.NoError(t, err)
		switch {
		case len(timeline.Diff(before, s.Show())) == 0:
			was++
			if _, err := os.Stat(filepath.Join(dir, shows.AudioDir, "take 9.wav")); err == nil {
				require.Equal(t, []string{"audio/take 9.wav"}, unnamed, n)
				stray++
			}
		default:
			became++
			require.Empty(t, timeline.Diff(after, s.Show()), n)
			require.NotContains(t, unnamed, "audio/take 9.wav", n)
		}
		require.NoError(t, s.Close())

		again, err := session.Open(dir, session.Options{NoJournal: true})
		require.NoError(t, err, n)
		if len(timeline.Diff(before, again.Show())) == 0 {
			_, err = desk.On(again).Accept(ctx, list[0])
			require.NoError(t, err, n)
			require.NoError(t, again.Save())
		}
		require.Empty(t, timeline.Diff(after, again.Show()), n)
		require.Equal(t, []string{"kettle.wav", "take 9.wav"}, files(t, dir), n)
		require.NoError(t, again.Close())
	}
	require.Positive(t, was)
	require.Positive(t, became)
	require.Positive(t, stray)
	require.Equal(t, song, list[0].Song)
}

// Timecode on a channel says where the song starts: it is offered, taken where that is
// said, and no part of the music.
func TestStartOnATimecodeChannel(t *testing.T) {
	sound := music(t)
	_, s, song := tour(t, sound, session.Options{})
	ctx := context.Background()
	first, err := timeline.Rate25.Frame(timeline.Timecode{H: 5})
	require.NoError(t, err)
	var b bytes.Buffer
	_, err = (&ltc.Stripe{Rate: timeline.Rate25, SampleRate: rate, Bits: 16, Level: -6, Runs: []ltc.Run{{First: first, Frames: 28 * 25}}}).WriteTo(&b)
	require.NoError(t, err)
	var both []int16
	for i := range sound[:28*rate] {
		both = append(both, sound[2*rate+i], int16(binary.LittleEndian.Uint16(b.Bytes()[2*i:])))
	}
	coded := filepath.Join(t.TempDir(), "coded.wav")
	require.NoError(t, testsound.WriteWAV16(coded, rate, 2, both))
	plain := write(t, filepath.Join(t.TempDir(), "plain.wav"), sound[2*rate:])

	desk := arrival.At(s)
	list, err := desk.Look(ctx, []string{coded}, arrival.Options{})
	require.NoError(t, err)
	a := list[0]
	require.Equal(t, arrival.Carries, a.Verdict, a.Why)
	require.Equal(t, []arrival.Start{{From: "timecode on channel 2", At: timeline.Timecode{H: 5}, Rate: timeline.Rate25}}, a.Starts)
	require.NotNil(t, a.Offered(timeline.Rate25))
	require.Nil(t, a.Proposal.Start, "it is only offered")
	require.Len(t, a.Proposal.Map.Runs, 1)
	require.True(t, a.Proposal.Map.Runs[0].Exact)
	require.InDelta(t, 2, (a.Proposal.Map.Runs[0].Old - a.Proposal.Map.Runs[0].New).Seconds(), 0.001)

	// Of several recordings those start elsewhere that say so; where none does, that is told.
	_, err = desk.Look(ctx, []string{plain}, arrival.Options{Start: true})
	require.ErrorContains(t, err, "no start of timecode that the show could take is said by "+plain)
	list, err = desk.Look(ctx, []string{coded}, arrival.Options{Start: true})
	require.NoError(t, err)
	_, err = desk.Accept(ctx, list[0])
	require.NoError(t, err)
	require.Equal(t, timeline.Timecode{H: 5}, s.Show().Song(song).Start)
	require.Equal(t, []int(nil), s.Show().Song(song).Audio.Heard)
}
