package paper

import (
	"image/color"
	"math"

	"emberbeat/render"
)

// line draws a polyline by spans: a segment is stepped along its longer axis, one pixel at a time, and each step fills the pixels that
// the line's width touches there, the outer two in part. The cost goes with the length, not with the area around the line.
func (p *painter) line(sh *render.Shape) {
	c := p.theme.Light(sh.Ink)
	points := p.scene.Points(sh)
	for i := 1; i < len(points); i++ {
		p.segment(points[i-1], points[i], sh.Width, c, sh.Cover)
	}
}

func (p *painter) segment(a, b render.Point, width float32, c color.RGBA, cover uint8) {
	dx, dy := b.X-a.X, b.Y-a.Y
	long := max(dx, -dx, dy, -dy)
	if long == 0 {
		return
	}
	half := width / 2 * float32(math.Hypot(float64(dx), float64(dy))) / long
	if max(dx, -dx) >= max(dy, -dy) {
		if dx < 0 {
			a, b = b, a
		}
		p.flat(a, b, half, c, cover)
		return
	}
	if dy < 0 {
		a, b = b, a
	}
	p.steep(a, b, half, c, cover)
}

// flat draws a segment that runs rightwards more than up or down.
func (p *painter) flat(a, b render.Point, half float32, c color.RGBA, cover uint8) {
	slope := (b.Y - a.Y) / (b.X - a.X)
	for x := max(whole(a.X), p.clip.Min.X); x < p.clip.Max.X && float32(x) < b.X; x++ {
		part := overlap(float32(x), a.X, b.X)
		mid := a.Y + (float32(x)+0.5-a.X)*slope
		lo, hi := mid-half, mid+half
		for y := max(whole(lo), p.clip.Min.Y); y < p.clip.Max.Y && float32(y) < hi; y++ {
			p.dot(x, y, part*overlap(float32(y), lo, hi), c, cover)
		}
	}
}

// steep draws a segment that runs downwards at least as much as sideways.
func (p *painter) steep(a, b render.Point, half float32, c color.RGBA, cover uint8) {
	slope := (b.X - a.X) / (b.Y - a.Y)
	for y := max(whole(a.Y), p.clip.Min.Y); y < p.clip.Max.Y && float32(y) < b.Y; y++ {
		part := overlap(float32(y), a.Y, b.Y)
		mid := a.X + (float32(y)+0.5-a.Y)*slope
		lo, hi := mid-half, mid+half
		for x := max(whole(lo), p.clip.Min.X); x < p.clip.Max.X && float32(x) < hi; x++ {
			p.dot(x, y, part*overlap(float32(x), lo, hi), c, cover)
		}
	}
}

// overlap gives the part, 0 to 1, of the pixel from n to n+1 that lies between lo and hi.
func overlap(n, lo, hi float32) float32 {
	return max(0, min(n+1, hi)-max(n, lo))
}

// whole gives the pixel that v lies in.
func whole(v float32) int { return int(math.Floor(float64(v))) }

// dot lays c on one pixel inside the clip, for a part of it.
func (p *painter) dot(x, y int, part float32, c color.RGBA, cover uint8) {
	lay(p.dst.Pix[p.dst.PixOffset(x, y):], c, uint8(part*float32(cover)+0.5))
}
