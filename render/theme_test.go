package render

import (
	"fmt"
	"image/color"
	"testing"

	"github.com/stretchr/testify/require"
)

// Table 1 of Sharma, Wu, Dalal 2005 (see ciede2000), read in a public transcription: pairs that break a formula with a wrong hue mean, a
// wrong rotation or a lost sign.
func TestColourDifferenceAgainstPublishedPairs(t *testing.T) {
	for _, c := range []struct {
		p, q lab
		want float64
	}{
		{lab{50, 2.6772, -79.7751}, lab{50, 0, -82.7485}, 2.0425},
		{lab{50, -1.3802, -84.2814}, lab{50, 0, -82.7485}, 1.0000},
		{lab{50, 0, 0}, lab{50, -1, 2}, 2.3669},
		{lab{50, 2.49, -0.001}, lab{50, -2.49, 0.0009}, 7.1792},
		{lab{50, 2.49, -0.001}, lab{50, -2.49, 0.0011}, 7.2195},
		{lab{50, -0.001, 2.49}, lab{50, 0.0011, -2.49}, 4.7461},
		{lab{50, 2.5, 0}, lab{73, 25, -18}, 27.1492},
		{lab{50, 2.5, 0}, lab{61, -5, 29}, 22.8977},
		{lab{50, 2.5, 0}, lab{56, -27, -3}, 31.9030},
		{lab{50, 2.5, 0}, lab{58, 24, 15}, 19.4535},
		{lab{60.2574, -34.0099, 36.2677}, lab{60.4626, -34.1751, 39.4387}, 1.2644},
		{lab{22.7233, 20.0904, -46.6940}, lab{23.0331, 14.9730, -42.5619}, 2.0373},
		{lab{90.9257, -0.5406, -0.9208}, lab{88.6381, -0.8985, -0.7239}, 1.5381},
		{lab{2.0776, 0.0795, -1.1350}, lab{0.9033, -0.0636, -0.5514}, 0.9082},
	} {
		require.InDelta(t, c.want, ciede2000(c.p, c.q), 0.00005)
		require.InDelta(t, c.want, ciede2000(c.q, c.p), 0.00005)
	}
}

// WCAG 2.2: black on white is 21, the ends of the scale; #767676 on white 4.54 is the well known lightest grey that passes AA (from memory).
func TestContrast(t *testing.T) {
	require.InDelta(t, 21, Contrast(hex(0), hex(0xFFFFFF)), 1e-9)
	require.InDelta(t, 1, Contrast(hex(0x123456), hex(0x123456)), 1e-9)
	require.InDelta(t, 4.54, Contrast(hex(0xFFFFFF), hex(0x767676)), 0.005)
}

// What each ink of text and lines needs on each ground that it is used on (WCAG 2.2: 1.4.3 for text, 1.4.11 for lines; 7 is 1.4.6, for what is
// read while the show runs). Faint words never stand on what is raised, and on bars nothing but text does, where the theme lets it.
func TestThemesAreLegible(t *testing.T) {
	need := map[Ink]map[Ink]float64{
		InkText:      {InkLane: 7, InkPanel: 7, InkRaised: 4.5},
		InkPlayhead:  {InkLane: 7, InkPanel: 7},
		InkSecondary: {InkLane: 4.5, InkPanel: 4.5, InkRaised: 4.5},
		InkFaint:     {InkLane: 4.5, InkPanel: 4.5},
		InkFocus:     {InkLane: 3, InkPanel: 3, InkRaised: 3, InkBar: 3},
		InkEdge:      {InkLane: 3, InkPanel: 3, InkRaised: 3},
		InkWave:      {InkLane: 3},
		InkCore:      {InkLane: 3},
		InkLane:      {InkText: 7}, // words of the main button
	}
	for _, th := range Themes() {
		for ink, on := range need {
			for ground, ratio := range on {
				require.GreaterOrEqual(t, Contrast(th.Light(ink), th.Light(ground)), ratio, "%s: %s on %s", th.Name, ink, ground)
			}
		}
		require.Equal(t, th.Name != "Night", th.BarHolds(), th.Name)
	}
}

// A ground tells raised things from what they lie on without help, or their edges do.
func TestGroundsAreApart(t *testing.T) {
	for _, th := range Themes() {
		for _, pair := range [][2]Ink{{InkLane, InkPanel}, {InkPanel, InkRaised}, {InkRaised, InkBar}} {
			require.NotEqual(t, th.Light(pair[0]), th.Light(pair[1]), "%s: %s and %s", th.Name, pair[0], pair[1])
		}
	}
}

var classInks = []Ink{InkHot, InkSpark, InkShot, InkCold, InkPaper, InkCloud}

// seen gives the light of a glyph's strongest part on a ground: its line, or its body where that covers fully.
func seen(th *Theme, k, ground Ink) color.RGBA {
	return Over(th.Light(k), th.Light(ground), th.GlyphEdge)
}

func TestGlyphsStandOut(t *testing.T) {
	for _, th := range Themes() {
		for _, k := range classInks {
			require.GreaterOrEqual(t, Contrast(seen(&th, k, InkLane), th.Light(InkLane)), 3.0, "%s: %s", th.Name, k)
			panel := Contrast(seen(&th, k, InkPanel), th.Light(InkPanel))
			if th.Outline > 0 { // the outline is the edge there
				panel = max(panel, Contrast(th.Light(InkOutline), th.Light(InkPanel)))
			}
			require.GreaterOrEqual(t, panel, 3.0, "%s: %s on panel", th.Name, k)
		}
	}
}

func TestClassesAreApartForEveryEye(t *testing.T) {
	for _, th := range Themes() {
		for _, v := range visions {
			for i, a := range classInks {
				for _, b := range classInks[i+1:] {
					d := ciede2000(v.see(seen(&th, a, InkLane)), v.see(seen(&th, b, InkLane)))
					require.GreaterOrEqual(t, d, 18.0, "%s, %s eye: %s and %s", th.Name, v.name, a, b)
				}
			}
		}
	}
}

func TestLabelsOnFillsAreLegible(t *testing.T) {
	for _, th := range Themes() {
		for _, k := range classInks {
			require.GreaterOrEqual(t, Contrast(th.Light(th.OnFill(k)), th.Light(k)), 4.5, "%s on %s", th.Name, k)
		}
	}
}

func TestDimmed(t *testing.T) {
	half := Dark.Dimmed(50)
	require.Equal(t, Dark, Dark.Dimmed(100))
	require.Equal(t, hex(0x7F7F7F), half.Light(InkWhite))
	require.Equal(t, Dark.Dimmed(20), Dark.Dimmed(0))
}

func ExampleInk_String() {
	fmt.Println(InkHot, InkLane, Ink(250))
	// Output: hot lane ?
}
