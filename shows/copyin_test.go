package shows

import (
	"archive/zip"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"path"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"
)

// watched notes the folders in which a name came that a power cut could still take
// back.
type watched struct {
	Storage
	unsure map[string]bool
	fail   func(op, name string) error
}

func watch(t *testing.T) *watched {
	return &watched{Storage: OS(t.TempDir()), unsure: map[string]bool{}, fail: func(string, string) error { return nil }}
}

func (w *watched) Write(name string, r io.Reader) error {
	if err := w.fail("write", name); err != nil {
		return err
	}
	w.unsure[dirOf(name)] = true
	return w.Storage.Write(name, r)
}

func (w *watched) Rename(from, to string) error {
	if err := w.fail("rename", from); err != nil {
		return err
	}
	w.unsure[dirOf(to)] = true
	return w.Storage.Rename(from, to)
}

func (w *watched) MkdirAll(dir string) error {
	for above := dir; above != ""; above = dirOf(above) {
		if _, err := w.List(above); err != nil {
			w.unsure[dirOf(above)] = true
		}
	}
	return w.Storage.MkdirAll(dir)
}

func (w *watched) SyncDir(dir string) error {
	delete(w.unsure, dir)
	return w.Storage.SyncDir(dir)
}

// What is copied into a show, put there as a tree, or unpacked, is on the disk when
// that is said to be done: every folder in which a name came was made sure of.
func TestCopiesAreOnTheDisk(t *testing.T) {
	tree := fstest.MapFS{"show.toml": {Data: []byte("a")}, "songs/one/song.toml": {Data: []byte("b")}, "audio/one.wav": {Data: []byte("c")}}
	archive := func() *zip.Reader {
		var b bytes.Buffer
		z := zip.NewWriter(&b)
		for name, f := range tree {
			w, err := z.Create(name)
			require.NoError(t, err)
			_, err = w.Write(f.Data)
			require.NoError(t, err)
		}
		require.NoError(t, z.Close())
		r, err := zip.NewReader(bytes.NewReader(b.Bytes()), int64(b.Len()))
		require.NoError(t, err)
		return r
	}
	for name, put := range map[string]func(Storage) error{
		"one file": func(st Storage) error { return CopyIn(st, "audio/one.wav", strings.NewReader("c"), nil) },
		"a tree":   func(st Storage) error { return CopyTree(st, tree) },
		"an archive": func(st Storage) error {
			u := &unpacker{ctx: context.Background(), out: &Unpacked{}}
			if err := u.choose(archive().File); err != nil {
				return err
			}
			return u.write(st)
		},
	} {
		w := watch(t)
		require.NoError(t, put(w), name)
		require.Empty(t, w.unsure, name)
		b, err := w.ReadFile("audio/one.wav")
		require.NoError(t, err, name)
		require.Equal(t, "c", string(b), name)
		if name != "one file" {
			b, err = w.ReadFile("songs/one/song.toml")
			require.NoError(t, err, name)
			require.Equal(t, "b", string(b), name)
		}
	}
}

// A copy that fails, or that is not what it was to be, leaves what was there.
func TestCopyIsWholeOrNotAtAll(t *testing.T) {
	const to = "audio/one.wav"
	broken := errors.New("broken")
	for _, op := range []string{"write", "rename", "read", "wrong"} {
		w := watch(t)
		require.NoError(t, CopyIn(w, to, strings.NewReader("old"), nil))
		w.fail = func(at, _ string) error {
			if at == op {
				return broken
			}
			return nil
		}
		var from io.Reader = strings.NewReader("new")
		if op == "read" {
			from = io.MultiReader(from, failing{broken})
		}
		err := CopyIn(w, to, from, func() error {
			if op == "wrong" {
				return broken
			}
			return nil
		})
		require.ErrorIs(t, err, broken, op)
		b, err := w.ReadFile(to)
		require.NoError(t, err)
		require.Equal(t, "old", string(b), op)
		list, err := w.List(path.Dir(to))
		require.NoError(t, err)
		require.Len(t, list, 1, fmt.Sprint(op, list))
	}
}

type failing struct{ err error }

func (f failing) Read([]byte) (int, error) { return 0, f.err }
