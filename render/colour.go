package render

import (
	"image/color"
	"math"
)

// hex gives the opaque colour 0xRRGGBB.
func hex(rgb uint32) color.RGBA {
	return color.RGBA{R: uint8(rgb >> 16), G: uint8(rgb >> 8), B: uint8(rgb), A: 255}
}

// Luminance gives the relative luminance of an opaque sRGB colour, 0 (black) to 1 (white), as WCAG 2.2 defines it. The turn of the curve
// is sRGB's own 0.04045; the 0.03928 printed in WCAG 2.0 gives the same values for all 8-bit colours.
func Luminance(c color.RGBA) float64 {
	return 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B)
}

// Contrast gives the WCAG 2.2 contrast ratio of two opaque colours, 1 to 21, in either order.
func Contrast(a, b color.RGBA) float64 {
	la, lb := Luminance(a), Luminance(b)
	if la < lb {
		la, lb = lb, la
	}
	return (la + 0.05) / (lb + 0.05)
}

// linear takes one 8-bit sRGB channel to linear light, 0 to 1 (IEC 61966-2-1).
func linear(v uint8) float64 {
	c := float64(v) / 255
	if c <= 0.04045 {
		return c / 12.92
	}
	return math.Pow((c+0.055)/1.055, 2.4)
}

// Over gives fg laid over the opaque bg with the given cover, 0 to 255, rounded to the nearest step.
func Over(fg, bg color.RGBA, cover uint8) color.RGBA {
	mix := func(f, b uint8) uint8 {
		a := uint32(cover)
		return uint8((uint32(f)*a + uint32(b)*(255-a) + 127) / 255)
	}
	return color.RGBA{R: mix(fg.R, bg.R), G: mix(fg.G, bg.G), B: mix(fg.B, bg.B), A: 255}
}
