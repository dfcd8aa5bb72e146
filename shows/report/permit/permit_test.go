package permit

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report/testshow"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// Required and planned distances: comets with a fallout of 3 m need 6 m by FC
// 3309.12 (2014), derived; jets on a relay no more than their clear zone.
func TestPermitPackDistances(t *testing.T) {
	k := packOf(t, testshow.Marked(t, timeline.Label, func(*timeline.Article) {}))
	type row struct {
		to, position, article, governs, state string
		required                              float64
	}
	var got []row
	for i := range k.Distances {
		d := &k.Distances[i]
		got = append(got, row{d.To, d.Position, d.Article, d.Governs, d.State(), d.Required})
	}
	require.Equal(t, []row{
		{"audience", "=front left", "flame", "label distance", "SHORT BY 2 m", 6},
		{"audience", "=front left", "CO2 jet", "clear zone", "no conflict found", 3},
		{"audience", "no position", "comet", "rule set New York City Fire Code, FC 3309.12 FC 3309.12", "not measured: audience line or position not given", 6},
		{"performers", "=front left", "CO2 jet", "clear zone", "no conflict found", 3},
		{"performers", "=front left", "flame", "", "nothing gives a distance", 0},
		{"performers", "no position", "comet", "fallout radius", "not measured: mark or position not given", 3},
	}, got)
	require.Equal(t, "4", wording.Centimetres(*k.Distances[0].Planned))
	require.Equal(t, "3.47", wording.Centimetres(*k.Distances[3].Planned), "rounded down: to the edge of a mark of 1 m, √20 − 1 = 3.4721 m")
}

// 7871 ppm for 28.8 kg in 2000 m³ (derived: 0.5466 m³/kg).
func TestPermitPackGas(t *testing.T) {
	p := testshow.Marked(t, timeline.Label, func(a *timeline.Article) {
		if a.ID == "jet" {
			a.UseRate, a.UseEach = 0, 28.8/3
		}
	})
	g := packOf(t, p).Gas
	require.InDelta(t, 28.8, g.Kg, 1e-9)
	require.InDelta(t, 7871, g.Rise, 1)
	require.Contains(t, strings.Join(g.Lines(), " "), "only a CO2 monitor guards")
}
