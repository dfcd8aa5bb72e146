package ear

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/font/basicfont"
	"golang.org/x/image/math/fixed"

	"emberbeat/audio"
)

// The picture's measures: seconds in a row of the page, and heights of its lanes.
const (
	rowSeconds = 30.0
	perSecond  = 48 // pixels
	leftEdge   = 60
	waveHeight = 60
	bandHeight = 14
	headHeight = 30
	rowGap     = 26
)

var (
	paper      = color.RGBA{250, 250, 247, 255}
	ink        = color.RGBA{40, 44, 52, 255}
	faint      = color.RGBA{178, 184, 192, 255}
	waveInk    = color.RGBA{110, 140, 170, 255}
	barInk     = color.RGBA{190, 40, 40, 255}
	doubtInk   = color.RGBA{240, 200, 90, 255}
	bandInk    = [3]color.RGBA{{150, 70, 30, 255}, {40, 120, 70, 255}, {90, 70, 170, 255}}
	sectionInk = []color.RGBA{{205, 222, 240, 255}, {240, 220, 205, 255}, {212, 236, 212, 255}, {232, 214, 236, 255}, {238, 236, 200, 255}}
)

// Draw makes a page of what was heard: rows of half a minute, each with its
// sections, beats and bars over the waveform, and the onsets by band under it.
// Where the beat is in doubt the row is underlaid in yellow, the more the
// stronger. peaks may be nil.
func Draw(a *Analysis, peaks *audio.Pyramid) *image.RGBA {
	rows := max(1, int(math.Ceil(a.Duration/rowSeconds)))
	p := &page{a: a, peaks: peaks}
	p.img = image.NewRGBA(image.Rect(0, 0, leftEdge+rowSeconds*perSecond+20, headHeight+rows*rowHeight()+10))
	draw.Draw(p.img, p.img.Bounds(), image.NewUniform(paper), image.Point{}, draw.Src)
	p.text(8, 18, ink, p.title())
	for r := range rows {
		p.row(r)
	}
	return p.img
}

func rowHeight() int { return 16 + waveHeight + 3*bandHeight + rowGap }

type page struct {
	a     *Analysis
	peaks *audio.Pyramid
	img   *image.RGBA
}

func (p *page) title() string {
	if len(p.a.Beats) == 0 {
		return "no beat was found"
	}
	steady := "not one grid"
	if p.a.Steady {
		steady = "one grid"
	}
	return fmt.Sprintf("%.2f bpm  %v  %s   sure of tempo %.0f %%, beats %.0f %%, bars %.0f %%", p.a.BPM, p.a.Metre, steady,
		100*p.a.Confidence.Tempo, 100*p.a.Confidence.Beats, 100*p.a.Confidence.Downbeats)
}

func (p *page) text(x, y int, c color.Color, s string) {
	d := font.Drawer{Dst: p.img, Src: image.NewUniform(c), Face: basicfont.Face7x13, Dot: fixed.P(x, y)}
	d.DrawString(s)
}

func (p *page) fill(x0, y0, x1, y1 int, c color.Color) {
	draw.Draw(p.img, image.Rect(x0, y0, x1, y1), image.NewUniform(c), image.Point{}, draw.Over)
}

// x is the column of a time within row r; ok is false outside the row.
func (p *page) x(r int, t float64) (int, bool) {
	at := t - float64(r)*rowSeconds
	return leftEdge + int(at*perSecond), at >= 0 && at < rowSeconds
}

// span is the columns of a stretch within row r.
func (p *page) span(r int, from, to float64) (x0, x1 int, ok bool) {
	a, b := max(from, float64(r)*rowSeconds), min(to, float64(r+1)*rowSeconds)
	return leftEdge + int((a-float64(r)*rowSeconds)*perSecond), leftEdge + int((b-float64(r)*rowSeconds)*perSecond), b > a
}

func (p *page) row(r int) {
	top := headHeight + r*rowHeight()
	wave := top + 16
	p.text(4, wave+waveHeight/2, ink, fmt.Sprintf("%d:%02d", int(float64(r)*rowSeconds)/60, int(float64(r)*rowSeconds)%60))
	p.sections(r, top)
	p.doubt(r, wave)
	p.wave(r, wave)
	p.grid(r, wave)
	p.onsets(r, wave+waveHeight+2)
}

func (p *page) sections(r, top int) {
	for _, s := range p.a.Sections {
		if x0, x1, ok := p.span(r, s.From, s.To); ok {
			p.fill(x0, top, x1-1, top+14, sectionInk[int(s.Label[len(s.Label)-1]-'A')%len(sectionInk)])
			p.text(x0+3, top+11, ink, fmt.Sprintf("%s %.0f %%", s.Label, 100*s.Energy))
		}
	}
}

func (p *page) doubt(r, top int) {
	for _, q := range p.a.Parts {
		x0, x1, ok := p.span(r, q.From, q.To)
		if !ok {
			continue
		}
		c := doubtInk
		c.A = uint8(200 * min(1, max(0, 1-p.a.Confidence.Beats*(1-q.Doubt)*1.3)))
		p.fill(x0, top, x1, top+waveHeight, premultiplied(c))
		kind := "free"
		if q.Steady {
			kind = "grid"
		}
		if _, begins := p.x(r, q.From); begins {
			p.text(x0+2, top+waveHeight+3*bandHeight+13, ink, fmt.Sprintf("%.2f bpm, %s", q.BPM, kind))
		}
	}
}

func premultiplied(c color.RGBA) color.RGBA {
	mul := func(v uint8) uint8 { return uint8(int(v) * int(c.A) / 255) }
	return color.RGBA{mul(c.R), mul(c.G), mul(c.B), c.A}
}

func (p *page) wave(r, top int) {
	if p.peaks == nil {
		return
	}
	columns := make([]audio.Peak, int(rowSeconds*perSecond))
	rate := float64(p.peaks.Rate)
	p.peaks.Range(int64(float64(r)*rowSeconds*rate), int64(float64(r+1)*rowSeconds*rate), columns)
	mid := top + waveHeight/2
	for i, c := range columns {
		hi, lo := int(float64(c.Max)*waveHeight/2/math.MaxInt16), int(float64(c.Min)*waveHeight/2/math.MaxInt16)
		p.fill(leftEdge+i, mid-hi, leftEdge+i+1, mid-lo+1, waveInk)
	}
}

// grid draws beats as short ticks and bars through the whole height, with a
// number at every fourth bar.
func (p *page) grid(r, top int) {
	for _, t := range p.a.Beats {
		if x, ok := p.x(r, t); ok {
			p.fill(x, top, x+1, top+8, ink)
			p.fill(x, top+waveHeight-8, x+1, top+waveHeight, ink)
		}
	}
	for i, t := range p.a.Downbeats {
		if x, ok := p.x(r, t); ok {
			p.fill(x, top, x+1, top+waveHeight, barInk)
			if i%4 == 0 {
				p.text(x+2, top+waveHeight-2, barInk, fmt.Sprint(i+1))
			}
		}
	}
}

func (p *page) onsets(r, top int) {
	for b := range 3 {
		y := top + b*bandHeight
		p.text(leftEdge-34, y+11, bandInk[2-b], [3]string{"high", "mid", "low"}[b])
		p.fill(leftEdge, y+bandHeight-1, leftEdge+int(rowSeconds*perSecond), y+bandHeight, faint)
	}
	for _, h := range p.a.Hits {
		x, ok := p.x(r, h.At)
		if !ok {
			continue
		}
		b := map[string]int{"high": 0, "mid": 1, "low": 2}[h.Band]
		y := top + b*bandHeight
		tall := 2 + int(h.Strength*(bandHeight-4))
		wide := 1
		if h.Accent {
			wide = 3
		}
		p.fill(x, y+bandHeight-1-tall, x+wide, y+bandHeight-1, bandInk[2-b])
	}
}
