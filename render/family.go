package render

import "emberbeat/timeline"

// GlyphOf gives the shape that stands for a family. Several families share one: the shape says what the audience sees, the class ink
// what it is made of, so that a waterfall of sparks and falling confetti have one shape in two inks.
func GlyphOf(f timeline.Family) Glyph {
	switch f {
	case timeline.PropaneFlame, timeline.AerosolFlame, timeline.LiquidFlame:
		return GlyphColumn
	case timeline.FountainLong, timeline.FountainBurst, timeline.SparkMachine, timeline.Lance:
		return GlyphFan
	case timeline.Comet, timeline.Mine, timeline.LineRocket:
		return GlyphPin
	case timeline.FlashPot, timeline.Report, timeline.Airburst:
		return GlyphDiamond
	case timeline.CO2Jet:
		return GlyphPill
	case timeline.ConfettiSingle, timeline.ConfettiBlower, timeline.Waterfall:
		return GlyphSteps
	case timeline.FogMachine, timeline.Haze:
		return GlyphDome
	}
	return GlyphHexagon
}

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
