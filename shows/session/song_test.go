package session_test

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/require"

	"emberbeat/audio"
	"emberbeat/audio/ear"
	"emberbeat/audio/ltc"
	"emberbeat/audio/match"
	"emberbeat/audio/testsound"
	"emberbeat/shows"
	"emberbeat/shows/session"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// clicks writes a recording of a click every half second, the first at half a
// second, and gives its path.
func clicks(t testing.TB, name string, seconds int, gain float64) string {
	t.Helper()
	const rate = 44100
	samples := make([]int16, rate*seconds)
	for at := rate / 2; at < len(samples); at += rate / 2 {
		for i := 0; i < 2000 && at+i < len(samples); i++ {
			samples[at+i] = int16(gain * 20000 * math.Exp(-float64(i)/300) * math.Sin(float64(i)*0.3))
		}
	}
	path := filepath.Join(t.TempDir(), name)
	require.NoError(t, testsound.WriteWAV16(path, rate, 1, samples))
	return path
}

func withCache(t testing.TB, o session.Options) session.Options {
	o.Cache = audio.OpenCache(t.TempDir())
	return o
}

func TestAddSong(t *testing.T) {
	dir := newShow(t)
	s := open(t, dir, withCache(t, session.Options{}))
	defer s.Close()
	require.NoError(t, s.Do("make a set", func(d *timeline.Draft) error {
		d.Put("", &timeline.Set{Base: timeline.Base{ID: "main"}, Name: "Main", Entries: []timeline.Entry{{Song: "ember"}}})
		return nil
	}))
	path := clicks(t, "Tin_Weather: live?.wav", 12, 1)
	last := -1.0
	id, err := s.AddSong(context.Background(), path, "", func(done float64) {
		require.GreaterOrEqual(t, done, last)
		last = done
	})
	require.NoError(t, err)
	require.Equal(t, 1.0, last)

	song := s.Show().Song(id)
	require.Equal(t, "Tin Weather: live?", song.Title)
	require.Equal(t, "tin-weather-live", song.Slug)
	require.Equal(t, "audio/Tin_Weather- live-.wav", song.Audio.Path)
	require.Equal(t, 12*timeline.Second, song.Duration())
	ident, err := audio.Identify(context.Background(), path, nil)
	require.NoError(t, err)
	require.Equal(t, timeline.Audio{Path: song.Audio.Path, FileHash: ident.FileHash, PCMHash: ident.PCMHash, Rate: 44100, Frames: 12 * 44100}, song.Audio)
	require.FileExists(t, s.Recording(&song.SongHead))
	require.False(t, song.Beats.Empty())
	require.InDelta(t, 120, song.Beats.BPM(6*timeline.Second), 0.1)
	require.False(t, song.Confirmed)
	require.Equal(t, timeline.Timecode{H: 1}, song.Start, "the hour of Ember is midnight; one o'clock is the first free one")
	require.Equal(t, []timeline.Entry{{Song: "ember"}, {Song: id}}, s.Show().Set("main").Entries)

	label, _ := s.Undo()
	require.Equal(t, `add song "Tin Weather: live?"`, label)
	require.Nil(t, s.Show().Song(id), "all of it is one step")
	s.Redo()
	require.NoError(t, s.Save())
	l, err := shows.Load(dir)
	require.NoError(t, err)
	require.Empty(t, timeline.Diff(s.Show(), l.Show))
}

func TestAddSongNamesAndPlaces(t *testing.T) {
	dir := newShow(t)
	s := open(t, dir, withCache(t, session.Options{}))
	defer s.Close()
	add := func(path, title string) *timeline.Song {
		id, err := s.AddSong(context.Background(), path, title, nil)
		require.NoError(t, err)
		return s.Show().Song(id)
	}
	first := clicks(t, "take.wav", 4, 1)
	a := add(first, "Same")
	b := add(first, "Same")
	c := add(clicks(t, "take.wav", 4, 0.5), "Other")
	require.Equal(t, "same", a.Slug)
	require.Equal(t, "same-2", b.Slug)
	require.Equal(t, "audio/take.wav", a.Audio.Path)
	require.Equal(t, "audio/take.wav", b.Audio.Path, "the same recording is not copied twice")
	require.Equal(t, "audio/take-2.wav", c.Audio.Path)
	require.Equal(t, []uint8{1, 2, 3}, []uint8{a.Start.H, b.Start.H, c.Start.H})

	inside := filepath.Join(dir, "mixes", "d.wav")
	require.NoError(t, os.Mkdir(filepath.Dir(inside), 0o755))
	require.NoError(t, os.Rename(clicks(t, "d.wav", 4, 0.7), inside))
	d := add(inside, "")
	require.Equal(t, "mixes/d.wav", d.Audio.Path, "what is in the show already stays where it is")
	require.Equal(t, "d", d.Title)
}

func TestAddSongThatIsNone(t *testing.T) {
	dir := newShow(t)
	s := open(t, dir, withCache(t, session.Options{}))
	defer s.Close()
	text := filepath.Join(t.TempDir(), "notes.wav")
	require.NoError(t, os.WriteFile(text, []byte("These are not the sounds you are looking for.\n"), 0o644))
	var fe *audio.FileError
	_, err := s.AddSong(context.Background(), text, "", nil)
	require.ErrorAs(t, err, &fe)
	require.ErrorContains(t, err, "text file")
	_, err = s.AddSong(context.Background(), filepath.Join(dir, "gone.wav"), "", nil)
	require.ErrorAs(t, err, &fe)
	cancelled, cancel := context.WithCancel(context.Background())
	cancel()
	_, err = s.AddSong(cancelled, clicks(t, "a.wav", 4, 1), "", nil)
	require.ErrorIs(t, err, context.Canceled)
	require.Len(t, s.Show().Songs, 1)
	require.NoDirExists(t, filepath.Join(dir, "audio"))
}

// fullStorage has no room for recordings.
type fullStorage struct{ shows.Storage }

func (f fullStorage) Write(name string, r io.Reader) error {
	if filepath.Dir(name) != "audio" {
		return f.Storage.Write(name, r)
	}
	half := io.MultiReader(io.LimitReader(r, 1000), iotest.ErrReader(fmt.Errorf("write: %w", syscall.ENOSPC)))
	return f.Storage.Write(name, half)
}

func TestAddSongToAFullDisk(t *testing.T) {
	dir := newShow(t)
	s := open(t, dir, withCache(t, session.Options{Storage: fullStorage{shows.OS(dir)}}))
	defer s.Close()
	_, err := s.AddSong(context.Background(), clicks(t, "a.wav", 4, 1), "", nil)
	var fe *shows.FileError
	require.ErrorAs(t, err, &fe)
	require.ErrorContains(t, err, "the disk is full")
	require.Len(t, s.Show().Songs, 1)
	left, err := os.ReadDir(filepath.Join(dir, "audio"))
	require.NoError(t, err)
	require.Empty(t, left, "no half recording stays")
}

func TestReadOnlyShowTakesNoSong(t *testing.T) {
	s := open(t, newShow(t), session.Options{ReadOnly: true})
	defer s.Close()
	_, err := s.AddSong(context.Background(), "x.wav", "", nil)
	require.ErrorIs(t, err, session.ErrReadOnly)
}

func TestListenComesFromTheCache(t *testing.T) {
	cache := audio.OpenCache(t.TempDir())
	path := clicks(t, "a.wav", 8, 1)
	first, err := session.Listen(context.Background(), cache, path, ear.Locks{}, nil)
	require.NoError(t, err)
	calls := 0
	second, err := session.Listen(context.Background(), cache, path, ear.Locks{}, func(done float64) {
		calls++
		require.Equal(t, 1.0, done)
	})
	require.NoError(t, err)
	require.Equal(t, 1, calls, "nothing was decoded")
	require.Equal(t, first.Ident, second.Ident)
	require.Equal(t, first.Peaks, second.Peaks)
	require.Equal(t, first.Analysis.Beats, second.Analysis.Beats)
	require.Equal(t, first.Analysis.Hits, second.Analysis.Hits)
	none, err := session.Listen(context.Background(), audio.OpenCache("/dev/null/none"), path, ear.Locks{}, nil)
	require.NoError(t, err, "all goes on without a cache")
	require.Equal(t, first.Ident, none.Ident)
}

func TestPeaksOfASong(t *testing.T) {
	dir := newShow(t)
	s := open(t, dir, withCache(t, session.Options{}))
	defer s.Close()
	id, err := s.AddSong(context.Background(), clicks(t, "a.wav", 4, 1), "", nil)
	require.NoError(t, err)
	song := &s.Show().Song(id).SongHead
	p, err := s.Peaks(context.Background(), song)
	require.NoError(t, err)
	require.EqualValues(t, 4*44100, p.Frames)

	fresh := open(t, dir, withCache(t, session.Options{ReadOnly: true}))
	defer fresh.Close()
	q, err := fresh.Peaks(context.Background(), song)
	require.NoError(t, err)
	require.Equal(t, p, q, "decoding anew gives the same")

	require.NoError(t, os.Remove(s.Recording(song)))
	_, err = s.Peaks(context.Background(), song)
	var fe *audio.FileError
	require.ErrorAs(t, err, &fe)
	_, err = s.Peaks(context.Background(), &timeline.SongHead{})
	require.True(t, errors.As(err, &fe), "%v", err)
}

func BenchmarkAddFourMinuteWAV(b *testing.B) { benchAdd(b, clicks(b, "song.wav", 240, 1)) }

func BenchmarkAddFourMinuteMP3(b *testing.B) {
	wav := clicks(b, "song.wav", 240, 1)
	mp3 := filepath.Join(filepath.Dir(wav), "song.mp3")
	if err := exec.Command("lame", "--quiet", "-m", "j", "-b", "192", wav, mp3).Run(); err != nil {
		b.Skipf("making an mp3 needs lame: %v", err)
	}
	benchAdd(b, mp3)
}

func benchAdd(b *testing.B, path string) {
	b.ResetTimer() // making the recording does not count
	for range b.N {
		s := open(b, newShow(b), withCache(b, session.Options{}))
		_, err := s.AddSong(context.Background(), path, "", nil)
		require.NoError(b, err)
		require.NoError(b, s.Close())
	}
}

// syncedStorage notes which folders were made sure of, and when.
type syncedStorage struct {
	shows.Storage
	log *[]string
}

func (s syncedStorage) Rename(from, to string) error {
	*s.log = append(*s.log, "rename "+to)
	return s.Storage.Rename(from, to)
}

func (s syncedStorage) SyncDir(dir string) error {
	*s.log = append(*s.log, "sync "+dir)
	return s.Storage.SyncDir(dir)
}

// A recording that came in is on the disk, with its name and its folder, before
// the song is.
func TestAddSongMakesSureOfItsRecording(t *testing.T) {
	dir := newShow(t)
	var log []string
	s := open(t, dir, withCache(t, session.Options{Storage: syncedStorage{shows.OS(dir), &log}}))
	defer s.Close()
	_, err := s.AddSong(context.Background(), clicks(t, "a.wav", 4, 1), "", nil)
	require.NoError(t, err)
	require.Equal(t, []string{"rename audio/a.wav", "sync audio", "sync "}, log)
}

// brokenStorage fails in some operations.
type brokenStorage struct {
	shows.Storage
	fails func(op, name string) bool
}

func (s brokenStorage) Write(name string, r io.Reader) error {
	if s.fails("write", name) {
		return &fs.PathError{Op: "write", Path: name, Err: syscall.ENOSPC}
	}
	return s.Storage.Write(name, r)
}

func (s brokenStorage) Rename(from, to string) error {
	if s.fails("rename", to) {
		return &fs.PathError{Op: "rename", Path: from, Err: syscall.EIO}
	}
	return s.Storage.Rename(from, to)
}

// A song that cannot be saved takes its recording with it, unless the save was
// decided already, or the edit comes back.
func TestRefusedSongTakesItsRecordingBack(t *testing.T) {
	noRoom := func(op, name string) bool { return op == "write" && filepath.Base(name) == ".song.toml.new" }
	late := func(op, name string) bool { return op == "rename" && filepath.Base(name) == "song.toml" }
	for name, c := range map[string]struct {
		fails   func(op, name string) bool
		journal bool
		stays   bool
	}{
		"no room":                    {noRoom, false, false},
		"no room, but it comes back": {noRoom, true, true},
		"it was decided":             {late, false, true},
	} {
		t.Run(name, func(t *testing.T) {
			dir := newShow(t)
			s := open(t, dir, withCache(t, session.Options{NoJournal: !c.journal, Storage: brokenStorage{shows.OS(dir), c.fails}}))
			require.NoError(t, s.Do("title", func(d *timeline.Draft) error {
				return d.Set(timeline.Ref{Kind: "show", ID: "tour1"}, "title", timeline.Value{Text: "Two files"})
			}))
			_, err := s.AddSong(context.Background(), clicks(t, "a.wav", 4, 1), "", nil)
			require.NoError(t, err)
			require.FileExists(t, filepath.Join(dir, "audio", "a.wav"))
			require.Error(t, s.Save())
			require.NoError(t, s.Close())
			_, err = os.Stat(filepath.Join(dir, "audio", "a.wav"))
			require.Equal(t, c.stays, err == nil)
			l, err := shows.Load(dir)
			require.NoError(t, err)
			require.Len(t, l.Show.Songs, map[bool]int{true: 2, false: 1}[c.stays && !c.journal])
		})
	}
}

// coded gives a recording of clicks, and one that has them on its first channel and
// timecode at 25 frames from 03:00:00:00 on its second.
func coded(t *testing.T) (plain, both string) {
	t.Helper()
	const rate = 44100
	plain = clicks(t, "plain.wav", 12, 1)
	pcm, err := audio.Decode(context.Background(), plain, nil)
	require.NoError(t, err)
	first, err := timeline.Rate25.Frame(timeline.Timecode{H: 3})
	require.NoError(t, err)
	var b bytes.Buffer
	_, err = (&ltc.Stripe{Rate: timeline.Rate25, SampleRate: rate, Bits: 16, Level: -3, Runs: []ltc.Run{{First: first, Frames: 12 * 25}}}).WriteTo(&b)
	require.NoError(t, err)
	samples := make([]int16, 2*len(pcm.Samples))
	for i, v := range pcm.Samples {
		samples[2*i] = v
		samples[2*i+1] = int16(binary.LittleEndian.Uint16(b.Bytes()[2*i:]))
	}
	both = filepath.Join(t.TempDir(), "coded.wav")
	require.NoError(t, testsound.WriteWAV16(both, rate, 2, samples))
	return plain, both
}

// Where a song names the channels that are heard, the ear, the peaks that are drawn
// and the rules follow them: of a recording with a channel of timecode and one of
// music there is the music alone, and where timecode is named it stays silent and is
// told.
func TestHeardChannelsAreFollowed(t *testing.T) {
	_, both := coded(t)
	dir := newShow(t)
	add := open(t, dir, withCache(t, session.Options{}))
	id, err := add.AddSong(context.Background(), both, "", nil)
	require.NoError(t, err)
	require.NoError(t, add.Save())
	require.NoError(t, add.Close())
	loudest := func(p *audio.Pyramid) int16 {
		all := make([]audio.Peak, 1)
		p.Range(0, 12*44100, all)
		return max(all[0].Max, -all[0].Min)
	}
	between := func(p *audio.Pyramid) int16 { // two clicks, where nothing is heard of music
		all := make([]audio.Peak, 1)
		p.Range(30000, 42000, all)
		return max(all[0].Max, -all[0].Min)
	}
	for _, c := range []struct {
		heard        []string
		music, found bool
	}{{nil, true, false}, {[]string{"1"}, true, false}, {[]string{"2"}, false, true}, {[]string{"1", "2"}, true, true}} {
		s := open(t, dir, withCache(t, session.Options{})) // which has listened to nothing
		require.NoError(t, s.Do("heard", func(d *timeline.Draft) error {
			return d.Set(timeline.Ref{Kind: "song", ID: id}, "heard", timeline.Value{Items: c.heard})
		}))
		song := &s.Show().Song(id).SongHead
		facts := s.Facts(context.Background())
		require.Equal(t, len(c.heard) > 0, len(facts.Audio[id].Timecode) == 1, "it is looked for where channels are named: %v", c.heard)
		told := false
		for _, f := range rule.Check(timeline.Compile(s.Show(), nil), facts) {
			told = told || f.Rule == "timecode-heard"
		}
		require.Equal(t, c.found, told, "%v", c.heard)
		for range 2 { // read, and from the cache
			peaks, err := s.Peaks(context.Background(), song)
			require.NoError(t, err)
			require.Equal(t, c.music, loudest(peaks) > 3000, "%v", c.heard)
			require.Zero(t, between(peaks), "%v: timecode is not drawn", c.heard)
		}
		require.Len(t, s.Facts(context.Background()).Audio[id].Timecode, 1, "what was found when it was read")
		heard, err := session.ListenTo(context.Background(), s.Cache(), both, song.Audio.Heard, ear.Locks{}, nil)
		require.NoError(t, err)
		require.Equal(t, c.music, len(heard.Analysis.Hits) > 0, "%v", c.heard)
		require.NoError(t, s.Close())
	}
}

// What is handed out is what may be heard, and never timecode: of a recording with a
// channel of each the other alone, and nothing where only that is named.
func TestHandoutHoldsNoTimecode(t *testing.T) {
	plain, both := coded(t)
	dir := newShow(t)
	s := open(t, dir, withCache(t, session.Options{}))
	defer s.Close()
	id, err := s.AddSong(context.Background(), both, "", nil)
	require.NoError(t, err)
	pcm, err := audio.Decode(context.Background(), plain, nil)
	require.NoError(t, err)
	for _, c := range []struct {
		heard []string
		err   string
	}{{nil, ""}, {[]string{"1"}, ""}, {[]string{"1", "2"}, ""}, {[]string{"2"}, "none of its channels may be heard"}} {
		require.NoError(t, s.Do("heard", func(d *timeline.Draft) error {
			return d.Set(timeline.Ref{Kind: "song", ID: id}, "heard", timeline.Value{Items: c.heard})
		}))
		wav, err := s.Handout(context.Background(), &s.Show().Song(id).SongHead)
		if c.err != "" {
			require.ErrorContains(t, err, c.err, "%v", c.heard)
			require.Empty(t, wav)
			continue
		}
		require.NoError(t, err)
		require.Equal(t, audio.SmallWAV(pcm), wav, "%v", c.heard)
	}
	over, end := context.WithCancel(context.Background())
	end()
	_, err = s.Handout(over, &s.Show().Song(id).SongHead)
	require.ErrorIs(t, err, context.Canceled)
}

// Timecode on a channel is told when a recording is added, again from the cache,
// and the ear hears the other channel alone: it finds what it finds in that.
func TestAddingARecordingWithTimecode(t *testing.T) {
	plain, path := coded(t)
	cache := audio.OpenCache(t.TempDir())
	alone, err := session.Listen(context.Background(), cache, plain, ear.Locks{}, nil)
	require.NoError(t, err)
	require.Empty(t, alone.Timecode)
	for range 2 { // heard, and from the cache
		h, err := session.Listen(context.Background(), cache, path, ear.Locks{}, nil)
		require.NoError(t, err)
		require.Len(t, h.Timecode, 1)
		require.Equal(t, 2, h.Timecode[0].Channel)
		start, ok := h.Timecode[0].Start()
		require.True(t, ok)
		require.Equal(t, timeline.Timecode{H: 3}, start)
		require.Contains(t, strings.Join(h.Warnings, " "), "channel 2 holds timecode at 25")
		require.Equal(t, len(alone.Analysis.Beats), len(h.Analysis.Beats))
		require.Equal(t, audioIdent(t, path), h.Ident.PCMHash, "it is the whole recording's")
	}
	// and it is matched by that channel alone
	one, warnings, err := session.ReadSide(context.Background(), plain, nil)
	require.NoError(t, err)
	require.Empty(t, warnings)
	two, warnings, err := session.ReadSide(context.Background(), path, nil)
	require.NoError(t, err)
	require.Contains(t, strings.Join(warnings, " "), "channel 2 holds timecode at 25")
	require.Len(t, two.Mono, len(one.Mono))
	for i, v := range one.Mono {
		require.InDelta(t, 0.6*v, two.Mono[i], 1e-5, "the left channel's part of the mix, at %d", i)
	}
}

// A recording that is listened to for matching is the same as one that is read for it
// alone, of its first decoding, out of the cache, and where a channel holds timecode.
func TestListenedToForMatching(t *testing.T) {
	ctx := context.Background()
	cache := audio.OpenCache(t.TempDir())
	path := clicks(t, "plain.wav", 12, 1)
	want, _, err := session.ReadSide(ctx, path, nil)
	require.NoError(t, err)
	alone, err := match.Match(ctx, want, want)
	require.NoError(t, err)
	for range 2 {
		h, side, err := session.ListenToMatch(ctx, cache, path, nil, nil)
		require.NoError(t, err)
		require.Equal(t, audioIdent(t, path), h.Ident.PCMHash)
		require.Nil(t, side.Mono, "the sound is read again")
		require.Equal(t, want.Duration, side.Duration)
		require.InDelta(t, match.Alike(want, want), match.Alike(side, want), 1e-12)
		m, err := match.Match(ctx, side, want)
		require.NoError(t, err)
		require.Equal(t, alone, m)
		require.Nil(t, side.Mono, "what was read again is forgotten again")
		require.NotNil(t, want.Mono, "what was never compact is not")
	}
}

func audioIdent(t *testing.T, path string) string {
	t.Helper()
	ident, err := audio.Identify(context.Background(), path, nil)
	require.NoError(t, err)
	return ident.PCMHash
}
