package paper

import (
	"fmt"
	"image"
	"math"
	"strings"

	"emberbeat/render"
)

// Size is a sheet of paper in millimetres.
type Size struct {
	Name          string
	Width, Height float64
}

// The papers of ISO 216 and of North America, upright.
var (
	A4     = Size{"a4", 210, 297}
	Letter = Size{"letter", 215.9, 279.4}
)

// Sizes lists the papers.
func Sizes() []Size { return []Size{A4, Letter} }

// SizeNamed finds a paper by its name.
func SizeNamed(name string) (Size, error) {
	var names []string
	for _, z := range Sizes() {
		if strings.EqualFold(z.Name, name) {
			return z, nil
		}
		names = append(names, z.Name)
	}
	return Size{}, fmt.Errorf("%q is no paper; there are %s", name, strings.Join(names, ", "))
}

// Sideways gives the paper lying on its long side.
func (z Size) Sideways() Size { return Size{z.Name, z.Height, z.Width} }

const mmPerInch = 25.4

// points gives the sides in points of 1/72 inch.
func (z Size) points() (w, h float64) { return z.Width * 72 / mmPerInch, z.Height * 72 / mmPerInch }

// pixels gives the sides in device pixels, a logical pixel being 1/96 inch.
func (z Size) pixels(s render.Scale) image.Point {
	px := func(mm float64) int { return int(math.Floor(mm * 96 / mmPerInch * float64(s) / 100)) }
	return image.Pt(px(z.Width), px(z.Height))
}
