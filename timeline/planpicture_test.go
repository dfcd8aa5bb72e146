package timeline

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Two points lay a picture: by hand, 100 pixels to the right are 10 m, so a pixel is
// 0.1 m; the corner stands 2 m left and 3 m upstage of the first.
func TestPictureIsLaid(t *testing.T) {
	p := PlanPicture{File: "plans/hall.png", Wide: 800, High: 600}
	is, err := p.Laid(Point{20, 30}, Point{120, 30}, Point{-5, 1}, Point{5, 1})
	require.NoError(t, err)
	require.Equal(t, "plans/hall.png size=800x600 at=-7,4 metre=0.1", is.String())
	is, err = p.Laid(Point{0, 0}, Point{100, 0}, Point{0, 0}, Point{0, 10})
	require.NoError(t, err)
	require.Equal(t, "plans/hall.png size=800x600 at=0,0 metre=0.1 turn=90", is.String())
	for _, c := range [][4]Point{{{0, 0}, {5, 5}, {0, 0}, {1, 1}}, {{0, 0}, {500, 5}, {0, 0}, {0, 0}}, {{0, 0}, {10, 0}, {0, 0}, {5000, 1}}} {
		_, err := p.Laid(c[0], c[1], c[2], c[3])
		require.Error(t, err, c)
	}
}

// However it is laid, both points are where they were asked for, as far as the
// picture's shape lets them, and it reads back.
func TestLaidPicturesPassTheirPoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pixel := func(name string) float64 { return float64(rapid.IntRange(0, 2000).Draw(t, name)) }
		metre := func(name string) float64 { return float64(rapid.IntRange(-5000, 5000).Draw(t, name)) / 100 }
		a, b := Point{pixel("ax"), pixel("ay")}, Point{pixel("bx"), pixel("by")}
		onA, onB := Point{metre("onax"), metre("onay")}, Point{metre("onbx"), metre("onby")}
		p, err := PlanPicture{File: "plans/hall.png", Wide: 2000, High: 2000}.Laid(a, b, onA, onB)
		if err != nil {
			return
		}
		for _, x := range [][2]Point{{a, onA}, {b, onB}} {
			is := p.Place(x[0].X, x[0].Y)
			require.Less(t, math.Hypot(is.X-x[1].X, is.Y-x[1].Y), 0.01)
		}
		again, err := ParsePlanPicture(p.String())
		require.NoError(t, err)
		require.Equal(t, p, again)
	})
}

func TestPicturesThatAreNone(t *testing.T) {
	for _, s := range []string{"hall.png size=1x1 at=0,0 metre=1", "plans/../hall.png size=1x1 at=0,0 metre=1", "plans/HALL.png size=1x1 at=0,0 metre=1", "plans/a.png at=0,0 metre=1",
		"plans/a.png size=9000x1 at=0,0 metre=1", "plans/a.png size=1x1 at=0,0 metre=0", "plans/a.png size=1x1 at=0,0 metre=NaN", "plans/a.png size=1x1 at=0,0 metre=1 turn=400", "/etc/passwd size=1x1 metre=1"} {
		_, err := ParsePlanPicture(s)
		require.Error(t, err, s)
	}
	p, err := ParsePlanPicture("")
	require.NoError(t, err)
	require.Equal(t, PlanPicture{}, p)
}

func FuzzPlanPicture(f *testing.F) {
	f.Add("plans/hall.png size=800x600 at=-7,4 metre=0.1 turn=3")
	f.Add("plans/hall.png size=1x at=,")
	f.Fuzz(func(t *testing.T, text string) {
		p, err := ParsePlanPicture(text)
		if err != nil {
			return
		}
		again, err := ParsePlanPicture(p.String())
		require.NoError(t, err, p)
		require.Equal(t, p, again)
	})
}
