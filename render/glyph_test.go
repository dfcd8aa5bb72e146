package render

import (
	"image"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

func TestEveryFamilyHasItsShapeAndInk(t *testing.T) {
	want := map[timeline.Family]string{
		"propane-flame": "column hot", "aerosol-flame": "column hot", "liquid-flame": "column hot",
		"fountain-long": "fan spark", "fountain-burst": "fan spark", "spark-machine": "fan spark", "lance": "fan spark", "waterfall": "steps spark",
		"comet": "pin shot", "mine": "pin shot", "line-rocket": "pin shot",
		"flash-pot": "diamond shot", "report": "diamond shot", "airburst": "diamond shot",
		"co2-jet": "pill cold", "confetti-single": "steps paper", "confetti-blower": "steps paper",
		"fog-machine": "dome cloud", "haze": "dome cloud", "own": "hexagon cloud",
	}
	for f, looks := range want {
		require.Contains(t, timeline.Families(), f)
		require.Equal(t, looks, GlyphOf(f).String()+" "+InkOf(f.Class()).String(), f)
	}
	for _, f := range timeline.Families() {
		require.Contains(t, glyphs, f.Outline(), "%s is drawn", f)
	}
	require.Len(t, glyphs, int(glyphCount))
}

// The left edge is the hit: no body begins left of it or elsewhere than at it, none is wider than it says or leaves its height.
func TestGlyphsBeginAtTheHit(t *testing.T) {
	for g := range glyphCount {
		s := newTestScene(200, 100)
		s.Glyph(&Dark, image.Pt(50, 20), 40, Look{Glyph: g, Ink: InkHot})
		left, right := float32(math.Inf(1)), float32(0)
		for i := range s.Shapes {
			for _, p := range s.Points(&s.Shapes[i]) {
				left, right = min(left, p.X), max(right, p.X)
				require.True(t, p.Y >= 19.9 && p.Y <= 60.1, "%s: %v", g, p)
			}
		}
		require.InDelta(t, 50, left, 0.01, g)
		require.LessOrEqual(t, right, 50.01+float32(g.Width(40)), g)
	}
}

func TestGlyphsOfEachTheme(t *testing.T) {
	var b strings.Builder
	for _, th := range Themes() {
		s := newTestScene(40, 40)
		s.Glyph(&th, image.Pt(10, 10), 20, Look{Glyph: GlyphColumn, Ink: InkHot})
		s.Glyph(&th, image.Pt(10, 10), 20, Look{Glyph: GlyphDiamond, Ink: InkShot, Hollow: true})
		s.Glyph(&th, image.Pt(10, 10), 20, Look{Glyph: GlyphHexagon, Ink: InkCloud, Letter: "K"})
		b.WriteString(th.Name + " " + s.Dump())
	}
	golden(t, "glyphs.txt", b.String())
}

func TestBadges(t *testing.T) {
	s := newTestScene(100, 40)
	for v := SevError; v <= SevNote; v++ {
		s.Badge(image.Pt(10+30*int(v), 10), v)
	}
	golden(t, "badges.txt", s.Dump())
	require.Equal(t, "warning", SevWarning.Word())
}

// A shape grown by one has every edge moved out by one.
func TestOutwardMovesEdgesByOne(t *testing.T) {
	for _, f := range forms {
		for _, pt := range f.parts {
			side := turn(pt.corners)
			for i, a := range pt.corners {
				j := (i + 1) % len(pt.corners)
				n := normal(a, pt.corners[j], side)
				for _, o := range []Point{pt.out[i], pt.out[j]} {
					if d := o.X*o.X + o.Y*o.Y; d < maxMitre*maxMitre-0.1 { // a bounded corner stays short of it
						require.InDelta(t, 1, o.X*n.X+o.Y*n.Y, 0.001, f.name)
					}
				}
			}
		}
	}
}
