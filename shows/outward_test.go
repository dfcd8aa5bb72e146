//go:build unix

package shows_test

import (
	"archive/zip"
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"emberbeat/shows"
	"emberbeat/timeline"

	"github.com/stretchr/testify/require"
)

// outside makes a folder with a file of somebody else's.
func outside(t *testing.T, name, text string) string {
	path := filepath.Join(t.TempDir(), name)
	require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	return path
}

func retitled(t *testing.T, s *timeline.Show, title string) *timeline.Show {
	next, err := s.Edit(
		func(d *timeline.Draft) error {
			return d.Set(timeline.Ref{Kind: "show", ID: s.Head.ID}, "title", timeline.Value{Text: title})
		},
		func(d *timeline.Draft) error {
			return d.Set(timeline.Ref{Kind: "song", ID: s.Songs[0].ID}, "title", timeline.Value{Text: title})
		})
	require.NoError(t, err)
	return next
}

// A link that stands where a new file or the lock's words go is taken away, not
// written through.
func TestLinksAreNotWrittenThrough(t *testing.T) {
	dir := copyOf(t, "tidy")
	l, err := shows.Load(dir)
	require.NoError(t, err)
	theirs := outside(t, "theirs", "not yours")
	slug := l.Show.Songs[0].Slug
	for _, name := range []string{".show.toml.new", "songs/" + slug + "/.song.toml.new", "..saving.new", ".lock-info"} {
		_ = os.Remove(filepath.Join(dir, name))
		require.NoError(t, os.Symlink(theirs, filepath.Join(dir, name)))
	}
	require.NoError(t, shows.Save(dir, retitled(t, l.Show, "New"), nil))
	b, err := os.ReadFile(theirs)
	require.NoError(t, err)
	require.Equal(t, "not yours", string(b))
	again, err := shows.Load(dir)
	require.NoError(t, err)
	require.Equal(t, "New", again.Show.Head.Title)

	require.NoError(t, os.Symlink(filepath.Join(t.TempDir(), "made"), filepath.Join(dir, ".lock")))
	_, err = shows.Lock(dir)
	require.ErrorContains(t, err, "it is a link or no file at all")
}

// A show of which a part lies elsewhere, by a link, is not read and not written,
// and the link is named.
func TestLinksOutOfTheFolderAreRefused(t *testing.T) {
	for _, part := range []string{"songs/SLUG", "songs/SLUG/cues.toml", "songs", "rig.toml", "venues"} {
		t.Run(part, func(t *testing.T) {
			dir := copyOf(t, "tidy")
			l, err := shows.Load(dir)
			require.NoError(t, err)
			part = strings.ReplaceAll(part, "SLUG", l.Show.Songs[0].Slug)
			at, away := filepath.Join(dir, part), filepath.Join(t.TempDir(), "away")
			if _, err := os.Stat(at); err != nil {
				require.NoError(t, os.Mkdir(at, 0o755))
			}
			require.NoError(t, os.Rename(at, away))
			require.NoError(t, os.Symlink(away, at))
			_, err = shows.Load(dir)
			var out *shows.LinkError
			require.ErrorAs(t, err, &out)
			require.Equal(t, shows.LinkError{File: part, To: away}, *out)
			require.ErrorContains(t, err, part+" is a link to")
			if part != "rig.toml" && part != "venues" {
				before := snapshot(t, away)
				require.ErrorAs(t, shows.Save(dir, retitled(t, l.Show, "New"), l.Show), &out)
				require.Equal(t, before, snapshot(t, away))
			}
			_, err = shows.Pack(context.Background(), dir, &bytes.Buffer{}, shows.PackOptions{})
			require.ErrorAs(t, err, &out)
		})
	}
}

// A link inside the folder, written relative to it, is followed.
func TestLinksInsideTheFolderAreFollowed(t *testing.T) {
	dir := copyOf(t, "tidy")
	l, err := shows.Load(dir)
	require.NoError(t, err)
	require.NoError(t, os.Rename(filepath.Join(dir, "songs"), filepath.Join(dir, "music")))
	require.NoError(t, os.Symlink("music", filepath.Join(dir, "songs")))
	again, err := shows.Load(dir)
	require.NoError(t, err)
	require.Empty(t, timeline.Diff(l.Show, again.Show))
	require.NoError(t, shows.Save(dir, retitled(t, l.Show, "New"), l.Show))
	whole := t.TempDir() + "/link"
	require.NoError(t, os.Symlink(dir, whole))
	_, err = shows.Load(whole)
	require.NoError(t, err, "the folder itself may be a link")
}

// snapshot gives the bytes of all files below a path.
func snapshot(t *testing.T, path string) map[string]string {
	files := map[string]string{}
	require.NoError(t, filepath.Walk(path, func(p string, info os.FileInfo, err error) error {
		if err == nil && info.Mode().IsRegular() {
			b, err := os.ReadFile(p)
			require.NoError(t, err)
			files[p] = string(b)
		}
		return err
	}))
	return files
}

// A recording that is a link out of the folder is not packed, and named.
func TestPackTakesNoRecordingFromOutside(t *testing.T) {
	dir := copyOf(t, "tidy")
	l, err := shows.Load(dir)
	require.NoError(t, err)
	secret := outside(t, "secret.wav", "a recording of somebody else's")
	show, err := l.Show.Edit(func(d *timeline.Draft) error {
		return d.Set(timeline.Ref{Kind: "song", ID: l.Show.Songs[0].ID}, "audio", timeline.Value{Text: "audio/take.wav"})
	})
	require.NoError(t, err)
	require.NoError(t, shows.Save(dir, show, nil))
	require.NoError(t, os.MkdirAll(filepath.Join(dir, "audio"), 0o755))
	require.NoError(t, os.Symlink(secret, filepath.Join(dir, "audio", "take.wav")))
	var b bytes.Buffer
	_, err = shows.Pack(context.Background(), dir, &b, shows.PackOptions{})
	var out *shows.LinkError
	require.ErrorAs(t, err, &out)
	require.ErrorContains(t, err, "audio/take.wav is a link to")
	require.NotContains(t, b.String(), "somebody")

	require.NoError(t, os.Remove(filepath.Join(dir, "audio", "take.wav")))
	require.NoError(t, os.Mkdir(filepath.Join(dir, "mixes"), 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "mixes", "a.wav"), []byte("ours"), 0o644))
	require.NoError(t, os.Symlink("../mixes/a.wav", filepath.Join(dir, "audio", "take.wav")))
	b.Reset()
	_, err = shows.Pack(context.Background(), dir, &b, shows.PackOptions{})
	require.NoError(t, err)
	z, err := zip.NewReader(bytes.NewReader(b.Bytes()), int64(b.Len()))
	require.NoError(t, err)
	_, err = z.Open("audio/take.wav")
	require.NoError(t, err, "a link inside the folder is followed")
}

// What is no file is told at once in the place of a show's file; nobody waits for
// it.
func TestPipesAndDevicesAreNoShowFiles(t *testing.T) {
	for what, make := range map[string]func(path string) error{
		"a pipe":   func(path string) error { return syscall.Mkfifo(path, 0o644) },
		"a folder": func(path string) error { return os.Mkdir(path, 0o755) },
	} {
		for _, name := range []string{"rig.toml", ".saving", ".lock-info"} {
			dir := copyOf(t, "tidy")
			_ = os.Remove(filepath.Join(dir, name))
			require.NoError(t, make(filepath.Join(dir, name)))
			_, err := shows.Load(dir)
			if name == "rig.toml" && what == "a folder" || name == ".lock-info" {
				require.NoError(t, err)
				continue
			}
			require.ErrorContains(t, err, name+": cannot be read: it is not a file but "+what)
		}
	}
	dir := copyOf(t, "tidy")
	require.NoError(t, os.Remove(filepath.Join(dir, "rig.toml")))
	f, err := os.Create(filepath.Join(dir, "rig.toml"))
	require.NoError(t, err)
	require.NoError(t, f.Truncate(1<<40)) // a hole, which takes no room
	require.NoError(t, f.Close())
	_, err = shows.Load(dir)
	require.ErrorContains(t, err, "rig.toml: cannot be read: it has more than the 67108864 bytes")
	require.NoError(t, syscall.Mkfifo(filepath.Join(dir, ".lock"), 0o644))
	_, err = shows.Lock(dir)
	require.ErrorContains(t, err, "no file at all")
}
