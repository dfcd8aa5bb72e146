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
	"emberbeat/timeline/testtool"
)

// What we read of files of random tempos and time signatures stands within a
// microsecond of where npm's midi-file has it.
func TestMidiFileFiles(t *testing.T) {
	dir := testtool.NPM(t, "midi-file", "1.2.4")
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
