package load

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
)

// The addresses are the published ones of running numbers: 1.45 is 45, 2.1 is
// 513. A declared overlap is a note, another a clash.
func TestPatchSheet(t *testing.T) {
	s, err := testshow.Charged(t).Edit(func(d *timeline.Draft) error {
		put := func(id timeline.ID, shares []timeline.ID, starts ...timeline.Patch) {
			d.Put("", &timeline.Device{Base: timeline.Base{ID: id}, Name: string(id), Type: "bar", Starts: starts, Shares: shares})
		}
		put("d2", nil, timeline.Patch{Universe: 2, Slot: 1})
		put("d3", []timeline.ID{"d2"}, timeline.Patch{Universe: 2, Slot: 1})
		put("d4", nil, timeline.Patch{Universe: 2, Slot: 3})
		put("d5", nil)
		put("d6", nil, timeline.Patch{Universe: 3, Slot: 511})
		return nil
	})
	require.NoError(t, err)
	p := NewPatchSheet(timeline.Compile(s, nil))
	require.Len(t, p.Universes, 3)
	one, two, three := p.Universes[0], p.Universes[1], p.Universes[2]
	require.Equal(t, []string{"1.45", "1.47"}, []string{one.Blocks[0].Start, one.Blocks[0].End})
	require.Equal(t, []int{45, 47}, []int{one.Blocks[0].From, one.Blocks[0].To})
	require.Equal(t, PatchSlot{Address: "1.47", Running: 47, DeviceName: "bar 1", Slot: "1.3", Role: "arm", On: "64..127", Off: 7, Serves: "flame 1"}, one.Slots[2])
	require.Equal(t, 509, one.Free)
	require.Equal(t, 1, one.NextFree)
	require.Equal(t, 513, two.Blocks[0].From)
	require.Equal(t, []string{"shared with d3, as declared", "CLASH with d4"}, two.Blocks[0].Notes)
	require.Equal(t, []string{"CLASH: runs past slot 512"}, three.Blocks[0].Notes)
	require.Equal(t, []string{"d5: block 1 has no start address"}, p.Unpatched)
	require.Contains(t, p.DMX, "not appropriate for hazardous applications")
}
