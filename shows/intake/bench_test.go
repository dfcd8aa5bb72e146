package intake_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/intake"
	"emberbeat/timeline"
)

// A cue list of 5,000 rows in one song.
func BenchmarkCueRows(b *testing.B) {
	p := cueShow(b)
	var text strings.Builder
	text.WriteString("seconds,target\n")
	for i := range 5000 {
		fmt.Fprintf(&text, "%d.%04d,Jet left\n", i/100, i%100*100)
	}
	table, err := intake.ReadTable([]byte(text.String()), intake.TableOptions{})
	require.NoError(b, err)
	for b.Loop() {
		rows, err := table.Cues(p, intake.CueOptions{Song: p.Show.Song("first")})
		require.NoError(b, err)
		n := 0
		_, err = p.Show.Edit(intake.PlaceCues(p, rows, func(kind string, _ timeline.ID) timeline.ID {
			n++
			return timeline.ID(fmt.Sprint(kind, n))
		}))
		require.NoError(b, err)
	}
}
