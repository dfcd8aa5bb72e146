package export

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// A file that cannot be made leaves what was there, and no half of itself.
func TestFileIsWholeOrNot(t *testing.T) {
	name := filepath.Join(t.TempDir(), "list.csv")
	require.NoError(t, os.WriteFile(name, []byte("old"), 0o600))
	broken := File{Name: name, Fill: func(w io.Writer) error {
		return errors.Join(second(w.Write([]byte("half"))), errors.New("the disk is full"))
	}}
	require.ErrorContains(t, Write(t.Context(), []File{broken}, func(float64) {}), "the disk is full")
	b, err := os.ReadFile(name)
	require.NoError(t, err)
	require.Equal(t, "old", string(b))
	entries, err := os.ReadDir(filepath.Dir(name))
	require.NoError(t, err)
	require.Len(t, entries, 1)
}

func second(_ int, err error) error { return err }

// A device is not written to, nor put a file in the place of.
func TestFileTakesThePlaceOfNoDevice(t *testing.T) {
	filled := false
	file := File{Name: os.DevNull, Fill: func(io.Writer) error { filled = true; return nil }}
	require.ErrorContains(t, Write(t.Context(), []File{file}, func(float64) {}), "is a device, a pipe or a socket; name a file")
	require.False(t, filled)
}
