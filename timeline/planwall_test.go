package timeline_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
)

func TestPlanWallText(t *testing.T) {
	for text, want := range map[string]timeline.PlanWall{
		`backdrop from=-9,8 to=9,8 crown=7`:               {Name: "backdrop", From: timeline.Point{X: -9, Y: 8}, To: timeline.Point{X: 9, Y: 8}, Crown: 7},
		`"house border" from=0,1 to=2,1 foot=6.5 crown=8`: {Name: "house border", From: timeline.Point{Y: 1}, To: timeline.Point{X: 2, Y: 1}, Foot: 6.5, Crown: 8},
		`pit from=0,-1 to=2,-1 foot=-1.2 crown=-0.1`:      {Name: "pit", From: timeline.Point{Y: -1}, To: timeline.Point{X: 2, Y: -1}, Foot: -1.2, Crown: -0.1},
	} {
		l, err := timeline.ParsePlanWall(text)
		require.NoError(t, err, text)
		require.Equal(t, want, l)
		require.Equal(t, text, l.String())
	}
	for _, text := range []string{"", "leg from=0,0 to=1,0", "leg from=0,0 to=1,0 crown=0", "leg from=0,0 to=1,0 foot=3 crown=2", "leg crown=7", "leg from=3,0 to=3,0 crown=7", "leg from=0 to=1,0 crown=2", "leg from=0,0 to=1,0 crown=NaN", "leg from=0,0 to=1,0 crown=1e9", "leg from=0,0 to=1,0 crown=2 high=3"} {
		_, err := timeline.ParsePlanWall(text)
		require.Error(t, err, text)
	}
}

func TestPlanWallsComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(-999, 999)
		l := timeline.PlanWall{Name: rapid.StringMatching(`[a-z" ]{1,9}[a-z]`).Draw(t, "name"), From: timeline.Point{X: x.Draw(t, "x"), Y: x.Draw(t, "y")}, To: timeline.Point{X: x.Draw(t, "x2"), Y: x.Draw(t, "y2")}, Foot: rapid.Float64Range(-99, 99).Draw(t, "foot")}
		if l.From == l.To {
			l.To.X++
		}
		l.Crown = l.Foot + rapid.Float64Range(0.01, 99).Draw(t, "high")
		back, err := timeline.ParsePlanWall(l.String())
		require.NoError(t, err, l.String())
		require.Equal(t, l, back)
	})
}

func FuzzParsePlanWall(f *testing.F) {
	f.Add(`"house border" from=0,1 to=2,1 foot=6.5 crown=8`)
	f.Fuzz(func(t *testing.T, text string) {
		l, err := timeline.ParsePlanWall(text)
		if err != nil {
			return
		}
		back, err := timeline.ParsePlanWall(l.String())
		require.NoError(t, err)
		require.Equal(t, l, back)
	})
}
