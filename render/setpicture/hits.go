package setpicture

import (
	"fmt"
	"image"

	"emberbeat/render"
	"emberbeat/shows/report/course"
	"emberbeat/timeline"
)

// tallest gives the hits that the height of a row stands for: those of the fullest step, or of the limit where that is more.
func (d *Layout) tallest() int {
	most := max(d.v.Course.Limit, 1)
	for i := range d.v.Course.Songs {
		for _, step := range d.v.Course.Songs[i].Steps {
			most = max(most, step.All)
		}
	}
	return most
}

// hits draws how dense the songs are.
func (d *Layout) hits(r image.Rectangle) {
	s, c := d.s, d.v.Course
	axis := d.axis(r)
	most, gap := 0, timeline.Time(0)
	for i := range c.Songs {
		most, gap = max(most, c.Songs[i].Most), max(gap, c.Songs[i].Gap)
	}
	lines := []string{fmt.Sprintf("most %d · limit %d", most, c.Limit)}
	if gap > 0 {
		lines = append(lines, "widest silence "+gap.Text(0)+" s", "dotted: mean of a song")
	}
	d.title(r, "Hits per 10 s", lines...)
	tall := d.tallest()
	plot := image.Rect(axis.Min.X, axis.Min.Y+s.Px(10), axis.Max.X, axis.Max.Y-s.Px(2))
	for i := range c.Songs {
		d.bars(plot, i, tall)
	}
	y := plot.Max.Y - c.Limit*plot.Dy()/tall
	d.dashes(axis.Min.X, axis.Max.X, y, s.Px(5), s.Px(4), render.InkText)
	d.set(axis, axis.Min.X+s.Px(2), y-s.Px(textHigh+4), fmt.Sprintf("limit %d", c.Limit), render.InkText, false)
	d.means(plot, tall)
}

// bars draws the steps of a song as columns of class inks, one upon the other; what is above the limit is striped.
func (d *Layout) bars(plot image.Rectangle, i, tall int) {
	s := d.s
	x := &d.v.Course.Songs[i]
	for k := range x.Steps {
		step := &x.Steps[k]
		from := timeline.Time(k) * course.Window
		box := d.in(plot, i, from, min(from+course.Window, x.Long))
		if box.Dx() > s.Px(4) {
			box.Max.X -= s.Px(1)
		}
		sum := 0
		for class, n := range step.Of {
			if n == 0 {
				continue
			}
			bottom := plot.Max.Y - sum*plot.Dy()/tall
			sum += n
			s.Rect(image.Rect(box.Min.X, plot.Max.Y-sum*plot.Dy()/tall, box.Max.X, bottom), render.InkOf(course.Classes[class]))
		}
		if limit := d.v.Course.Limit; sum > limit {
			top, line := plot.Max.Y-sum*plot.Dy()/tall, plot.Max.Y-limit*plot.Dy()/tall
			for y := top; y < line; y += s.Px(4) {
				s.Rect(image.Rect(box.Min.X, y, box.Max.X, min(y+s.Px(1), line)), render.InkText)
			}
		}
	}
}

// means draws the mean of each song as a ring in its middle, and dots from one to the next.
func (d *Layout) means(plot image.Rectangle, tall int) {
	s := d.s
	var was image.Point
	for i := range d.v.Course.Songs {
		x := &d.v.Course.Songs[i]
		box := d.song(plot, i)
		p := image.Pt((box.Min.X+box.Max.X)/2, plot.Max.Y-int(x.Mean*float64(plot.Dy())/float64(tall)))
		if i > 0 {
			for n, step := 1, max((p.X-was.X)/s.Px(6), 1); n < step; n++ {
				at := image.Pt(was.X+(p.X-was.X)*n/step, was.Y+(p.Y-was.Y)*n/step)
				s.Rect(image.Rect(at.X, at.Y, at.X+s.Px(2), at.Y+s.Px(2)), render.InkText)
			}
		}
		ring := image.Rect(p.X-s.Px(4), p.Y-s.Px(4), p.X+s.Px(4), p.Y+s.Px(4))
		s.Rect(ring, render.InkText)
		s.Rect(ring.Inset(s.Px(1)+s.Px(1)/2), render.InkLane)
		was = p
	}
}

// shots draws what a song uses up.
func (d *Layout) shots(axis image.Rectangle, i int) {
	s := d.s
	high := min(s.Px(20), axis.Dy()-s.Px(8))
	if high <= 0 {
		return
	}
	last := -1 << 30
	for _, shot := range d.v.Course.Songs[i].Shots {
		look := render.Look{Glyph: render.GlyphOf(shot.Family), Ink: render.InkOf(shot.Family.Class())}
		w := look.Glyph.Width(high)
		x := min(max(d.X(course.Place{Song: i, At: shot.At}), axis.Min.X), axis.Max.X-w)
		if x < last+s.Px(4) {
			continue
		}
		last = x
		s.Glyph(d.th, image.Pt(x, (axis.Min.Y+axis.Max.Y-high)/2), high, look)
	}
}
