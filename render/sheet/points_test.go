package sheet

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report"
	"emberbeat/shows/report/load"
	"emberbeat/shows/report/permit"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
)

// Every sheet that somebody places or watches effects by says where they point.
func TestSheetsSayWhereEffectsPoint(t *testing.T) {
	s := testshow.Edited(t, testshow.Staged(t), func(d *timeline.Draft) error {
		for _, id := range []timeline.ID{"j1", "f1"} {
			if err := d.Set(timeline.Ref{Kind: "placed", ID: id}, "tilt", timeline.Value{Text: "-80"}); err != nil {
				return err
			}
		}
		return nil
	})
	p := timeline.Compile(s, s.Nights[0])
	moved := testshow.Edited(t, s, func(d *timeline.Draft) error {
		return d.Set(timeline.Ref{Kind: "wire", ID: "w1"}, "output", timeline.Value{Text: "8"})
	})
	lp, err := load.NewPlan(p, report.Filter{})
	require.NoError(t, err)
	spots, err := report.NewSpotterSheet(p, report.Filter{})
	require.NoError(t, err)
	seen, err := report.NewInspectorSheet(p, report.Filter{})
	require.NoError(t, err)
	pack, err := permit.NewPack(p)
	require.NoError(t, err)
	for name, made := range map[string]Sheet{"load plan": loadPlan{lp}, "spotter sheet": spotterSheet{spots}, "inspector sheet": inspectorSheet{seen}, "permit pack": permitPack{Pack: pack},
		"rewire sheet": rewireSheet{load.NewRewireSheet(p, timeline.Compile(moved, moved.Nights[0]))}} {
		var b bytes.Buffer
		require.NoError(t, made.WriteCSV(&b))
		require.Contains(t, b.String(), "pan 0°, tilt −80°: leans 80° to the audience", name)
	}
}
