package permit

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
	"emberbeat/timeline/units"
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
		got = append(got, row{d.To, d.Position, d.Article, d.Governs, d.Verdict, d.Required})
	}
	require.Equal(t, []row{
		{"audience", "=front left", "flame", "label distance", "short", 6},
		{"audience", "=front left", "CO2 jet", "clear zone", "cannot be checked", 3},
		{"audience", "no position", "comet", "rule set New York City Fire Code, FC 3309.12 FC 3309.12", "cannot be checked", 6},
		{"performers", "=front left", "CO2 jet", "clear zone", "kept", 3},
		{"performers", "=front left", "flame", "reach", "kept", 0},
		{"performers", "no position", "comet", "fallout radius", "cannot be checked", 3},
	}, got)
	require.Equal(t, 4.0, *k.Distances[0].Planned)
	require.Equal(t, 3.4, *k.Distances[3].Planned, "rounded down: to the edge of a mark of 1 m, √20 − 1 = 3.4721 m")
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
	require.Contains(t, strings.Join(g.Lines(units.Metres), " "), "only a CO2 monitor guards")
}

// A flame that leans over the barrier: the row from its axis is short though that
// from its unit is kept, and the pack counts what was compared.
func TestPermitPackOfATiltedFlame(t *testing.T) {
	p := testshow.Marked(t, timeline.Label, func(*timeline.Article) {})
	turned, err := p.Show.Edit(func(d *timeline.Draft) error {
		for _, f := range [][3]string{{"placed", "f1", "-80"}} {
			if err := d.Set(timeline.Ref{Kind: f[0], ID: timeline.ID(f[1])}, "tilt", timeline.Value{Text: f[2]}); err != nil {
				return err
			}
		}
		return nil
	})
	require.NoError(t, err)
	k := packOf(t, timeline.Compile(turned, turned.Nights[0]))
	d := &k.Distances[0]
	require.Equal(t, "leans 80° to the audience", d.Aim)
	var from []string
	for i := range d.Rows {
		from = append(from, d.Rows[i].By+" from "+d.Rows[i].From+": "+d.Rows[i].State(units.Metres))
	}
	require.Equal(t, []string{"label distance from unit: SHORT BY 2 m", "label distance from axis: SHORT BY 6 m", "reach from envelope: SHORT BY 1 m"}, from)
	require.True(t, d.Rows[1].Governs)
	require.Equal(t, k.Compared.Rows, k.Compared.Compared+k.Compared.Unchecked)
	require.Positive(t, k.Compared.Unchecked, "comets stand nowhere")
	require.Regexp(t, `^\d+ of \d+ rows compared, [1-9]\d* short, [1-9]\d* cannot be checked$`, k.Compared.String())
}
