package load

import (
	"bytes"
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
)

// A piece that two outputs drive is loaded once; the ohms are those of igniters
// and cable at 20 °C: 2 × 1.6 + 2 × 50 m × 13.3 Ω/km (IEC 60228, class 5) = 4.53.
func TestLoadPlan(t *testing.T) {
	p := timeline.Compile(testshow.Charged(t), nil)
	load, err := NewPlan(p, report.Filter{})
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, load.WriteJSON(&b))
	var read struct {
		Groups []struct {
			Name  string
			Dead  bool
			Spare []int `json:"spare_outputs"`
			Lines []struct {
				Output   int
				NEC      float64  `json:"nec_grams"`
				First    string   `json:"first_timecode"`
				Expected *float64 `json:"expected_ohms"`
				State    []string
			}
		}
		Caution string
	}
	require.NoError(t, json.Unmarshal(b.Bytes(), &read))
	require.Equal(t, report.Caution, read.Caution)
	bank := read.Groups[1]
	require.Equal(t, "bank 2", bank.Name)
	require.True(t, bank.Dead)
	require.Equal(t, 14, len(bank.Spare))
	require.Equal(t, 3, bank.Spare[0])
	require.Equal(t, 12.1, bank.Lines[0].NEC)
	require.InDelta(t, 4.53, *bank.Lines[0].Expected, 1e-9)
	require.Equal(t, "01:00:08:05", bank.Lines[0].First) // bar 5.1+1/2 is 8.25 s; less 40 and 10 ms of lead, 8.2 s
	require.Equal(t, []string{"output dead"}, bank.Lines[0].State)
	require.Nil(t, bank.Lines[1].Expected)
	require.Zero(t, bank.Lines[1].NEC)
	require.Contains(t, bank.Lines[1].State, "counted at bank 2 output 1")
}
