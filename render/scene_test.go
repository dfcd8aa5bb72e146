package render

import (
	"image"
	"testing"

	_ "emberbeat/timeline/testtool" // the seed of random walks

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func newTestScene(w, h int) *Scene {
	s := NewScene(NewFaces())
	s.Reset(image.Pt(w, h), Unit)
	return s
}

func TestScaleRounds(t *testing.T) {
	for _, c := range []struct {
		scale Scale
		n, px int
	}{{100, 7, 7}, {150, 1, 2}, {150, 3, 5}, {125, 24, 30}, {80, 1, 1}, {25, 1, 1}, {200, -3, -6}, {300, 0, 0}} {
		require.Equal(t, c.px, c.scale.Px(c.n), "%d at %d", c.n, c.scale)
	}
}

func TestDump(t *testing.T) {
	s := newTestScene(200, 100)
	s.Rect(image.Rect(-5, 0, 50, 10), InkPanel)
	s.PushClip(image.Rect(20, 20, 120, 80))
	s.Tint(image.Rect(0, 0, 200, 100), InkHot, 60)
	s.Rect(image.Rect(0, 0, 200, 10), InkText) // out of sight
	s.Line(1.5, InkFocus, 255, Point{10, 30}, Point{60.25, 40})
	s.Hit("cue", "c1", image.Rect(30, 30, 40, 36))
	s.PopClip()
	s.Poly(InkCold, 128, Point{0, 0}, Point{10, 0}, Point{5, 8.5})
	s.Text(image.Pt(4, 50), TypeSmall, InkText, "Ember")
	s.Ground("lane", "l1", image.Rect(0, 40, 300, 60))
	require.Equal(t, `scene 200×100 at 100%
rect   0,0 50×10 panel
clip   20,20 100×60
rect   20,20 100×60 hot/60
line   focus width 1.5: 10,30 60.2,40
clip   0,0 200×100
poly   cold/128: 0,0 10,0 5,8.5
text   4,50 36×15 text 12 "Ember"
hit    cue c1 30,30 10×6
ground lane l1 0,40 200×20
`, s.Dump())
}

func TestClipsWithNothingBetweenLeaveOne(t *testing.T) {
	s := newTestScene(100, 100)
	s.PushClip(image.Rect(0, 0, 50, 50))
	s.PushClip(image.Rect(10, 10, 90, 20))
	require.Equal(t, image.Rect(10, 10, 50, 20), s.Clip())
	require.Len(t, s.Shapes, 1)
	s.PopClip()
	s.PopClip()
	require.Equal(t, s.Bounds(), s.Shapes[len(s.Shapes)-1].Box)
}

func TestFrameCoversItsEdgeOnce(t *testing.T) {
	s := newTestScene(40, 40)
	s.Frame(image.Rect(5, 5, 30, 20), 2, InkEdge)
	area := 0
	for i, a := range s.Shapes {
		area += a.Box.Dx() * a.Box.Dy()
		for _, b := range s.Shapes[i+1:] {
			require.False(t, a.Box.Overlaps(b.Box))
		}
	}
	require.Equal(t, 25*15-21*11, area)
}

func TestAtFindsTheNearestThingInFrontOfTheGround(t *testing.T) {
	s := newTestScene(400, 200)
	s.Hit("behind", "", image.Rect(0, 0, 400, 200))
	s.Ground("lane", "l", image.Rect(0, 50, 400, 100))
	s.Hit("cue", "a", image.Rect(100, 70, 104, 80))
	s.Hit("cue", "b", image.Rect(112, 70, 116, 80))
	s.Hit("cue", "over-b", image.Rect(112, 70, 116, 80))
	s.Ground("menu", "m", image.Rect(300, 60, 400, 90))
	for _, c := range []struct {
		x, y int
		want string
	}{
		{101, 75, "cue a"}, {107, 75, "cue a"}, {109, 75, "cue over-b"}, {113, 75, "cue over-b"},
		{92, 75, "cue a"}, {80, 75, "lane l"}, // 24 px about the middle end at 90
		{101, 69, "cue a"}, {101, 61, "lane l"},
		{310, 70, "menu m"}, {10, 10, "behind "}, {310, 95, "lane l"},
	} {
		h, ok := s.At(image.Pt(c.x, c.y))
		require.True(t, ok)
		require.Equal(t, c.want, string(h.Kind)+" "+h.ID, "%d,%d", c.x, c.y)
	}
	_, ok := s.At(image.Pt(500, 500))
	require.False(t, ok)
}

// A pointer inside what is drawn always finds it or something drawn there in front of it, and no thing is smaller than Reach unless
// the clip cuts it.
func TestHitProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := newTestScene(300, 300)
		n := rapid.IntRange(1, 20).Draw(t, "n")
		for i := range n {
			x, y := rapid.IntRange(0, 280).Draw(t, "x"), rapid.IntRange(0, 280).Draw(t, "y")
			w, h := rapid.IntRange(1, 60).Draw(t, "w"), rapid.IntRange(1, 60).Draw(t, "h")
			s.Hit("thing", string(rune('a'+i)), image.Rect(x, y, x+w, y+h))
		}
		for _, h := range s.Hits {
			p := image.Pt((h.Area.Min.X+h.Area.Max.X-1)/2, (h.Area.Min.Y+h.Area.Max.Y-1)/2)
			got, ok := s.At(p)
			if !ok || !p.In(got.Area) {
				t.Fatalf("at %v inside %v found %v", p, h, got)
			}
			if !h.Area.In(h.Grip) || !h.Grip.In(s.Bounds()) {
				t.Fatalf("grip of %v", h)
			}
		}
	})
}

func TestTextStandsInItsBox(t *testing.T) {
	s := newTestScene(400, 100)
	box := image.Rect(100, 20, 200, 60)
	w := s.Face(TypeLabel).Measure("Ember")
	require.True(t, s.TextIn(box, Left, TypeLabel, InkText, "Ember"))
	require.True(t, s.TextIn(box, Middle, TypeLabel, InkText, "Ember"))
	require.True(t, s.BytesIn(box, Right, TypeLabel, InkText, []byte("Ember")))
	require.False(t, s.TextIn(box, Left, TypeLabel, InkText, "Ember and all that glows after it"))
	require.Len(t, s.Shapes, 3)
	require.Equal(t, []int{100, 100 + (100-w)/2, 200 - w}, []int{s.Shapes[0].Box.Min.X, s.Shapes[1].Box.Min.X, s.Shapes[2].Box.Min.X})
	require.Equal(t, 200, s.Shapes[2].Box.Max.X)

	end := s.TextCut(box, TypeLabel, InkText, "Ember and all that glows after it")
	require.LessOrEqual(t, end, box.Max.X)
	require.Equal(t, "…", string(s.Label(&s.Shapes[len(s.Shapes)-1])))
	require.Equal(t, 100, s.TextCut(image.Rect(100, 0, 101, 20), TypeLabel, InkText, "Ember"))
}

func TestSceneMakesNoGarbageOnceGrown(t *testing.T) {
	s := newTestScene(400, 400)
	build := func() {
		s.Reset(image.Pt(400, 400), 150)
		s.PushClip(image.Rect(0, 0, 300, 300))
		s.Rect(image.Rect(1, 1, 9, 9), InkHot)
		s.Poly(InkCold, 255, Point{0, 0}, Point{10, 0}, Point{5, 8})
		s.Line(1, InkCold, 255, Point{0, 0}, Point{10, 0})
		s.Text(image.Pt(0, 0), TypeLabel, InkText, "Ember")
		s.Text(image.Pt(0, 40), TypeCounter, InkText, "→ 12")
		s.Hit("cue", "c1", image.Rect(1, 1, 9, 9))
		s.PopClip()
	}
	build()
	require.Zero(t, testing.AllocsPerRun(50, build))
}
