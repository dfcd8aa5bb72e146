package render

import (
	"image"
	"image/color"

	"emberbeat/timeline"
)

// Underlay is a picture under a stage plan, as rectangles of its darkness: every
// medium that draws a scene draws it alike, and as pale. It is made once and then
// only read.
type Underlay struct {
	Picture timeline.PlanPicture
	Missing string // why there is nothing to see, "" where there is
	pieces  []piece
}

// piece is a part of a picture that is equally dark, in pixels of the picture.
type piece struct {
	x, y, w, h int
	cover      uint8
}

// How fine a picture is drawn. More pieces would cost every frame of the window, and
// more cells than these nobody sees in it (our judgement).
const (
	underCells  = 480
	underPieces = 6000
)

// underCovers are the covers of what is a little, more and quite dark: pale, so that
// nothing on the plan is lost in it.
var underCovers = [4]uint8{0, 28, 52, 80}

// NewUnderlay makes a picture ready to be drawn as a venue has it.
func NewUnderlay(m image.Image, p timeline.PlanPicture) *Underlay {
	u := &Underlay{Picture: p}
	side := max(m.Bounds().Dx(), m.Bounds().Dy())
	for cell := max((side+underCells-1)/underCells, 1); ; cell += max(cell/2, 1) {
		if u.pieces = piecesOf(m, cell); len(u.pieces) <= underPieces || cell >= side {
			return u
		}
	}
}

// piecesOf parts a picture into pieces of whole cells.
func piecesOf(m image.Image, cell int) []piece {
	b := m.Bounds()
	cols, rows := (b.Dx()+cell-1)/cell, (b.Dy()+cell-1)/cell
	var done, open []piece // open ones end in the row before
	for r := range rows {
		var now []piece
		for c := 0; c < cols; {
			level := darkness(m, image.Rect(b.Min.X+c*cell, b.Min.Y+r*cell, b.Min.X+(c+1)*cell, b.Min.Y+(r+1)*cell).Intersect(b))
			from := c
			for c++; c < cols && darkness(m, image.Rect(b.Min.X+c*cell, b.Min.Y+r*cell, b.Min.X+(c+1)*cell, b.Min.Y+(r+1)*cell).Intersect(b)) == level; c++ {
			}
			if level > 0 {
				now = append(now, piece{from * cell, r * cell, min(c*cell, b.Dx()) - from*cell, min(cell, b.Dy()-r*cell), underCovers[level]})
			}
		}
		// What goes on as it was above is one piece with it.
		k := 0
		for i := range now {
			for k < len(open) && open[k].x < now[i].x {
				done, k = append(done, open[k]), k+1
			}
			if k < len(open) && open[k].x == now[i].x && open[k].w == now[i].w && open[k].cover == now[i].cover {
				now[i].y, now[i].h = open[k].y, open[k].h+now[i].h
				k++
			}
		}
		done, open = append(done, open[k:]...), now
	}
	return append(done, open...)
}

// darkness gives how dark a cell is on white, from 0 to 3: as dark as its darkest
// quarter would make it, so that thin lines stay.
func darkness(m image.Image, r image.Rectangle) int {
	sum, n := 0, 0
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			c := color.NRGBAModel.Convert(m.At(x, y)).(color.NRGBA)
			light := (299*int(c.R) + 587*int(c.G) + 114*int(c.B)) / 1000
			sum += (255 - light) * int(c.A) / 255
			n++
		}
	}
	switch dark := sum * 4 / max(n, 1); {
	case dark < 80:
		return 0
	case dark < 300:
		return 1
	case dark < 600:
		return 2
	}
	return 3
}

// underlay draws the picture under the plan, and says that it is one.
func (d *stageDrawer) underlay() {
	u := d.v.Under
	if u == nil {
		return
	}
	p := u.Picture
	for _, e := range u.pieces {
		x0, y0, x1, y1 := float64(e.x), float64(e.y), float64(e.x+e.w), float64(e.y+e.h)
		a, c := d.v.Point(p.Place(x0, y0)), d.v.Point(p.Place(x1, y1))
		if p.Turn == 0 {
			d.s.Tint(image.Rect(floor(a.X), floor(a.Y), max(floor(c.X), floor(a.X)+1), max(floor(c.Y), floor(a.Y)+1)), InkSecondary, e.cover)
			continue
		}
		d.s.Poly(InkSecondary, e.cover, a, d.v.Point(p.Place(x1, y0)), c, d.v.Point(p.Place(x0, y1)))
	}
	text, box := d.underText()
	if text != "" {
		d.taken = append(d.taken, box)
	}
}

// underText is what is said of the picture under the plan, and where; "" without one.
func (d *stageDrawer) underText() (string, image.Rectangle) {
	u := d.v.Under
	if u == nil {
		return "", image.Rectangle{}
	}
	text := timeline.PictureCaution
	if u.Missing != "" {
		text = "picture under the plan: " + u.Missing
	}
	a, s := d.v.Area, d.s
	return text, image.Rect(a.Min.X+s.Px(60), a.Min.Y+s.Px(4), min(a.Min.X+s.Px(64)+s.Face(TypeSmall).Measure(text), a.Max.X), a.Min.Y+s.Px(20))
}

// underNote says, over all else, that what lies under the plan is a picture.
func (d *stageDrawer) underNote() {
	if text, box := d.underText(); text != "" {
		d.s.Rect(box, InkLane)
		d.s.TextIn(box, Left, TypeSmall, InkSecondary, text)
	}
}
