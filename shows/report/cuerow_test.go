package report

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
)

// Rows hold every line once: its unit, outputs and value, at its time.
func TestRowsHoldEveryLine(t *testing.T) {
	base := testshow.Small(t)
	folded := false
	rapid.Check(t, func(t *rapid.T) {
		l, err := NewCueList(timeline.Compile(testshow.Random(t, base), nil), Filter{})
		require.NoError(t, err)
		rows, outputs := RowsOf(l.Lines), 0
		folded = folded || len(rows) < len(l.Lines)
		for i, r := range rows {
			require.True(t, i == 0 || rows[i-1].Number < r.Number, "in the order of the list")
			outputs += len(r.Driven)
		}
		for _, line := range l.Lines {
			outputs -= len(line.Outputs)
			found := 0
			for _, r := range rows {
				if r.Song == line.Song && r.Cue == line.Cue && r.Action == line.Action && r.Timecode == line.Timecode && r.Close == line.Close && r.Article == line.Article && r.Lead == line.Lead && r.HitTimecode == line.HitTimecode && r.Level == line.Level && r.Open == line.Open {
					found++
					require.Contains(t, r.Units, line.PlacedName+line.DeviceName)
				}
			}
			require.Equal(t, 1, found)
		}
		require.Zero(t, outputs)
	})
	require.True(t, folded, "no row stands for two lines")
}

func TestFoldedLabels(t *testing.T) {
	out := func(labels ...string) (list []Output) {
		for _, l := range labels {
			list = append(list, Output{Label: l})
		}
		return list
	}
	require.Equal(t, "no output", FoldedLabels(nil))
	require.Equal(t, "bank 1 · 1–3, 7", FoldedLabels(out("bank 1 output 1", "bank 1 output 7", "bank 1 output 2", "bank 1 output 3")))
	require.Equal(t, "DMX 1.101–102; DMX 2.1", FoldedLabels(out("DMX 1.101", "DMX 2.1", "DMX 1.102")))
	require.Equal(t, "DMX 1.3+4; DMX 1.5 of left; fan slot 1.2, no address", FoldedLabels(out("DMX 1.3+4", "DMX 1.5 of left", "fan slot 1.2, no address")))
	require.Equal(t, "bank 1 · 1; bank 1 · 2 (dead)", FoldedLabels(append(out("bank 1 output 1"), Output{Label: "bank 1 output 2", Dead: true})))
}

// Arms that go up in one frame stand in the order of their addresses, whatever their
// cues and devices are called.
func TestArmsStandByAddress(t *testing.T) {
	starts := map[timeline.ID]timeline.Patch{"va": {Universe: 2, Slot: 1}, "vb": {Universe: 1, Slot: 300}, "vc": {Universe: 1, Slot: 20}}
	s := testshow.Edited(t, testshow.Tour(t, 1, 0), func(d *timeline.Draft) error {
		for id, at := range starts {
			d.Put("", &timeline.Device{Base: timeline.Base{ID: id}, Name: string(id), Type: "bar", Starts: []timeline.Patch{at}},
				&timeline.Placed{Base: timeline.Base{ID: "p" + id}, Name: "p" + string(id), Article: "flame"},
				&timeline.Wire{Base: timeline.Base{ID: "x" + id}, Placed: "p" + id, Driver: id, Output: 1})
			d.Put("song01", &timeline.Lane{Base: timeline.Base{ID: "l" + id}, Name: string(id), Target: "p" + id, Role: timeline.ArmSlot},
				&timeline.Cue{Base: timeline.Base{ID: "q" + id}, Lane: "l" + id, At: timeline.AtTime(10 * timeline.Second), Open: timeline.Second})
		}
		return nil
	})
	l, err := NewCueList(timeline.Compile(s, nil), Filter{})
	require.NoError(t, err)
	var order []string
	for _, line := range l.Lines {
		if line.Action == "arm up" && line.DeviceName[0] == 'v' {
			order = append(order, line.DeviceName)
		}
	}
	require.Equal(t, []string{"vc", "vb", "va"}, order)
}
