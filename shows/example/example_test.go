package example

import (
	"io/fs"
	"os"
	"path/filepath"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/example/score"
)

// The embedded songs stay below this many bytes in all.
const audioLimit = 6 << 20

func TestFSHoldsEverySong(t *testing.T) {
	var total int64
	for _, s := range score.Songs() {
		info, err := fs.Stat(FS(), "audio/"+s.Slug+".ogg")
		require.NoError(t, err)
		total += info.Size()
	}
	require.Less(t, total, int64(audioLimit))
}

func TestFSIsSound(t *testing.T) {
	require.NoError(t, fstest.TestFS(FS(), "audio/slow-matches.ogg"))
}

func TestCopyToMakesTheSameFiles(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new", "show")
	require.NoError(t, CopyTo(dir))
	require.NoError(t, fs.WalkDir(FS(), ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		want, err := fs.ReadFile(FS(), path)
		require.NoError(t, err)
		got, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(path)))
		require.NoError(t, err)
		require.Equal(t, want, got, path)
		return nil
	}))
}

func TestCopyToTakesAnEmptyFolder(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, CopyTo(dir))
	require.FileExists(t, filepath.Join(dir, "audio", "slow-matches.ogg"))
}

func TestCopyToRefuses(t *testing.T) {
	full := t.TempDir()
	note := filepath.Join(full, "note.txt")
	require.NoError(t, os.WriteFile(note, []byte("mine"), 0o600))
	for name, c := range map[string]struct{ dir, says string }{
		"a folder with a file in it": {full, "is not empty"},
		"a file":                     {note, "note.txt"},
	} {
		t.Run(name, func(t *testing.T) {
			require.ErrorContains(t, CopyTo(c.dir), c.says)
		})
	}
	left, err := os.ReadDir(full)
	require.NoError(t, err)
	require.Len(t, left, 1)
}

func TestCopiedFilesCanBeEdited(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, CopyTo(dir))
	path := filepath.Join(dir, "audio", "slow-matches.ogg")
	require.NoError(t, os.WriteFile(path, nil, 0o600))
}
