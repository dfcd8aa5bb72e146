package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render/sheet"
	"emberbeat/shows/report"
)

// What `make run` does where there is no screen comes to its end, with a file of
// every kind that holds something. The script is run as the Makefile calls it.
func TestMainJobOnTheExample(t *testing.T) {
	t.Parallel()
	makefile, err := os.ReadFile("../../Makefile")
	require.NoError(t, err)
	require.Contains(t, string(makefile), "\n\t@.ci/example $(BIN) $(SHOW) out\n")
	dir := t.TempDir()
	self, err := os.Executable()
	require.NoError(t, err)
	program := filepath.Join(dir, programName) // by which name this test is the program
	require.NoError(t, os.Symlink(self, program))
	show, out := filepath.Join(dir, "show"), filepath.Join(dir, "out")
	c := exec.Command("../../.ci/example", program, show, out)
	c.Env = append(os.Environ(), "DISPLAY=", "WAYLAND_DISPLAY=", "HOME="+dir, "EMBERBEAT_STATE="+filepath.Join(dir, "state"), "EMBERBEAT_CACHE="+filepath.Join(dir, "cache"))
	said, err := c.CombinedOutput()
	require.NoError(t, err, string(said))
	found := map[string]int{}
	require.NoError(t, filepath.WalkDir(out, func(path string, e os.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		b, err := os.ReadFile(path)
		require.NoError(t, err)
		kind := filepath.Ext(path)
		for ext, begins := range map[string]string{".pdf": "%PDF-", ".png": "\x89PNG", ".json": "{"} {
			require.Equal(t, kind == ext, bytes.HasPrefix(b, []byte(begins)), path)
		}
		require.NotEmpty(t, bytes.TrimSpace(b), path)
		found[kind]++
		return nil
	}))
	songs, err := filepath.Glob(filepath.Join(show, "songs", "*"))
	require.NoError(t, err)
	sounds, err := filepath.Glob(filepath.Join(show, "audio", "*"))
	require.NoError(t, err)
	nights, err := filepath.Glob(filepath.Join(show, "nights", "*.toml"))
	require.NoError(t, err)
	require.NotEmpty(t, songs)
	require.NotEmpty(t, nights)
	require.Equal(t, map[string]int{".json": len(sounds) + 2, ".txt": 1, ".csv": 1, ".png": len(songs), ".pdf": (1 + len(sheet.Kinds())) * len(nights)}, found)
	require.Contains(t, string(said), "written to "+out)
	findings, err := os.ReadFile(filepath.Join(out, "findings.txt"))
	require.NoError(t, err)
	require.Contains(t, strings.Join(strings.Fields(string(findings)), " "), report.Caution)
}
