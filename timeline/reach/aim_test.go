package reach

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
	"emberbeat/timeline/figure"
)

// Where pan and tilt point, in words: leans are derived (acos of cos pan x cos
// tilt), so that pan 30 with tilt 30 leans 41.4 degrees.
func TestTurned(t *testing.T) {
	for _, c := range []struct {
		pan, tilt float64
		want      string
	}{
		{0, 0, "upright"}, {180, 180, "upright"}, {0, 180, "straight down"}, {180, 0, "straight down"}, {0, -80, "leans 80° to the audience"}, {0, 30, "leans 30° upstage"},
		{30, 0, "leans 30° to the audience's right"}, {-30, 0, "leans 30° to the audience's left"}, {30, 30, "leans 41.4° upstage and to the audience's right"},
		{90, 45, "leans 90° to the audience's right"}, {5, -60, "leans 60.1° to the audience"},
	} {
		require.Equal(t, c.want, Turned(c.pan, c.tilt), "pan %v, tilt %v", c.pan, c.tilt)
	}
	u := &timeline.Unit{Placed: &timeline.Placed{Tilt: -80}}
	require.Equal(t, "pan 0°, tilt −80°: leans 80° to the audience", Printed(u, &timeline.Article{Family: timeline.PropaneFlame}))
	require.Equal(t, "pan 0°, tilt −80°: falls down", Printed(u, &timeline.Article{Family: timeline.Waterfall}), "whatever its tilt says")
	u.End = &timeline.StagePosition{Name: "balcony"}
	require.Equal(t, "along its line to balcony", Printed(u, &timeline.Article{Family: timeline.LineRocket}))
}

// From the front a direction has a part in the picture and a part out of it.
func TestFront(t *testing.T) {
	for _, c := range []struct {
		pan, tilt, x float64
		side, depth  string
	}{
		{0, 0, 3, "", ""}, {12, 0, 3, "12° outward", ""}, {-12, 0, 3, "12° inward", ""}, {-12, 0, -3, "12° outward", ""}, {12, 0, 0, "12° to the audience's right", ""},
		{0, 8, 3, "", "8° upstage"}, {0, -80, 0, "", "80° to the audience"}, {180, 180, 0, "", ""}, {-90, 0, 0, "90° to the audience's left", ""},
		{30, 30, -1, "33.7° inward", "25.7° upstage"},
	} {
		side, depth := Front(figure.Direction(c.pan, c.tilt), c.x)
		require.Equal(t, c.side, side, "pan %v, tilt %v at %v", c.pan, c.tilt, c.x)
		require.Equal(t, c.depth, depth, "pan %v, tilt %v at %v", c.pan, c.tilt, c.x)
	}
}
