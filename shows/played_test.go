package shows_test

import (
	"bytes"
	"context"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"emberbeat/shows"
	"emberbeat/timeline"

	"github.com/stretchr/testify/require"
)

const keptIn = "nights/first/played-c-2"

// playedShow is a show with a night, before and after something was entered of it.
func playedShow(t testing.TB) (before, after *timeline.Show) {
	t.Helper()
	before, err := bigShow(t, 2, 3).Edit(func(d *timeline.Draft) error {
		d.Put("", &timeline.Night{Base: timeline.Base{ID: "n1"}, Slug: "first", Date: "2031-05-09", Revision: "C 2"},
			&timeline.Supply{Base: timeline.Base{ID: "cyl"}, Name: "cylinder", Fill: 10, Units: 1})
		return nil
	})
	require.NoError(t, err)
	return before, weighed(t, before, 3.5)
}

func weighed(t testing.TB, s *timeline.Show, kg float64) *timeline.Show {
	t.Helper()
	edit, err := timeline.Compile(s, s.Night("n1")).AfterShow(timeline.AfterShow{Weights: []timeline.Fill{{Supply: "cyl", Kg: kg}}})
	require.NoError(t, err)
	s, err = s.Edit(edit)
	require.NoError(t, err)
	return s
}

// sameKept holds what is kept of the night against a show.
func sameKept(t testing.TB, want *timeline.Show, is *timeline.Show) {
	t.Helper()
	kept := is.KeptFor("n1")
	require.NotNil(t, kept)
	require.Empty(t, timeline.Diff(want, kept))
}

func TestPlayedNightIsStored(t *testing.T) {
	before, after := playedShow(t)
	st := newMemory()
	_, err := shows.SaveTo(st, before, nil, shows.SaveOptions{})
	require.NoError(t, err)
	alone := st.clone()
	saved, err := shows.SaveTo(st, after, before, shows.SaveOptions{})
	require.NoError(t, err)
	for name, b := range alone.files {
		require.Equal(t, string(b), string(st.files[keptIn+"/"+name]), "plain text, as the show had it: %s", name)
		require.Contains(t, saved.Written, keptIn+"/"+name)
	}
	require.Len(t, st.files, 2*len(alone.files))

	l, err := shows.LoadFrom(st)
	require.NoError(t, err)
	require.Empty(t, timeline.Diff(after, l.Show))
	sameKept(t, before, l.Show)
	require.Len(t, l.Prints, len(st.files), "every file is watched for changes of others")
	file, _ := l.Places.Place(timeline.Ref{Kind: "supply", ID: "cyl"})
	require.Equal(t, "rig.toml", file, "a record stands where the show itself has it")
	file, _ = saved.Places.Place(timeline.Ref{Kind: "night", ID: "n1"})
	require.Equal(t, "nights/first.toml", file)

	st.ops = 0
	again := weighed(t, l.Show, 4)
	saved, err = shows.SaveTo(st, again, l.Show, shows.SaveOptions{Prints: l.Prints, Places: l.Places})
	require.NoError(t, err)
	require.Equal(t, []string{"nights/first.toml"}, saved.Written, "what is kept never changes")

	alongside, err := again.Edit(func(d *timeline.Draft) error {
		return d.Set(timeline.Ref{Kind: "night", ID: "n1"}, "slug", timeline.Value{Text: "other"})
	})
	require.NoError(t, err)
	_, err = shows.SaveTo(st, alongside, again, shows.SaveOptions{})
	require.NoError(t, err)
	require.Nil(t, st.files[keptIn+"/show.toml"])
	l, err = shows.LoadFrom(st)
	require.NoError(t, err)
	sameKept(t, before, l.Show)

	st.files["nights/other/played-c-2/rig.toml"] = append([]byte("# by hand\n"), st.files["nights/other/played-c-2/rig.toml"]...)
	_, err = shows.SaveTo(st, before, l.Show, shows.SaveOptions{Prints: l.Prints})
	var changed *shows.ChangedError
	require.ErrorAs(t, err, &changed, "who changed what is kept is not overridden")
	require.Contains(t, changed.Files, "nights/other/played-c-2/rig.toml")
}

// However the save breaks off that keeps a played night, the show is the old one or
// the new one with all that is kept, and the next save leaves nothing behind.
func TestPlayedNightIsStoredWholeOrNot(t *testing.T) {
	before, after := playedShow(t)
	halfway := 0
	for cut := 1; ; cut++ {
		st := newMemory()
		_, err := shows.SaveTo(st, before, nil, shows.SaveOptions{})
		require.NoError(t, err)
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
		_, err = shows.SaveTo(st, after, before, shows.SaveOptions{})
		require.NoError(t, err)
		if left == nil {
			break
		}
		l, err := shows.LoadFrom(left)
		require.NoError(t, err, "step %d", cut)
		if len(timeline.Diff(after, l.Show)) == 0 {
			sameKept(t, before, l.Show)
			halfway++
		} else {
			require.Empty(t, timeline.Diff(before, l.Show), "step %d", cut)
			require.Empty(t, l.Show.Played)
		}
		_, err = shows.SaveTo(left, l.Show, nil, shows.SaveOptions{})
		require.NoError(t, err)
		for name := range left.files {
			require.False(t, strings.HasPrefix(filepath.Base(name), "."), "step %d: %s is left", cut, name)
		}
	}
	require.Greater(t, halfway, 5)
}

func TestPlayedNightOnADiskThatFails(t *testing.T) {
	before, after := playedShow(t)
	st := newMemory()
	_, err := shows.SaveTo(st, before, nil, shows.SaveOptions{})
	require.NoError(t, err)
	st.fail = func(op, name string) error {
		if op == "write" && strings.HasPrefix(name, keptIn+"/rig") || op == "write" && strings.HasPrefix(name, keptIn+"/.rig") {
			return &fs.PathError{Op: op, Path: name, Err: syscall.ENOSPC}
		}
		return nil
	}
	_, err = shows.SaveTo(st, after, before, shows.SaveOptions{})
	require.ErrorContains(t, err, keptIn+"/rig.toml")
	st.fail = nil
	l, err := shows.LoadFrom(st)
	require.NoError(t, err)
	require.Empty(t, timeline.Diff(before, l.Show), "no outcome without what is kept")
}

func TestPlayedNightInAFolder(t *testing.T) {
	before, after := playedShow(t)
	dir := filepath.Join(t.TempDir(), "show")
	require.NoError(t, os.Mkdir(dir, 0o755))
	require.NoError(t, shows.Save(dir, before, nil))
	require.NoError(t, shows.Save(dir, after, before))
	kept, err := shows.Load(filepath.Join(dir, filepath.FromSlash(keptIn)))
	require.NoError(t, err, "what is kept opens as a show of its own")
	require.Empty(t, timeline.Diff(before, kept.Show))

	var archive bytes.Buffer
	_, err = shows.Pack(context.Background(), dir, &archive, shows.PackOptions{})
	require.NoError(t, err)
	out := filepath.Join(t.TempDir(), "out")
	un, err := shows.Unpack(context.Background(), bytes.NewReader(archive.Bytes()), int64(archive.Len()), out, shows.UsualLimits())
	require.NoError(t, err)
	require.Empty(t, un.Skipped)
	sameKept(t, before, un.Show.Show)

	stray := filepath.Join(dir, filepath.FromSlash(keptIn), ".rig.toml.new")
	require.NoError(t, os.WriteFile(stray, []byte("half"), 0o644))
	l, err := shows.Load(dir)
	require.NoError(t, err)
	require.Equal(t, []string{keptIn + "/.rig.toml.new"}, l.Strays)
	require.NoError(t, shows.Save(dir, weighed(t, l.Show, 1), l.Show))
	require.NoFileExists(t, stray)
	versions, err := shows.Versions(before.Head.ID)
	require.NoError(t, err)
	old, err := versions[0].Load()
	require.NoError(t, err)
	sameKept(t, before, old.Show)

	for _, c := range []struct{ name, was, now, want string }{
		{"twice", keptIn, "nights/first/played-d", "is kept as it was played in " + keptIn + " already"},
		{"of no night", "nights/first.toml", "", "there is no first.toml beside its folder"},
		{"without its show", keptIn + "/show.toml", "", "it is missing from what is kept"},
		{"without its night", keptIn + "/nights/first.toml", "", `it does not hold the night "n1"`},
	} {
		t.Run(c.name, func(t *testing.T) {
			bad := filepath.Join(t.TempDir(), "bad")
			require.NoError(t, os.CopyFS(bad, os.DirFS(dir)))
			if c.now != "" {
				require.NoError(t, os.CopyFS(filepath.Join(bad, c.now), os.DirFS(filepath.Join(bad, c.was))))
			} else {
				require.NoError(t, os.Remove(filepath.Join(bad, c.was)))
			}
			_, err := shows.Load(bad)
			require.ErrorContains(t, err, c.want)
		})
	}

	away := filepath.Join(t.TempDir(), "away")
	at := filepath.Join(dir, filepath.FromSlash(keptIn))
	require.NoError(t, os.Rename(at, away))
	require.NoError(t, os.Symlink(away, at))
	var link *shows.LinkError
	_, err = shows.Load(dir)
	require.ErrorAs(t, err, &link)
	require.Equal(t, keptIn, link.File)
	require.NoError(t, os.Remove(at))
	require.NoError(t, os.Rename(away, at))

	l, err = shows.Load(dir)
	require.NoError(t, err)
	forget, err := timeline.Compile(l.Show, l.Show.Night("n1")).AfterShow(timeline.AfterShow{Forget: true})
	require.NoError(t, err)
	next, err := l.Show.Edit(forget)
	require.NoError(t, err)
	require.NoError(t, shows.Save(dir, next, l.Show))
	require.NoDirExists(t, filepath.Join(dir, "nights", "first"), "no empty folders stay")
	require.FileExists(t, filepath.Join(dir, "nights", "first.toml"))
}
