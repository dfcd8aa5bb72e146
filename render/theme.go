package render

import "image/color"

// Ink names a colour by its job. A Theme says which light it is.
type Ink uint8

// The inks. The six class inks, InkHot to InkCloud, colour effects; severity never has a colour of its own.
const (
	InkLane Ink = iota // what cues stand on
	InkPanel
	InkRaised // what can be pressed, what is chosen or pointed at
	InkText
	InkSecondary
	InkFaint
	InkEdge // edges of controls
	InkBar  // bar lines and other rules between parts
	InkBeat
	InkWave // waveform, full swing
	InkCore // waveform, its average
	InkPlayhead
	InkFocus
	InkHot
	InkSpark
	InkShot
	InkCold
	InkPaper
	InkCloud
	InkOutline // around glyphs, where a theme asks for it
	InkBlack
	InkWhite
	inkCount
)

var inkNames = [inkCount]string{"lane", "panel", "raised", "text", "secondary", "faint", "edge", "bar", "beat", "wave", "core", "playhead", "focus",
	"hot", "spark", "shot", "cold", "paper", "cloud", "outline", "black", "white"}

// String gives the ink's name as Scene.Dump prints it.
func (k Ink) String() string {
	if k < inkCount {
		return inkNames[k]
	}
	return "?"
}

// Theme is a complete set of colours and the way glyphs are drawn with them. A Theme is a value; nothing changes it once made.
type Theme struct {
	Name string
	Inks [inkCount]color.RGBA

	// GlyphFill and GlyphEdge are the covers, 0 to 255, of a glyph's body and of the line around it, both in the class ink.
	GlyphFill, GlyphEdge uint8
	// Outline is the width in logical pixels of a line in InkOutline around every glyph; 0 draws none.
	Outline int
}

// Light gives the colour of an ink in this theme.
func (t *Theme) Light(k Ink) color.RGBA { return t.Inks[k] }

// OnFill gives the ink, black or white, that contrasts more with a fill of k at full cover.
func (t *Theme) OnFill(k Ink) Ink {
	if Contrast(t.Inks[k], t.Inks[InkBlack]) >= Contrast(t.Inks[k], t.Inks[InkWhite]) {
		return InkBlack
	}
	return InkWhite
}

// readable is the least contrast of text with what it stands on (WCAG 2.2, 1.4.3).
const readable = 4.5

// BarHolds reports whether text can be read on the ink of bars, so that a control that is on may be filled with it. Where it cannot, such a
// control is known by a line of text ink.
func (t *Theme) BarHolds() bool { return Contrast(t.Inks[InkText], t.Inks[InkBar]) >= readable }

// Dimmed gives the theme with all light, text included, brought down to percent, 20 to 100, of its sRGB values.
// A value outside is brought to the nearer end: a screen that cannot be read cannot be brightened again.
func (t Theme) Dimmed(percent int) Theme {
	percent = min(max(percent, 20), 100)
	for i, c := range t.Inks {
		t.Inks[i] = Over(c, color.RGBA{}, uint8(255*percent/100))
	}
	return t
}

// Dark is the theme a new user meets.
var Dark = Theme{
	Name: "Dark", GlyphFill: 255, GlyphEdge: 255,
	Inks: [inkCount]color.RGBA{
		InkLane: hex(0x14171A), InkPanel: hex(0x1D2126), InkRaised: hex(0x262C33), InkText: hex(0xE6E3DC), InkSecondary: hex(0xA9A59C), InkFaint: hex(0x8E8A82),
		InkEdge: hex(0x76808B), InkBar: hex(0x4A545F), InkBeat: hex(0x2E353C), InkWave: hex(0x6F7B87), InkCore: hex(0x9AA7B4),
		InkPlayhead: hex(0xFFFFFF), InkFocus: hex(0xFFD166),
		InkHot: hex(0xD2620B), InkSpark: hex(0xF0C46B), InkShot: hex(0xB66BEF), InkCold: hex(0x86E3FE), InkPaper: hex(0x319B7A), InkCloud: hex(0xD7DBCE),
		InkOutline: hex(0x14171A), InkBlack: hex(0x000000), InkWhite: hex(0xFFFFFF),
	},
}

// Day is for sunlight and for paper: no tinted rows, every glyph in a dark line.
var Day = Theme{
	Name: "Day", GlyphFill: 255, GlyphEdge: 255, Outline: 2,
	Inks: [inkCount]color.RGBA{
		InkLane: hex(0xFFFFFF), InkPanel: hex(0xF1F0EB), InkRaised: hex(0xE4E2DA), InkText: hex(0x14171A), InkSecondary: hex(0x45484C), InkFaint: hex(0x65686C),
		InkEdge: hex(0x76766E), InkBar: hex(0xA9A9A0), InkBeat: hex(0xDAD9D2), InkWave: hex(0x6B7278), InkCore: hex(0x3F464C),
		InkPlayhead: hex(0x14171A), InkFocus: hex(0x0B3D91),
		InkHot: hex(0x702B08), InkSpark: hex(0x87821A), InkShot: hex(0xD55DF3), InkCold: hex(0x15479B), InkPaper: hex(0x4EA288), InkCloud: hex(0x3E3B40),
		InkOutline: hex(0x14171A), InkBlack: hex(0x000000), InkWhite: hex(0xFFFFFF),
	},
}

// Night is for front of house in the dark: warm, no bright area, glyphs as lines at 60 % with hardly any body. Its class inks are
// stronger than Dark's because what reaches the eye is the line at 60 %; the tests measure that.
var Night = Theme{
	Name: "Night", GlyphFill: 51, GlyphEdge: 153,
	Inks: [inkCount]color.RGBA{
		InkLane: hex(0x0B0A09), InkPanel: hex(0x12100E), InkRaised: hex(0x1B1713), InkText: hex(0xD09263), InkSecondary: hex(0xB27C52), InkFaint: hex(0xA8714A),
		InkEdge: hex(0x8A5F40), InkBar: hex(0x4A3626), InkBeat: hex(0x271E17), InkWave: hex(0x7D5B3F), InkCore: hex(0x9C6945),
		InkPlayhead: hex(0xFFB070), InkFocus: hex(0xFFB070),
		InkHot: hex(0xEA7B08), InkSpark: hex(0xFFF100), InkShot: hex(0xAF7BFF), InkCold: hex(0x83ECFF), InkPaper: hex(0x71A48F), InkCloud: hex(0xEAFFD8),
		InkOutline: hex(0x0B0A09), InkBlack: hex(0x000000), InkWhite: hex(0xFFFFFF),
	},
}

// Themes gives all themes in the order in which the theme key steps through them.
func Themes() []Theme { return []Theme{Dark, Night, Day} }
