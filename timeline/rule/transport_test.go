package rule

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
)

// ADR 1.1.3.6: ×50, ×3, ×1, ×0 by category, limit 1000. The
// comets of the stage are two spares: 1.4G at 3 points a kilogram.
func TestTransportPoints(t *testing.T) {
	comets := func(grams string, more ...timeline.Edit) []timeline.Edit {
		return append(edits(field("article", "comet", "nec", grams), field("article", "comet", "division", "1.4G")), more...)
	}
	gas := func(kg string, more ...timeline.Edit) []timeline.Edit {
		return append(edits(put(&timeline.Supply{Base: base{ID: "c", Kept: nil}, Name: "rack", Medium: "CO2", Units: 1, Usable: 1}), field("supply", "c", "fill", kg)), more...)
	}
	runCases(t, "transport-points", []ruleCase{
		{"at the limit", comets("166666.5"), nil},
		{"over it", comets("166667"), []string{"show:show: 333.334 kg 1.4G come to 1000.002 transport points, more than 1000"}},
		{"in another division", comets("166667", field("article", "comet", "division", "1.4S")), nil},
		{"or category", comets("10001", field("article", "comet", "transport", "1")), []string{"show:show: 20.002 kg 1.4G come to 1000.1 transport points"}},
		{"gas", gas("1000"), nil},
		{"with a spare cylinder", gas("500.5", field("supply", "c", "spare-units", "1")), []string{"show:show: 1001 kg CO2 come to 1001 transport points"}},
		{"no dangerous goods", gas("5000", field("supply", "c", "medium", "paper")), nil},
		{"unless it says so", gas("1001", field("supply", "c", "medium", "paper"), field("supply", "c", "transport", "3")), []string{"show:show: 1001 kg paper"}},
		{"never freed", gas("1", field("supply", "c", "transport", "0")), []string{"supply:c: category 0"}},
		{"nor this", comets("1", field("article", "comet", "transport", "0")), []string{"article:comet: category 0"}},
		{"no category", comets("1", field("article", "comet", "division", "1.4")), []string{"article:comet: holds explosive: \"1.4\" has no transport category"}},
		{"a limit of one's own", gas("334", put(&timeline.Setting{Base: base{ID: "transport-points"}, Values: []string{"limit=333"}})), []string{"show:show: more than 333"}},
		{"a factor of one's own", gas("334", put(&timeline.Setting{Base: base{ID: "transport-points"}, Values: []string{"factor-3=3"}})), []string{"show:show: 1002 transport points"}},
	})
	runNight(t, "transport-points", []nightCase{{"one is out of the night's rig", comets("166667", field("night", "n", "rig-changes", "placed=c1 out")), nil}})
	sum, limit := TransportOf(timeline.Compile(stage(t, gas("334", put(&timeline.Setting{Base: base{ID: "transport-points"}, Values: []string{"factor-3=3"}}))...), nil))
	require.Equal(t, []float64{1002, 1000}, []float64{sum.Points, limit})
}

// Points against adding up every placed effect and cylinder in whole grams.
func TestTransportPointsEqualTheirSlowTwin(t *testing.T) {
	factor := map[string]int{"1.1G": 50, "1.4G": 3, "1.4S": 0, "CO2": 1, "propane": 3}
	rapid.Check(t, func(rt *rapid.T) {
		s := stage(t)
		sum := 0
		s, err := s.Edit(func(d *timeline.Draft) error {
			for i := range rapid.IntRange(0, 5).Draw(rt, "placed") {
				id := timeline.ID(fmt.Sprint("x", i))
				nec, division := rapid.IntRange(0, 90_000).Draw(rt, "nec"), rapid.SampledFrom([]string{"1.1G", "1.4G", "1.4S"}).Draw(rt, "division")
				d.Put("", &timeline.Article{Base: base{ID: id}, SingleUse: true, NEC: float64(nec), Division: division},
					&timeline.Placed{Base: base{ID: id}, Article: id, Spare: rapid.Bool().Draw(rt, "spare")})
				sum += nec * factor[division]
			}
			for i := range rapid.IntRange(0, 2).Draw(rt, "supplies") {
				kg, units, spare := rapid.IntRange(0, 200).Draw(rt, "kg"), rapid.IntRange(1, 3).Draw(rt, "units"), rapid.IntRange(0, 2).Draw(rt, "spares")
				medium := rapid.SampledFrom([]string{"CO2", "propane"}).Draw(rt, "medium")
				d.Put("", &timeline.Supply{Base: base{ID: timeline.ID(fmt.Sprint("s", i))}, Medium: medium, Fill: float64(kg), Units: units, Spare: spare, Usable: 0.5})
				sum += 1000 * kg * (units + spare) * factor[medium]
			}
			return nil
		})
		require.NoError(rt, err)
		p := timeline.Compile(s, nil)
		got, limit := TransportOf(p)
		require.InDelta(rt, float64(sum)/1000, got.Points, 1e-6)
		require.Equal(rt, float64(sum)/1000 > limit, len(ofRule("transport-points", Check(p, Facts{}))) == 1)
	})
}
