package intake_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/big"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/intake"
	"emberbeat/timeline"
	"emberbeat/timeline/testtool"
)

// event is what the referee says about one event.
type event struct {
	Kind, Track, Text string
	Tick              int64
	Num, Den          int64
}

// micros is the exact time in microseconds from tick 0.
func (e event) micros() float64 {
	f, _ := big.NewRat(e.Num, e.Den).Float64()
	return f
}

func referee(t testing.TB, args ...string) []event {
	t.Helper()
	cmd := exec.Command(testtool.Python(t, "mido"), append([]string{"testdata/referee.py"}, args...)...)
	var out, complaint bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &complaint
	require.NoError(t, cmd.Run(), complaint.String())
	var list []event
	for d := json.NewDecoder(&out); d.More(); {
		var e event
		require.NoError(t, d.Decode(&e))
		list = append(list, e)
	}
	return list
}

// Files of random tempos and time signatures that mido wrote: every tempo
// change, marker and bar line stands within a microsecond of where mido has it.
func TestMidoFiles(t *testing.T) {
	for seed := range 8 {
		path := filepath.Join(t.TempDir(), "random.mid")
		referee(t, "write", path, fmt.Sprint(seed))
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		m, err := intake.ReadMIDI(data)
		require.NoError(t, err)
		require.Equal(t, "song", m.Name)
		f, err := m.Found()
		require.NoError(t, err)
		require.Empty(t, f.Notes)
		markers, bar := map[string]float64{}, 0
		for _, e := range referee(t, path) {
			require.InDelta(t, e.micros(), micros(m.TimeAt(e.Tick)), 1, "%+v", e)
			switch e.Kind {
			case "marker":
				markers[e.Text] = e.micros()
			case "bar":
				bar++
				require.InDelta(t, e.micros(), micros(f.Beats.BarStart(bar)), 1, "seed %d, bar %d", seed, bar)
			}
		}
		require.Greater(t, bar, 1)
		require.Len(t, f.Sections, len(markers)) // all of them stand on bar lines
		for _, s := range f.Sections {
			at, ok := s.At.In(f.Beats)
			require.True(t, ok)
			require.InDelta(t, markers[s.Name], micros(at), 1, s.Name)
		}
	}
}

func micros(t timeline.Time) float64 { return float64(t) / (timeline.TicksPerSecond / 1e6) }
