package stripe

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
	"emberbeat/timeline/testtool"
)

// heardByMidiFile reads a file with npm's midi-file.
func heardByMidiFile(t *testing.T, data []byte) []midiEventHeard {
	t.Helper()
	dir := testtool.NPM(t, "midi-file", "1.2.4")
	path := filepath.Join(t.TempDir(), "song.mid")
	require.NoError(t, os.WriteFile(path, data, 0o600))
	out, err := exec.Command("node", "../../intake/testdata/referee.js", dir, path).Output()
	require.NoError(t, err)
	var list []midiEventHeard
	for d := json.NewDecoder(bytes.NewReader(out)); d.More(); {
		var e midiEventHeard
		require.NoError(t, d.Decode(&e))
		list = append(list, e)
	}
	return list
}

// Two programs that read MIDI files find the same tempos, time signatures and
// markers in ours, at the same ticks and the same exact times.
func TestTwoReadersAgreeOnOurMIDI(t *testing.T) {
	first := testtool.Seed(t)
	for seed := first; seed < first+3; seed++ {
		data := midiOf(t, uneven(t, seed, 3*timeline.Hour), 3*timeline.Hour,
			&timeline.Marker{Base: timeline.Base{ID: "m"}, Name: "go – “now”", At: timeline.AtTime(7 * timeline.Second / 3)},
			&timeline.Section{Base: timeline.Base{ID: "s"}, Name: "Verse", At: timeline.AtBar(timeline.BarBeat{Bar: 9})})
		var want []midiEventHeard
		for _, e := range heardByMido(t, data) {
			if e.Kind == "set_tempo" || e.Kind == "time_signature" || e.Kind == "marker" && e.Track == "sections" {
				e.Track = ""
				want = append(want, e)
			}
		}
		var got []midiEventHeard
		for _, e := range heardByMidiFile(t, data) {
			if e.Kind != "marker" || e.Text == "Verse" { // each reads text beyond ASCII in its own way
				got = append(got, e)
			}
		}
		require.Greater(t, len(want), 3)
		require.Equal(t, want, got, "seed %d", seed)
		require.Equal(t, 2, count(heardByMidiFile(t, data), "marker"))
	}
}
