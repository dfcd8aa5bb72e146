package front

import (
	"image"
	"sort"
	"strconv"

	"emberbeat/render"
	"emberbeat/timeline"
)

// ahead gathers what comes, or goes on, from a time on and is seen; at most n.
func (d *Drawer) ahead(from timeline.Time, n int) {
	d.order = d.order[:0]
	list := d.st.coming
	first := sort.Search(len(list), func(i int) bool { return list[i].hit > from-d.st.fastest })
	for i := first; i < len(list) && len(d.order) < n; i++ {
		if x := &list[i]; x.last > from && (d.v.Previews == nil || d.v.Previews(x.lane.ID)) && (d.v.Only == nil || x.of(d.v.Only)) {
			d.order = append(d.order, x)
		}
	}
}

// of reports whether any of its cues is among some.
func (x *coming) of(cues map[timeline.ID]bool) bool {
	for _, id := range x.cues {
		if cues[id] {
			return true
		}
	}
	return false
}

// nextRow names what comes next, with the time until its hit.
func (d *Drawer) nextRow(r image.Rectangle) {
	s := d.s
	s.Rect(r, render.InkPanel)
	s.Rect(image.Rect(r.Min.X, r.Min.Y, r.Max.X, r.Min.Y+s.Px(1)), render.InkBar)
	n := 3
	if r.Dx() < s.Px(400) {
		n = 2
	}
	d.ahead(d.v.At, n)
	left := r.Min.X + s.Px(10)
	small := s.Face(render.TypeSmall)
	s.Text(image.Pt(left, r.Min.Y+s.Px(4)), render.TypeSmall, render.InkSecondary, "Next")
	if len(d.order) == 0 {
		s.TextCut(image.Rect(left, r.Min.Y+small.Height()+s.Px(6), r.Max.X-s.Px(6), r.Max.Y-s.Px(4)), render.TypeSmall, render.InkFaint, "nothing more in this song")
		return
	}
	w := (r.Dx() - s.Px(16)) / n
	for i, x := range d.order {
		box := image.Rect(left+i*w, r.Min.Y+small.Height()+s.Px(4), left+(i+1)*w-s.Px(6), r.Max.Y)
		s.PushClip(box)
		s.Glyph(d.th, image.Pt(box.Min.X, box.Min.Y+s.Px(3)), s.Px(15), x.look)
		text := box.Min.X + s.Px(20)
		s.TextCut(image.Rect(text, box.Min.Y, box.Max.X, box.Min.Y+small.Height()), render.TypeSmall, render.InkText, x.name)
		d.text = append(d.text[:0], x.bar...)
		if x.hit > d.v.At {
			d.text = append((x.hit - d.v.At).AppendTenths(append(d.text, " · in "...)), " s"...)
		} else {
			d.text = append(d.text, " · now"...)
		}
		if f := s.Face(render.TypeSmall); f.MeasureBytes(d.text) <= box.Max.X-text {
			s.TextBytes(image.Pt(text, box.Min.Y+f.Height()), render.TypeSmall, render.InkSecondary, d.text)
		}
		s.PopClip()
	}
}

// Stretch of time that the courses show, before and after now.
const (
	stripBefore = 1200 * timeline.Millisecond
	stripAfter  = 3200 * timeline.Millisecond
	stripRows   = 6
)

// strip draws the courses of what has just gone and comes: each with its command,
// lead, rise, hold and fall, and its recovery.
func (d *Drawer) strip(r image.Rectangle) {
	s, at := d.s, d.v.At
	s.Rect(r, render.InkLane)
	head := r
	head.Max.X = r.Min.X + min(s.Px(190), r.Dx()/3)
	s.Rect(head, render.InkPanel)
	s.Rect(image.Rect(r.Min.X, r.Min.Y, r.Max.X, r.Min.Y+s.Px(1)), render.InkBar)
	d.stripHead(head)
	k := stripper{d: d, area: image.Rect(head.Max.X+s.Px(4), r.Min.Y, r.Max.X, r.Max.Y)}
	s.PushClip(k.area)
	line := s.Face(render.TypeSmall).Height()
	for n := -1; n <= 3; n++ {
		t := at + timeline.Time(n)*timeline.Second
		x := k.x(t)
		s.Rect(image.Rect(x, r.Min.Y+line+s.Px(6), x+s.Px(1), r.Max.Y), render.InkBeat)
		if n == 0 {
			continue
		}
		d.text = d.text[:0]
		if n > 0 {
			d.text = append(d.text, "in "...)
		}
		d.text = append(strconv.AppendInt(d.text, int64(max(n, -n)), 10), " s"...)
		if n < 0 {
			d.text = append(d.text, " ago"...)
		}
		w, now := s.Face(render.TypeSmall).MeasureBytes(d.text), k.x(at)
		if end := x + s.Px(4) + w; end <= k.area.Max.X && x >= k.area.Min.X && (n < 0 && end < now || n > 0 && x > now+s.Px(6)+s.Face(render.TypeMark).Measure("now")) && (n < 2 || x > k.x(at+timeline.Time(n-1)*timeline.Second)+w+s.Px(8)) {
			s.TextBytes(image.Pt(x+s.Px(4), r.Min.Y+s.Px(4)), render.TypeSmall, render.InkSecondary, d.text)
		}
	}
	d.ahead(at-stripBefore, stripRows)
	top := r.Min.Y + line + s.Px(8)
	high := (r.Max.Y - top - s.Px(4)) / stripRows
	for i, x := range d.order {
		k.row(x, image.Rect(k.area.Min.X, top+i*high, k.area.Max.X, top+(i+1)*high))
	}
	now := k.x(at)
	s.Rect(image.Rect(now, r.Min.Y+s.Px(2), now+s.Px(2), r.Max.Y), render.InkPlayhead)
	s.Text(image.Pt(now+s.Px(6), r.Min.Y+s.Px(4)), render.TypeMark, render.InkText, "now")
	s.PopClip()
}

// stripHead says what the lines of the courses mean.
func (d *Drawer) stripHead(r image.Rectangle) {
	s := d.s
	line := s.Face(render.TypeSmall).Height() + s.Px(2)
	y := r.Min.Y + s.Px(6)
	s.TextCut(image.Rect(r.Min.X+s.Px(10), y, r.Max.X-s.Px(4), y+line), render.TypeStrong, render.InkText, "Now and next")
	y += line + s.Px(4)
	for _, text := range stripWords {
		if y+line > r.Max.Y {
			return
		}
		s.TextCut(image.Rect(r.Min.X+s.Px(10), y, r.Max.X-s.Px(4), y+line), render.TypeSmall, render.InkSecondary, text)
		y += line
	}
}

var stripWords = [...]string{"each line: command, hit,", "rise, hold, fall, recovery", "dotted edge: a figure of", "the family, not the article's", "ring at the foot: lead,", "hatched: its spread"}

// stripper lays courses on a strip.
type stripper struct {
	d    *Drawer
	area image.Rectangle
}

func (k *stripper) x(t timeline.Time) int {
	part := float64(t-k.d.v.At+stripBefore) / float64(stripBefore+stripAfter)
	return k.area.Min.X + int(min(max(part, -1), 2)*float64(k.area.Dx()))
}

// row draws one course.
func (k *stripper) row(x *coming, r image.Rectangle) {
	s, c := k.d.s, &x.course
	foot := r.Max.Y - s.Px(4)
	top := r.Min.Y + s.Px(4)
	s.Rect(image.Rect(r.Min.X, foot, r.Max.X, foot+s.Px(1)), render.InkBeat)
	if x.command >= k.d.v.At+stripAfter {
		k.later(x, image.Rect(r.Min.X, top-s.Px(2), r.Max.X-s.Px(8), foot-s.Px(3)))
		return
	}
	cmd, hit := k.x(x.command), k.x(c.Hit)
	s.Rect(image.Rect(cmd, foot-s.Px(9), cmd+s.Px(2), foot+s.Px(1)), render.InkText)
	s.Rect(image.Rect(cmd, foot-s.Px(5), hit, foot-s.Px(3)), render.InkText)
	a, b, e := k.x(c.Full()), k.x(c.Closed()), k.x(c.Gone())
	ink := render.InkOf(x.class)
	cover := k.d.cover(1)
	if c.Hit > k.d.v.At {
		cover = k.d.cover(0.35)
	}
	s.Poly(ink, cover, pt(hit, foot), pt(a, top), pt(max(b, a+1), top), pt(max(e, a+2), foot))
	for _, edge := range [...][2]render.Point{{pt(hit, foot), pt(a, top)}, {pt(a, top), pt(b, top)}, {pt(b, top), pt(e, foot)}} {
		k.d.stroke(edge[0], edge[1], ink, 255, c.Assumed)
	}
	for t := e; t < k.x(x.free); t += s.Px(8) {
		s.Rect(image.Rect(t, foot-s.Px(2), min(t+s.Px(4), k.x(x.free)), foot-s.Px(1)), render.InkSecondary)
	}
	from := max(e, hit) + s.Px(8)
	room := k.area.Max.X - from
	if room < s.Px(60) {
		return
	}
	text := image.Rect(from, top-s.Px(2), k.area.Max.X-s.Px(4), foot-s.Px(3))
	end := s.TextCut(text, render.TypeSmall, render.InkText, x.name)
	text.Min.X = end + s.Px(8)
	if text.Dx() > s.Px(40) && x.where != "" {
		s.TextCut(text, render.TypeSmall, render.InkSecondary, x.where)
	}
}

// later names what comes after the stretch that is shown.
func (k *stripper) later(x *coming, r image.Rectangle) {
	d := k.d
	d.text = append(append(d.text[:0], x.name...), " · "...)
	d.text = append(append(d.text, x.bar...), " · in "...)
	d.text = append((x.hit - d.v.At).AppendTenths(d.text), " s"...)
	r.Min.X = max(r.Min.X, k.x(d.v.At)+d.s.Px(12))
	d.s.BytesIn(r, render.Right, render.TypeSmall, render.InkSecondary, d.text)
}
