package shows_test

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"

	"emberbeat/shows"
	"emberbeat/timeline"

	"github.com/stretchr/testify/require"
)

// twoSongs is a show of which an edit by rename touches several files.
func twoSongs(t testing.TB) (st *memory, before, after *timeline.Show) {
	t.Helper()
	st = newMemory()
	before = bigShow(t, 3, 4)
	_, err := shows.SaveTo(st, before, nil, shows.SaveOptions{})
	require.NoError(t, err)
	after, err = before.Edit(
		func(d *timeline.Draft) error {
			return d.Set(timeline.Ref{Kind: "show", ID: "big"}, "title", timeline.Value{Text: strings.Repeat("New ", 50)})
		},
		func(d *timeline.Draft) error {
			return d.Set(timeline.Ref{Kind: "song", ID: "song-01"}, "slug", timeline.Value{Text: "renamed"})
		},
		func(d *timeline.Draft) error { return d.Remove(timeline.Ref{Kind: "song", ID: "song-02"}) },
		func(d *timeline.Draft) error {
			d.Put("song-00", &timeline.Cue{Base: timeline.Base{ID: "extra"}, Lane: "lane-00", Note: strings.Repeat("x", 500)})
			return nil
		})
	require.NoError(t, err)
	return st, before, after
}

func TestSaveWritesOnlyWhatChanged(t *testing.T) {
	st, before, after := twoSongs(t)
	saved, err := shows.SaveTo(st, after, before, shows.SaveOptions{})
	require.NoError(t, err)
	require.Equal(t, []string{"show.toml", "songs/renamed/cues.toml", "songs/renamed/song.toml", "songs/song-00/cues.toml"}, saved.Written)
	require.ElementsMatch(t, []string{"songs/song-01/song.toml", "songs/song-01/cues.toml", "songs/song-02/song.toml", "songs/song-02/cues.toml"}, saved.Removed)
	require.Len(t, st.files, 6)
	l, err := shows.LoadFrom(st)
	require.NoError(t, err)
	require.Empty(t, timeline.Diff(after, l.Show))

	st.ops = 0
	_, err = shows.SaveTo(st, after, before, shows.SaveOptions{})
	require.NoError(t, err)
	require.Zero(t, st.ops, "the same save again touches nothing")
}

// Every operation of a save is broken in turn, for good from there on. The
// folder must then hold the old show or the new one, and the next save must
// put it right.
func TestSaveThatBreaksAnywhere(t *testing.T) {
	fresh, _, _ := twoSongs(t)
	for broken := 1; ; broken++ {
		st, before, after := twoSongs(t)
		count := 0
		st.fail = func(op, name string) error {
			if op == "read" || op == "list" {
				return nil
			}
			if count++; count >= broken {
				return &fs.PathError{Op: op, Path: name, Err: syscall.EIO}
			}
			return nil
		}
		_, err := shows.SaveTo(st, after, before, shows.SaveOptions{})
		st.fail = nil
		if err == nil {
			require.Greater(t, broken, 15, "a save has many steps")
			break
		}
		l, loadErr := shows.LoadFrom(st)
		require.NoError(t, loadErr, "step %d: %v", broken, err)
		want := after
		if strings.Contains(err.Error(), "the show on disk is as it was") {
			want = before
		} else {
			require.ErrorContains(t, err, "the new show is on disk")
		}
		require.Empty(t, timeline.Diff(want, l.Show), "step %d: %v", broken, err)
		_, err = shows.SaveTo(st, before, nil, shows.SaveOptions{})
		require.NoError(t, err)
		for name := range st.files {
			if strings.Contains(name, ".new") {
				delete(st.files, name) // leftovers are hidden and harmless
			}
		}
		require.Equal(t, fresh.files, st.files, "step %d", broken)
	}
}

// The same with a program that ends at once instead of an error: nothing is
// cleaned up.
func TestSaveThatIsCutOffAnywhere(t *testing.T) {
	for cut := 1; ; cut++ {
		st, before, after := twoSongs(t)
		count := 0
		frozen := map[string][]byte{}
		st.fail = func(op, name string) error {
			if op != "read" && op != "list" {
				if count++; count == cut {
					for n, b := range st.files {
						frozen[n] = b
					}
				}
			}
			return nil
		}
		_, err := shows.SaveTo(st, after, before, shows.SaveOptions{})
		require.NoError(t, err)
		if count < cut {
			break
		}
		left := newMemory()
		left.files = frozen
		l, err := shows.LoadFrom(left)
		require.NoError(t, err, "step %d", cut)
		isOld, isNew := len(timeline.Diff(before, l.Show)) == 0, len(timeline.Diff(after, l.Show)) == 0
		require.True(t, isOld || isNew, "step %d: half a save", cut)
		again, err := shows.SaveTo(left, l.Show, nil, shows.SaveOptions{})
		require.NoError(t, err)
		require.Empty(t, again.Written)
		settled, err := shows.LoadFrom(left)
		require.NoError(t, err)
		require.Empty(t, timeline.Diff(l.Show, settled.Show))
		for name := range left.files {
			require.False(t, strings.HasPrefix(filepath.Base(name), "."), "step %d: %s is left, and the next save should have taken it away", cut, name)
		}
	}
}

// cutOff gives the folder as a save leaves it that ends before its nth step, nil
// when there is no such step.
func cutOff(t *testing.T, cut int) *memory {
	st, before, after := twoSongs(t)
	var left *memory
	count := 0
	st.fail = func(op, name string) error {
		if op != "read" && op != "list" {
			if count++; count == cut {
				left = st.clone()
			}
		}
		return nil
	}
	_, err := shows.SaveTo(st, after, before, shows.SaveOptions{})
	require.NoError(t, err)
	return left
}

// Who changes a file by hand, or puts back an older one, after a save was cut
// off, has that file or is told; it is never overridden without a word.
func TestHandEditAfterASaveThatWasCutOff(t *testing.T) {
	told := 0
	for cut := 1; ; cut++ {
		whole := cutOff(t, cut)
		if whole == nil {
			break
		}
		for name := range whole.files {
			if strings.HasPrefix(filepath.Base(name), ".") {
				continue
			}
			left := whole.clone()
			mine := append(bytes.Clone(left.files[name]), "# mine\n"...)
			left.files[name] = mine
			l, err := shows.LoadFrom(left)
			var conflict *shows.LeftSaveError
			if errors.As(err, &conflict) {
				told++
				require.Equal(t, []string{name}, conflict.Files)
				require.ErrorContains(t, err, "delete the file .saving")
				_, err = shows.SaveTo(left, bigShow(t, 3, 4), nil, shows.SaveOptions{})
				require.ErrorAs(t, err, &conflict, "the next writer stops as well")
				require.Equal(t, mine, left.files[name])
				delete(left.files, ".saving")
				_, err = shows.LoadFrom(left)
				if err == nil { // what is left may be half of each save, and is said to be then
					require.Equal(t, mine, left.files[name])
				}
				continue
			}
			require.NoError(t, err, "step %d, %s", cut, name)
			_, err = shows.SaveTo(left, l.Show, nil, shows.SaveOptions{Prints: l.Prints})
			require.NoError(t, err)
			require.Contains(t, string(left.files[name]), "# mine", "step %d", cut)
		}
	}
	require.Positive(t, told)
}

// A backup put back over a save that was cut off half way is not mixed with it.
func TestBackupOverASaveThatWasCutOff(t *testing.T) {
	old, before, after := twoSongs(t)
	for cut := 1; ; cut++ {
		left := cutOff(t, cut)
		if left == nil {
			break
		}
		for name, b := range old.files {
			left.files[name] = b
		}
		l, err := shows.LoadFrom(left)
		var conflict *shows.LeftSaveError
		if errors.As(err, &conflict) {
			continue
		}
		require.NoError(t, err, "step %d", cut)
		isOld, isNew := len(timeline.Diff(before, l.Show)) == 0, len(timeline.Diff(after, l.Show)) == 0
		require.True(t, isOld || isNew, "step %d: half a save", cut)
	}
}

// A list that an older program left, without prints, is carried out as that
// program would have.
func TestLeftSaveOfAnOlderProgram(t *testing.T) {
	st, _, after := twoSongs(t)
	list := "emberbeat save 1\nput show.toml\nremove songs/song-02/song.toml\nremove songs/song-02/cues.toml\n"
	st.files[".saving"] = fmt.Appendf(nil, "%ssum %x\n", list, sha256.Sum256([]byte(list)))
	st.files[".show.toml.new"] = []byte("schema = 1\nid = \"big\"\ntitle = \"New\"\n")
	l, err := shows.LoadFrom(st)
	require.NoError(t, err)
	require.Equal(t, "New", l.Show.Head.Title)
	require.Len(t, l.Show.Songs, 2)
	_, err = shows.SaveTo(st, after, nil, shows.SaveOptions{})
	require.NoError(t, err)
	require.NotContains(t, st.files, ".saving")
}

// What interrupted work left behind is named, and the next save takes away what
// is its own.
func TestStraysAndCopies(t *testing.T) {
	st, before, after := twoSongs(t)
	strays := []string{".saving", "..saving.new", ".show.toml.new", "audio/.take.wav.new", "songs/song-00/.cues.toml.new"}
	other := []string{".cues.toml.new", "songs/song-00/.notes.new", "songs/song-00/.x.toml.new", "audio/.x.txt.new", ".gitignore"}
	copies := []string{"show (1).toml", "songs/song-00/cues (1).toml", "songs/song-00/song-conflict.toml"}
	for _, name := range slices.Concat(strays, other, copies) {
		st.files[name] = []byte("left")
	}
	st.files["songs/song-00/songbook.toml"] = []byte("another's")
	l, err := shows.LoadFrom(st)
	require.NoError(t, err)
	require.Empty(t, timeline.Diff(before, l.Show))
	require.ElementsMatch(t, strays, l.Strays)
	var told []string
	for _, n := range l.Notes {
		told = append(told, n.File)
		require.Contains(t, n.String(), "looks like a second copy of")
	}
	require.ElementsMatch(t, copies, told)
	_, err = shows.SaveTo(st, after, before, shows.SaveOptions{})
	require.NoError(t, err)
	for _, name := range strays {
		require.Equal(t, name == "audio/.take.wav.new", st.files[name] != nil, name)
	}
	for _, name := range slices.Concat(other, copies) {
		require.Equal(t, "left", string(st.files[name]), name)
	}
}

func TestFullDisk(t *testing.T) {
	whole, before, after := twoSongs(t)
	all := 0
	for _, b := range whole.files {
		all += len(b)
	}
	for room := range all {
		if room%37 != 0 {
			continue
		}
		st := whole.clone()
		st.room = room
		_, err := shows.SaveTo(st, after, before, shows.SaveOptions{})
		if err == nil {
			require.Greater(t, room, 1000)
			return
		}
		require.ErrorIs(t, err, syscall.ENOSPC)
		require.ErrorContains(t, err, "the disk is full; make room and try again")
		require.ErrorContains(t, err, "the show on disk is as it was")
		require.Equal(t, whole.files, st.files, "all is cleaned up")
	}
	t.Fatal("the save never fitted")
}

func TestReadOnlyFolder(t *testing.T) {
	for _, cause := range []error{syscall.EACCES, syscall.EROFS, fs.ErrPermission} {
		st, before, after := twoSongs(t)
		st.fail = func(op, name string) error {
			if op == "read" || op == "list" {
				return nil
			}
			return &fs.PathError{Op: op, Path: name, Err: cause}
		}
		_, err := shows.SaveTo(st, after, before, shows.SaveOptions{})
		var fe *shows.FileError
		require.ErrorAs(t, err, &fe)
		require.ErrorContains(t, err, "it is read-only; make it writable or use a copy")
		require.ErrorIs(t, err, cause)
	}
}

// A disk that gives back other bytes than were written is found out.
func TestLyingDisk(t *testing.T) {
	st, before, after := twoSongs(t)
	whole := st.clone()
	st.fail = func(op, name string) error {
		if op == "read" && strings.HasSuffix(name, ".cues.toml.new") {
			st.files[name] = append([]byte{'x'}, st.files[name]...)
		}
		return nil
	}
	_, err := shows.SaveTo(st, after, before, shows.SaveOptions{})
	require.ErrorContains(t, err, "gave back other bytes")
	require.Equal(t, whole.files, st.files)
}

func TestSaveRefusesWhatCouldNotBeRead(t *testing.T) {
	head := func(id, slug string) *timeline.SongHead {
		return &timeline.SongHead{Base: timeline.Base{ID: timeline.ID(id)}, Slug: slug}
	}
	for name, c := range map[string]struct {
		show *timeline.Show
		want string
	}{
		"no id":       {timeline.NewShow("", "", timeline.Rate25), "no valid id"},
		"no slug":     {put(timeline.NewShow("s", "", timeline.Rate25), "", head("a", "")), `song:a cannot be stored: its slug is ""`},
		"slug twice":  {put(timeline.NewShow("s", "", timeline.Rate25), "", head("a", "x"), head("b", "x")), `song:b cannot be stored: its slug "x" is that of song:a`},
		"slug of two": {put(timeline.NewShow("s", "", timeline.Rate25), "", head("a", "../x")), `song:a cannot be stored`},
	} {
		st := newMemory()
		_, err := shows.SaveTo(st, c.show, nil, shows.SaveOptions{})
		require.ErrorContains(t, err, c.want, name)
		require.Empty(t, st.files, name)
	}
}

// A show that was never held against what files keep is not written: the bytes
// are read again before anything on the disk changes.
func TestSaveReadsWhatItIsAboutToWrite(t *testing.T) {
	st, before, _ := twoSongs(t)
	whole := st.clone()
	for name, c := range map[string]struct {
		rec  timeline.Record
		song timeline.ID
		want string
	}{
		"a line break":             {&timeline.Marker{Base: timeline.Base{ID: "m"}, Name: "a\nb"}, "song-00", "songs/song-00/song.toml:*holds a control character"},
		"a level beyond the limit": {&timeline.Cue{Base: timeline.Base{ID: "c"}, Lane: "lane-00", Level: 500}, "song-00", "cue level = 500"},
		"no choice":                {&timeline.Article{Base: timeline.Base{ID: "a"}, Family: "fire"}, "", "article family"},
		"text that is no UTF-8":    {&timeline.Marker{Base: timeline.Base{ID: "m"}, Name: "a\xff"}, "song-00", "name of marker:song-00/m would come back as"},
	} {
		_, err := shows.SaveTo(st, put(before, c.song, c.rec), before, shows.SaveOptions{})
		require.Error(t, err, name)
		for _, part := range strings.Split(c.want, "*") {
			require.ErrorContains(t, err, part, name)
		}
		require.ErrorContains(t, err, "nothing was saved", name)
		require.Equal(t, whole.files, st.files, name)
	}
}

func TestSaveOverForeignChange(t *testing.T) {
	st, before, after := twoSongs(t)
	l, err := shows.LoadFrom(st)
	require.NoError(t, err)
	st.files["songs/song-00/cues.toml"] = append(st.files["songs/song-00/cues.toml"], "# theirs\n"...)
	st.files["songs/renamed/song.toml"] = []byte("schema = 1\n")
	_, err = shows.SaveTo(st, after, before, shows.SaveOptions{Prints: l.Prints})
	var changed *shows.ChangedError
	require.ErrorAs(t, err, &changed)
	require.ElementsMatch(t, []string{"songs/song-00/cues.toml", "songs/renamed/song.toml"}, changed.Files)
	require.Contains(t, string(st.files["songs/song-00/cues.toml"]), "# theirs")
}

// Lists of interrupted saves that were not written by a save are ignored.
func TestDamagedPendingListIsIgnored(t *testing.T) {
	for _, text := range []string{"", "emberbeat save 1\nput show.toml\n", "emberbeat save 1\nput ../../x.toml\nsum 00\n", "\x00"} {
		st, before, after := twoSongs(t)
		st.files[".saving"] = []byte(text)
		st.files[".show.toml.new"] = []byte("schema = 1\nid = \"other\"\n")
		l, err := shows.LoadFrom(st)
		require.NoError(t, err)
		require.Empty(t, timeline.Diff(before, l.Show))
		_, err = shows.SaveTo(st, after, before, shows.SaveOptions{})
		require.NoError(t, err)
	}
}

func TestCreate(t *testing.T) {
	show := bigShow(t, 1, 1)
	dir := filepath.Join(t.TempDir(), "new", "tour")
	require.NoError(t, shows.Create(dir, show))
	l, err := shows.Load(dir)
	require.NoError(t, err)
	require.Empty(t, timeline.Diff(show, l.Show))

	var full *shows.NotEmptyError
	require.ErrorAs(t, shows.Create(dir, show), &full)
	require.Equal(t, "show.toml", full.Found)

	versioned := t.TempDir()
	require.NoError(t, os.Mkdir(filepath.Join(versioned, ".git"), 0o755))
	require.NoError(t, shows.Create(versioned, show), "hidden names do not count")

	file := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(file, nil, 0o644))
	var fe *shows.FileError
	require.ErrorAs(t, shows.Create(file, show), &fe)
}

func TestLock(t *testing.T) {
	dir := t.TempDir()
	first, err := shows.Lock(dir)
	require.NoError(t, err)
	_, err = shows.Lock(dir)
	var locked *shows.LockedError
	require.ErrorAs(t, err, &locked)
	require.Equal(t, os.Getpid(), locked.PID)
	require.ErrorContains(t, err, "the show is open: ")
	require.ErrorAs(t, shows.Save(dir, bigShow(t, 1, 1), nil), &locked)
	first.Unlock()
	second, err := shows.Lock(dir)
	require.NoError(t, err)
	second.Unlock()
	left, err := os.ReadDir(dir)
	require.NoError(t, err)
	require.Empty(t, left)
	_, err = shows.Lock(filepath.Join(dir, "gone"))
	var fe *shows.FileError
	require.ErrorAs(t, err, &fe)
}

func TestTenOlderVersionsAreKept(t *testing.T) {
	dir := copyOf(t, "tidy")
	l, err := shows.Load(dir)
	require.NoError(t, err)
	show := l.Show
	for i := range 13 {
		next, err := show.Edit(func(d *timeline.Draft) error {
			return d.Set(timeline.Ref{Kind: "show", ID: "gravel01"}, "title", timeline.Value{Text: fmt.Sprint("Title ", i)})
		})
		require.NoError(t, err)
		require.NoError(t, shows.Save(dir, next, show))
		show = next
	}
	versions, err := shows.Versions("gravel01")
	require.NoError(t, err)
	require.Len(t, versions, 10)
	for i, v := range versions {
		old, err := v.Load()
		require.NoError(t, err)
		require.Equal(t, fmt.Sprint("Title ", 11-i), old.Show.Head.Title, "newest first")
		require.Len(t, old.Show.Songs, 2)
	}
	_, err = shows.Version{Path: filepath.Join(dir, "show.toml")}.Load()
	require.Error(t, err)
}

func TestNewIDs(t *testing.T) {
	seen := map[timeline.ID]bool{}
	for range 1000 {
		id := shows.NewID()
		require.True(t, id.Valid())
		require.Len(t, string(id), 8)
		require.False(t, seen[id])
		seen[id] = true
	}
	require.True(t, shows.NewIDFor(bigShow(t, 1, 1), "cue", "song-00").Valid())
}

func TestErrorsOfTheStorageAreWrapped(t *testing.T) {
	st, before, after := twoSongs(t)
	cause := errors.New("cable pulled")
	st.fail = func(op, name string) error {
		if op == "read" {
			return cause
		}
		return nil
	}
	_, err := shows.SaveTo(st, after, before, shows.SaveOptions{})
	require.ErrorIs(t, err, cause)
	_, err = shows.LoadFrom(st)
	require.ErrorIs(t, err, cause)
}

// A show that is saved while it is read must come out as one save or the
// other, never as a mixture.
func TestLoadWhileSaving(t *testing.T) {
	st, before, after := twoSongs(t)
	st.files[".lock"] = nil
	reads := 0
	st.fail = func(op, name string) error {
		if op != "read" || !strings.HasSuffix(name, "song.toml") {
			return nil
		}
		if reads++; reads == 2 { // in the middle of reading: another program saves
			other := st.clone()
			if _, err := shows.SaveTo(other, after, before, shows.SaveOptions{}); err != nil {
				return err
			}
			st.files = other.files
		}
		return nil
	}
	l, err := shows.LoadFrom(st)
	require.NoError(t, err)
	require.Greater(t, reads, 2)
	require.Empty(t, timeline.Diff(after, l.Show))
}

func TestLoadOfAFolderThatNeverRests(t *testing.T) {
	st, _, _ := twoSongs(t)
	st.files[".lock"] = nil
	n := 0
	st.fail = func(op, name string) error {
		if n++; op == "read" && name == "show.toml" {
			st.files[name] = []byte(fmt.Sprintf("schema = 1\nid = \"big\"\ntitle = \"%d\"\n", n))
		}
		return nil
	}
	_, err := shows.LoadFrom(st)
	require.ErrorContains(t, err, "another program goes on writing it")
}
