package arrival_test

import (
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/audio"
	"emberbeat/audio/testsound"
	"emberbeat/shows"
	"emberbeat/shows/arrival"
	"emberbeat/shows/example"
	"emberbeat/shows/session"
	"emberbeat/timeline"
	"emberbeat/timeline/carry"
)

// rate and length of the recordings: half a minute of one of the example's songs.
const rate = 44100

// music gives half a minute of a song of the example, one channel.
func music(t testing.TB) []int16 {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "example")
	require.NoError(t, example.CopyTo(dir))
	pcm, err := audio.Decode(context.Background(), filepath.Join(dir, "audio", "kettle-lightning.ogg"), nil)
	require.NoError(t, err)
	require.Equal(t, rate, pcm.Rate)
	var mono []int16
	for i := 10 * rate; i < 40*rate; i++ {
		mono = append(mono, int16(max(-1, min(pcm.Samples[i*pcm.Channels], 1))*32767))
	}
	return mono
}

func write(t testing.TB, path string, pieces ...[]int16) string {
	t.Helper()
	require.NoError(t, testsound.WriteWAV16(path, rate, 1, slices.Concat(pieces...)))
	return path
}

// tour is a show of one song with three cues, of which the second stands at 15 s.
func tour(t testing.TB, sound []int16, o session.Options) (dir string, s *session.Session, song timeline.ID) {
	t.Helper()
	t.Setenv(shows.StateEnv, t.TempDir())
	dir = filepath.Join(t.TempDir(), "tour")
	require.NoError(t, shows.Create(dir, timeline.NewShow("tour1", "Gravel and Tin", timeline.Rate25)))
	if o.Cache == nil {
		o.Cache = audio.OpenCache(t.TempDir())
	}
	if o.Storage != nil {
		o.Storage.(*full).Storage = shows.OS(dir)
	}
	s, err := session.Open(dir, o)
	require.NoError(t, err)
	t.Cleanup(func() { _ = s.Close() }) // a test that closes it itself has looked at the error
	song, err = s.AddSong(context.Background(), write(t, filepath.Join(t.TempDir(), "kettle.wav"), sound), "", nil)
	require.NoError(t, err)
	require.NoError(t, s.Do("cues", func(d *timeline.Draft) error {
		d.Put("", &timeline.Placed{Base: timeline.Base{ID: "p1"}, Name: "Jet 1"})
		d.Put(song, &timeline.Lane{Base: timeline.Base{ID: "l1"}, Name: "Jets", Target: "p1", Role: timeline.EffectSlot})
		for id, at := range map[timeline.ID]timeline.Time{"a": 5 * timeline.Second, "b": 15 * timeline.Second, "c": 25 * timeline.Second} {
			d.Put(song, &timeline.Cue{Base: timeline.Base{ID: id}, Lane: "l1", At: timeline.AtTime(at)})
		}
		return nil
	}))
	require.NoError(t, s.Save())
	return dir, s, song
}

// full is a storage whose disk is full for recordings, as long as it is set.
type full struct {
	shows.Storage
	set bool
}

// Write refuses recordings.
func (f *full) Write(name string, r io.Reader) error {
	if f.set && strings.HasPrefix(name, shows.AudioDir) {
		return &os.PathError{Op: "write", Path: name, Err: syscall.ENOSPC}
	}
	return f.Storage.Write(name, r)
}

// requirePlaces compares where cues stand, to a millisecond.
func requirePlaces(t testing.TB, want map[timeline.ID]timeline.Time, s *timeline.Show, song timeline.ID) {
	t.Helper()
	require.Len(t, s.Song(song).Cues, len(want))
	for id, at := range want {
		c := s.Song(song).Cue(id)
		require.NotNil(t, c, id)
		require.InDelta(t, at.Seconds(), c.At.Time.Seconds(), 0.001, id)
	}
}

// An edit arrives: its song is found by what is heard, carrying it over is one step
// with the copy of the recording, a disk that is full changes nothing, and what was
// not saved comes back after a crash.
func TestAnEditArrives(t *testing.T) {
	sound := music(t)
	disk := &full{}
	cache := audio.OpenCache(t.TempDir())
	dir, s, song := tour(t, sound, session.Options{Storage: disk, Cache: cache})
	ctx := context.Background()
	edit := write(t, filepath.Join(t.TempDir(), "take 9.wav"), make([]int16, rate/2), sound[:12*rate], sound[18*rate:])
	desk := arrival.At(s)
	list, err := desk.Look(ctx, []string{edit}, arrival.Options{})
	require.NoError(t, err)
	a := list[0]
	require.Equal(t, arrival.Carries, a.Verdict, a.Why)
	require.Equal(t, song, a.Song)
	r, err := desk.Report(ctx, list, "")
	require.NoError(t, err)
	require.Equal(t, [3]int{2, 0, 1}, [3]int{r.Counts.Sure, r.Counts.Look, r.Counts.Lost})
	require.Equal(t, carry.Lost, r.Items[0].Status, "worst first")
	was := s.Show()

	// A stretch that the user drags takes what stands on it along, without listening again.
	sec := timeline.Second
	require.NoError(t, desk.Again(a, arrival.Options{Locked: []timeline.TimeRun{{Old: 4 * sec, OldEnd: 6 * sec, New: 14 * sec, NewEnd: 16 * sec}}}))
	for _, x := range a.Proposal.Items {
		if x.Ref.ID == "a" {
			require.Equal(t, 15*sec, x.Is.At)
		}
	}
	require.NoError(t, desk.Again(a, arrival.Options{}))

	disk.set = true
	_, err = desk.Accept(ctx, a)
	require.ErrorContains(t, err, "the disk is full")
	require.Same(t, was, s.Show())
	require.Equal(t, []string{"kettle.wav"}, files(t, dir))
	disk.set = false
	accepted, err := desk.Accept(ctx, a)
	require.NoError(t, err)
	require.Equal(t, song, accepted)
	requirePlaces(t, map[timeline.ID]timeline.Time{"a": 5500 * timeline.Millisecond, "c": 19500 * timeline.Millisecond}, s.Show(), song)
	g := s.Show().Song(song)
	require.Equal(t, "audio/take 9.wav", g.Audio.Path)
	require.Equal(t, g.Audio.FileHash, g.Audio.PlacedOn)
	require.False(t, g.Elsewhere())
	require.Len(t, g.Asides, 1)
	require.Equal(t, []string{"kettle.wav", "take 9.wav"}, files(t, dir))
	label, ok := s.Undo()
	require.True(t, ok)
	require.Equal(t, `carry "kettle" over to take 9.wav`, label)
	require.Empty(t, timeline.Diff(was, s.Show()), "one step takes all of it back")
	_, ok = s.Redo()
	require.True(t, ok)

	// Killed before it was saved: the journal has the step, and the recording is there.
	carried := s.Show()
	require.NoError(t, s.Close())
	s, err = session.Open(dir, session.Options{Cache: cache})
	require.NoError(t, err)
	t.Cleanup(func() { _ = s.Close() })
	require.Empty(t, timeline.Diff(carried, s.Show()))
	require.Equal(t, []string{"kettle.wav", "take 9.wav"}, files(t, dir))
}

func files(t testing.TB, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(filepath.Join(dir, shows.AudioDir))
	require.NoError(t, err)
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

// Somebody has named the new recording by hand: the old one is found in the show's
// folder by its hash, the cues are carried from that, and the finding is settled.
func TestNamedByHandBefore(t *testing.T) {
	sound := music(t)
	dir, s, song := tour(t, sound, session.Options{})
	ctx := context.Background()
	edit := write(t, filepath.Join(dir, shows.AudioDir, "edit.wav"), sound[6*rate:])
	hash, err := audio.HashFile(ctx, edit)
	require.NoError(t, err)
	require.NoError(t, s.Do("by hand", func(d *timeline.Draft) error {
		h := d.Show().Song(song).SongHead
		h.Audio.Path, h.Audio.FileHash, h.Audio.Frames = "audio/edit.wav", hash, int64(len(sound)-6*rate)
		d.Put("", &h)
		return nil
	}))
	require.True(t, s.Show().Song(song).Elsewhere())
	desk := arrival.At(s)
	list, err := desk.Look(ctx, []string{edit}, arrival.Options{Song: song})
	require.NoError(t, err)
	require.Equal(t, arrival.Carries, list[0].Verdict, list[0].Why)
	require.False(t, list[0].Accepted(s.Show()), "its cues stand on the old one still")
	added, err := desk.Accept(ctx, list[0])
	require.NoError(t, err)
	require.Equal(t, song, added)
	require.True(t, list[0].Accepted(s.Show()))
	requirePlaces(t, map[timeline.ID]timeline.Time{"b": 9 * timeline.Second, "c": 19 * timeline.Second}, s.Show(), song)
	require.False(t, s.Show().Song(song).Elsewhere())

	// Without the old recording there is nothing to compare with, and it is said so.
	s.Undo()
	require.NoError(t, os.Remove(filepath.Join(dir, shows.AudioDir, "kettle.wav")))
	list, err = arrival.At(s).Look(ctx, []string{edit}, arrival.Options{Song: song})
	require.NoError(t, err)
	require.Equal(t, arrival.Refused, list[0].Verdict)
	require.Contains(t, list[0].Why, "the recording that its cues were placed against is not in the show's folder any more")
}

// Two recordings of one song: one is carried over to, the other is told; and a song
// that has changed since is not overwritten.
func TestTwoOfOneSong(t *testing.T) {
	sound := music(t)
	_, s, song := tour(t, sound, session.Options{})
	in := t.TempDir()
	first := write(t, filepath.Join(in, "1.wav"), sound[2*rate:])
	second := write(t, filepath.Join(in, "2.wav"), sound[:20*rate])
	got, err := arrival.Files([]string{in, first})
	require.NoError(t, err)
	require.Equal(t, []string{first, second}, got)
	desk := arrival.At(s)
	list, err := desk.Look(context.Background(), got, arrival.Options{})
	require.NoError(t, err)
	verdicts := []arrival.Verdict{list[0].Verdict, list[1].Verdict}
	slices.Sort(verdicts)
	require.Equal(t, []arrival.Verdict{arrival.Carries, arrival.Refused}, verdicts)
	for _, a := range list {
		if a.Verdict == arrival.Refused {
			require.Contains(t, a.Why, "is of the same song; say which of them it is carried over to")
			_, err := desk.Accept(context.Background(), a)
			require.Error(t, err)
			continue
		}
		require.NoError(t, s.Do("note", func(d *timeline.Draft) error {
			return d.Set(timeline.Ref{Kind: "cue", Song: song, ID: "a"}, "note", timeline.Value{Text: "late"})
		}))
		_, err := desk.Accept(context.Background(), a)
		require.ErrorContains(t, err, "has changed since its recordings were compared")
	}
	ctx, stop := context.WithCancel(context.Background())
	stop()
	_, err = desk.Look(ctx, got, arrival.Options{})
	require.True(t, errors.Is(err, context.Canceled))
}

// What comes and goes is told of the tour, and of each night that plays the song what it
// has besides: a hall that bans jets hears of two commands instead of three. A night that
// was played, and one that cuts the song, have none of it; asked for alone, a night says
// what is of it alone.
func TestFindingsOfTourAndNights(t *testing.T) {
	sound := music(t)
	_, s, song := tour(t, sound, session.Options{})
	require.NoError(t, s.Do("nights", func(d *timeline.Draft) error {
		d.Put("", &timeline.Article{Base: timeline.Base{ID: "jet"}, Name: "Jet", Family: timeline.CO2Jet})
		d.Put("", &timeline.Placed{Base: timeline.Base{ID: "p1"}, Name: "Jet 1", Article: "jet"})
		d.Put("", &timeline.Venue{Base: timeline.Base{ID: "v"}, Name: "Low Hall", Slug: "low-hall", Banned: []string{string(timeline.CO2Jet)}})
		set := timeline.ID("main")
		d.Put("", &timeline.Set{Base: timeline.Base{ID: set}, Name: "Main", Entries: []timeline.Entry{{Song: song}}})
		for _, n := range []*timeline.Night{
			{Base: timeline.Base{ID: "n1"}, Name: "Monday", Venue: "v"},
			{Base: timeline.Base{ID: "n2"}, Name: "Tuesday"},
			{Base: timeline.Base{ID: "n3"}, Name: "Wednesday", Venue: "v", Cuts: []timeline.Cut{{Selector: timeline.Selector{What: "song", ID: string(song)}}}},
		} {
			n.Slug, n.Set = strings.ToLower(n.Name), set
			d.Put("", n)
		}
		return nil
	}))
	ctx := context.Background()
	desk := arrival.At(s)
	list, err := desk.Look(ctx, []string{write(t, filepath.Join(t.TempDir(), "take 9.wav"), sound[:12*rate], sound[18*rate:])}, arrival.Options{})
	require.NoError(t, err)
	told := func(night timeline.ID) (banned, nights []string) {
		r, err := desk.Report(ctx, list, night)
		require.NoError(t, err)
		for _, f := range r.Findings.New {
			if nights = append(nights, f.Night); f.Rule == "banned" {
				banned = append(banned, f.Night+": "+f.Text)
			}
		}
		return banned, nights
	}
	banned, nights := told("")
	require.Len(t, banned, 1)
	require.Contains(t, banned[0], "Monday: ")
	require.Contains(t, banned[0], "2 commands")
	require.NotContains(t, nights, "Tuesday", "it has nothing that the tour has not")
	require.NotContains(t, nights, "Wednesday")
	banned, _ = told("n2")
	require.Empty(t, banned)
	banned, nights = told("n1")
	require.Len(t, banned, 1)
	require.NotContains(t, nights, "Monday", "which night it is says the report")
	require.NoError(t, s.Do("played", func(d *timeline.Draft) error {
		n := *d.Show().Night("n1")
		n.Weights = []timeline.Fill{{Supply: "co2", Kg: 3}}
		d.Put("", &n)
		return nil
	}))
	banned, _ = told("")
	require.Empty(t, banned)
}
