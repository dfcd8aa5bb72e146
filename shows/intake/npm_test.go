package intake_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/intake"
)

// npmPackage returns a folder whose node_modules holds a package at a version,
// installed once into the user's cache, without a lock file, which would name the
// place it came from, and without running its scripts.
func npmPackage(t testing.TB, name, version string) string {
	t.Helper()
	missing := func(what string) {
		if os.Getenv("EMBERBEAT_REQUIRE_TOOLS") == "1" {
			t.Fatal(what)
		}
		t.Skip(what)
	}
	for _, tool := range []string{"node", "npm"} {
		if _, err := exec.LookPath(tool); err != nil {
			missing(tool + " is not installed")
		}
	}
	cache, err := os.UserCacheDir()
	if err != nil {
		missing(err.Error())
	}
	root := filepath.Join(cache, "emberbeat-tests", "npm")
	dir := filepath.Join(root, name+"-"+version)
	if _, err := os.Stat(dir); err == nil {
		return dir
	}
	require.NoError(t, os.MkdirAll(root, 0o755))
	fresh, err := os.MkdirTemp(root, "install-")
	require.NoError(t, err)
	defer os.RemoveAll(fresh)
	install := exec.Command("npm", "install", "--prefix", fresh, "--no-package-lock", "--no-save", "--no-audit", "--no-fund", "--ignore-scripts", name+"@"+version)
	if out, err := install.CombinedOutput(); err != nil {
		missing(fmt.Sprintf("npm install %s@%s: %v\n%s", name, version, err, out))
	}
	if err := os.Rename(fresh, dir); err != nil { // another test may have been faster
		require.DirExists(t, dir)
	}
	return dir
}

// What we read of files of random tempos and time signatures stands within a
// microsecond of where npm's midi-file has it.
func TestMidiFileFiles(t *testing.T) {
	dir := npmPackage(t, "midi-file", "1.2.4")
	for seed := 100; seed < 108; seed++ {
		path := filepath.Join(t.TempDir(), "random.mid")
		referee(t, "write", path, fmt.Sprint(seed))
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		m, err := intake.ReadMIDI(data)
		require.NoError(t, err)
		f, err := m.Found()
		require.NoError(t, err)
		out, err := exec.Command("node", "testdata/referee.js", dir, path).Output()
		require.NoError(t, err)
		markers := map[string]float64{}
		for d := json.NewDecoder(bytes.NewReader(out)); d.More(); {
			var e event
			require.NoError(t, d.Decode(&e))
			require.InDelta(t, e.micros(), micros(m.TimeAt(e.Tick)), 1, "%+v", e)
			if e.Kind == "marker" {
				markers[e.Text] = e.micros()
			}
		}
		require.Len(t, f.Sections, len(markers))
		for _, s := range f.Sections {
			at, ok := s.At.In(f.Beats)
			require.True(t, ok)
			require.InDelta(t, markers[s.Name], micros(at), 1, s.Name)
		}
	}
}
