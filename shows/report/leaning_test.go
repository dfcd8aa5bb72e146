package report

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
)

// leaning is the staged show with two flames at one place, of which the first leans
// out over the audience, and both go at once.
func leaning(t *testing.T) *timeline.Plan {
	s := testshow.Edited(t, testshow.Staged(t), func(d *timeline.Draft) error {
		f := *d.Show().Rig.PlacedEffect("f1")
		f.Tilt = -80
		d.Put("", &f, &timeline.Placed{Base: timeline.Base{ID: "f2"}, Name: "flame 2", Article: "flame", Position: "left"}, &timeline.Group{Base: timeline.Base{ID: "both"}, Name: "both", Members: []timeline.ID{"f1", "f2"}})
		d.Put("ember", &timeline.Cue{Base: timeline.Base{ID: "q9"}, Lane: "lfla", Target: "both", At: timeline.AtTime(30 * timeline.Second)})
		return nil
	})
	return timeline.Compile(s, s.Night("n1"))
}

// What leans has a line of its own on the inspector's sheet, with its own height:
// upright it reaches its 5 m, leaning 80° a part of them and its width.
func TestInspectorSheetKeepsWhatLeansApart(t *testing.T) {
	sheet, err := NewInspectorSheet(leaning(t), Filter{Song: "ember"})
	require.NoError(t, err)
	tops := map[string]float64{}
	for _, l := range sheet.Songs[0].Lines {
		if l.Article == "flame" {
			require.Len(t, l.Effects, 1)
			tops[l.Effects[0]] = l.Top
		}
	}
	require.Len(t, tops, 2)
	require.InDelta(t, 5.0, tops["flame 2"], 1e-9)
	require.Less(t, tops["flame 1"], 3.0)
}

// A spotter reads distances from a place; of what leans from there the sheet says
// that they are not its own.
func TestSpotterSheetSaysWhatLeans(t *testing.T) {
	sheet, err := NewSpotterSheet(leaning(t), Filter{Song: "ember"})
	require.NoError(t, err)
	said := 0
	for _, p := range sheet.Positions {
		for _, m := range p.Moments {
			near := strings.Join(m.Near, "\n")
			leans := strings.Contains(strings.Join(m.What, " "), "flame 1") || strings.Contains(strings.Join(m.What, " "), "flame 1–2")
			require.Equal(t, leans, strings.Contains(near, "flame 1 leans 80° to the audience: look along it; "), "%v: %s", m.What, near)
			if leans {
				said++
			}
			require.NotContains(t, near, "flame 2 leans")
		}
	}
	require.Positive(t, said)
}
