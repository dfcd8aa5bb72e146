package render

import "emberbeat/timeline"

// glyphs are how shapes are drawn.
var glyphs = map[timeline.Outline]Glyph{timeline.ColumnOutline: GlyphColumn, timeline.FanOutline: GlyphFan, timeline.StemOutline: GlyphPin, timeline.BurstOutline: GlyphDiamond,
	timeline.JetOutline: GlyphPill, timeline.FallingOutline: GlyphSteps, timeline.CloudOutline: GlyphDome, timeline.OwnOutline: GlyphHexagon}

// GlyphOf gives the shape that stands for a family. Several families share one: the shape says what the audience sees, the class ink
// what it is made of, so that a waterfall of sparks and falling confetti have one shape in two inks.
func GlyphOf(f timeline.Family) Glyph { return glyphs[f.Outline()] }

// InkOf gives the ink of a class.
func InkOf(c timeline.Class) Ink {
	switch c {
	case timeline.Hot:
		return InkHot
	case timeline.Spark:
		return InkSpark
	case timeline.Shot:
		return InkShot
	case timeline.Cold:
		return InkCold
	case timeline.Paper:
		return InkPaper
	}
	return InkCloud
}
