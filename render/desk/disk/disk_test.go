package disk

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// Of the files of a folder those are shown that are wanted; folders always, and hidden
// ones never.
func TestOnlyWhatIsWantedIsShown(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"song.wav", "notes.json", "read.txt", ".hidden.json", "tour/show.toml", "other/x"} {
		require.NoError(t, os.MkdirAll(filepath.Dir(filepath.Join(dir, name)), 0o755))
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), nil, 0o600))
	}
	for want, names := range map[string][]string{"show": {"other", "tour show"}, "audio": {"other", "tour", "song.wav audio"}, "notes": {"other", "tour", "notes.json notes"}} {
		list, err := (&Disk{Want: want}).List(dir)
		require.NoError(t, err)
		var got []string
		for _, f := range list {
			text := f.Name
			if f.Kind != "" {
				text += " " + f.Kind
			}
			got = append(got, text)
		}
		require.Equal(t, names, got, want)
	}
	_, err := (&Disk{}).List(filepath.Join(dir, "gone"))
	require.Error(t, err)
}
