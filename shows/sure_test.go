package shows_test

import (
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"
	"syscall"
	"testing"

	"emberbeat/shows"
	"emberbeat/timeline"

	"github.com/stretchr/testify/require"
)

// unsure follows the operations on a storage and knows the folders in which
// something happened that a power cut could still take back.
type unsure struct {
	folders map[string]bool
	syncs   int
}

func dirOf(name string) string {
	if dir := path.Dir(name); dir != "." {
		return dir
	}
	return ""
}

func (u *unsure) watch(st *memory) {
	u.folders = map[string]bool{}
	st.fail = func(op, name string) error {
		switch {
		case op == "sync":
			u.syncs++
			delete(u.folders, name)
		case op == "mkdir":
			for ; name != ""; name = dirOf(name) {
				if !slices.ContainsFunc(slices.Collect(maps.Keys(st.files)), func(f string) bool { return strings.HasPrefix(f, name+"/") }) {
					u.folders[dirOf(name)] = true
				}
			}
		case op == "rename", op == "remove" && !strings.HasPrefix(path.Base(name), ".") && st.files[name] != nil:
			u.folders[dirOf(name)] = true
		}
		return nil
	}
}

// anEdit is one that touches one file, or more.
func anEdit(t *testing.T, s *timeline.Show, edits ...timeline.Edit) *timeline.Show {
	next, err := s.Edit(edits...)
	require.NoError(t, err)
	return next
}

func setText(ref timeline.Ref, field, text string) timeline.Edit {
	return func(d *timeline.Draft) error { return d.Set(ref, field, timeline.Value{Text: text}) }
}

var songZero = timeline.Ref{Kind: "song", ID: "song-00"}

// When a save has said that it is done, no power cut takes anything of it back:
// each folder in which a name came or went was made sure of.
func TestSaveIsOnTheDiskWhenItIsDone(t *testing.T) {
	for name, edit := range map[string]timeline.Edit{
		"one file of a song":  setText(songZero, "title", "New"),
		"one file at the top": setText(timeline.Ref{Kind: "show", ID: "big"}, "title", "New"),
		"one file in a new folder": func(d *timeline.Draft) error {
			v := timeline.KindOf("venue").New("hall").(*timeline.Venue)
			v.Slug = "hall"
			d.Put("", v)
			return nil
		},
		"the cues of a song go": func(d *timeline.Draft) error {
			for _, c := range d.Show().Song("song-00").Cues {
				if err := d.Remove(timeline.Ref{Kind: "cue", Song: "song-00", ID: c.ID}); err != nil {
					return err
				}
			}
			return nil
		},
		"a song in a new folder": setText(songZero, "slug", "renamed"),
		"several files": func(d *timeline.Draft) error {
			if err := setText(songZero, "title", "New")(d); err != nil {
				return err
			}
			return setText(timeline.Ref{Kind: "show", ID: "big"}, "title", "New")(d)
		},
	} {
		t.Run(name, func(t *testing.T) {
			st, before, _ := twoSongs(t)
			u := &unsure{}
			u.watch(st)
			after := anEdit(t, before, edit)
			saved, err := shows.SaveTo(st, after, before, shows.SaveOptions{})
			require.NoError(t, err)
			require.NotEmpty(t, append(saved.Written, saved.Removed...))
			require.Empty(t, u.folders, "not made sure of")
		})
	}
}

// A folder that cannot be made sure of is told with the file and with what is on
// the disk, and the next save makes sure of it.
func TestSaveThatCannotMakeSure(t *testing.T) {
	for _, c := range []struct {
		name, file string
		edit       timeline.Edit
	}{
		{"one file of a song", "songs/song-00/song.toml", setText(songZero, "title", "New")},
		{"one file at the top", "show.toml", setText(timeline.Ref{Kind: "show", ID: "big"}, "title", "New")},
	} {
		t.Run(c.name, func(t *testing.T) {
			st, before, _ := twoSongs(t)
			l, err := shows.LoadFrom(st)
			require.NoError(t, err)
			st.fail = func(op, name string) error {
				if op == "sync" && name == dirOf(c.file) {
					return &fs.PathError{Op: op, Path: name, Err: syscall.EIO}
				}
				return nil
			}
			after := anEdit(t, before, c.edit)
			o := shows.SaveOptions{Prints: l.Prints}
			_, err = shows.SaveTo(st, after, before, o)
			var fe *shows.FileError
			require.ErrorAs(t, err, &fe)
			require.Equal(t, c.file, fe.File)
			require.ErrorContains(t, err, "the new file is in place, but a power cut may bring the old one back; save again")
			now, err := shows.LoadFrom(st)
			require.NoError(t, err)
			require.Empty(t, timeline.Diff(after, now.Show), "as it was told")

			_, err = shows.SaveTo(st, after, before, o)
			require.ErrorAs(t, err, &fe, "it still cannot be made sure of")
			u := &unsure{}
			u.watch(st)
			_, err = shows.SaveTo(st, after, before, o)
			require.NoError(t, err, "what the save before put there is no change by another program")
			require.Positive(t, u.syncs)
		})
	}
}

// A save of several files that fails in a folder names a file in it.
func TestFailedFolderNamesItsFile(t *testing.T) {
	for n := 1; ; n++ {
		st, before, after := twoSongs(t)
		syncs, failed := 0, false
		at := ""
		st.fail = func(op, name string) error {
			if op != "sync" {
				return nil
			}
			if syncs++; syncs == n {
				failed, at = true, name
				return &fs.PathError{Op: op, Path: name, Err: syscall.EIO}
			}
			return nil
		}
		_, err := shows.SaveTo(st, after, before, shows.SaveOptions{})
		if !failed {
			require.NoError(t, err)
			return
		}
		var fe *shows.FileError
		require.ErrorAs(t, err, &fe)
		require.NotEmpty(t, fe.File)
		require.True(t, strings.HasSuffix(fe.File, ".toml") || fe.File == ".saving", "%s for folder %q", fe.File, at)
	}
}

// The list of what a save is about to do is on the disk before the first file
// is replaced: a power cut in between finds either no list and all old files, or
// the list.
func TestListOfASaveIsSureBeforeTheFirstFile(t *testing.T) {
	st, before, _ := twoSongs(t)
	var seen []string
	st.fail = func(op, name string) error {
		if op == "sync" || op == "rename" || op == "remove" {
			seen = append(seen, op+" "+name)
		}
		return nil
	}
	after := anEdit(t, before, setText(songZero, "title", "New"), setText(timeline.Ref{Kind: "show", ID: "big"}, "title", "New"))
	_, err := shows.SaveTo(st, after, before, shows.SaveOptions{})
	require.NoError(t, err)
	list := slices.IndexFunc(seen, func(s string) bool { return strings.HasPrefix(s, "rename") && strings.Contains(s, ".saving") })
	require.GreaterOrEqual(t, list, 0, "%q", seen)
	require.Equal(t, "sync ", seen[list+1], "%q", seen)
	require.True(t, strings.HasPrefix(seen[list+2], "rename "), "%q", seen)
}
