package setpicture

import (
	"fmt"
	"image"
	"strconv"

	"emberbeat/render"
	"emberbeat/shows/report/course"
	"emberbeat/timeline"
)

// Draw draws an evening and gives what lies where.
func Draw(s *render.Scene, th *render.Theme, v *View) *Layout {
	d := newLayout(s, th, v)
	s.PushClip(v.Area)
	defer s.PopClip()
	s.Rect(v.Area, render.InkPanel)
	s.PushClip(d.Rows)
	for i := range d.rows {
		if r := &d.rows[i]; r.box.Overlaps(d.Rows) {
			d.taken = d.taken[:0]
			d.row(r)
			s.Rect(image.Rect(r.box.Min.X, r.box.Max.Y-s.Px(1), r.box.Max.X, r.box.Max.Y), render.InkBeat)
		}
	}
	s.PopClip()
	if !v.Each {
		d.heads()
	}
	d.cursor()
	return d
}

func (d *Layout) row(r *row) {
	axis := d.axis(r.box)
	d.s.Ground(HitTime, "", axis.Intersect(d.Rows))
	switch r.kind {
	case energyRow:
		d.columns(axis)
		d.title(r.box, "Energy", "of the recordings")
		for i := range d.v.Course.Songs {
			d.energy(d.song(axis, i), i)
		}
	case hitRow:
		d.columns(axis)
		d.hits(r.box)
	case supplyRow:
		d.columns(axis)
		d.supply(r.box, r.of)
	case moreRow:
		d.more(r.box, r.of)
	case shotRow:
		d.columns(axis)
		d.title(r.box, "Single use", count(d.v.Course.Singles, "unit", "units")+" fired for good")
		for i := range d.v.Course.Songs {
			d.shots(axis, i)
		}
	case armRow:
		d.columns(axis)
		d.arms(r.box)
	case findingRow:
		d.columns(axis)
		text := "none"
		if n := len(d.v.Marks); n > 0 {
			text = fmt.Sprintf("%d in %s", n, count(d.v.Groups, "group", "groups"))
		}
		d.title(r.box, "Findings", text)
		d.findings(axis, -1)
	case songRow:
		d.each(r)
	}
}

// columns lays the ground of the songs, so that the gaps between them are seen.
func (d *Layout) columns(axis image.Rectangle) {
	for i := range d.v.Course.Songs {
		d.s.Rect(d.song(axis, i), render.InkLane)
	}
}

// title sets what a row shows into its gutter, and as many of the lines below it as fit.
func (d *Layout) title(r image.Rectangle, name string, lines ...string) {
	s := d.s
	box := d.gutter(r)
	box.Min.X, box.Max.X = box.Min.X+s.Px(12), box.Max.X-s.Px(6)
	y := box.Min.Y + s.Px(4)
	line := func(high int, t render.Type, ink render.Ink, text string) {
		to := y + s.Px(high)
		if to <= box.Max.Y && text != "" {
			s.TextCut(image.Rect(box.Min.X, y, box.Max.X, to), t, ink, text)
			y = to
		}
	}
	line(18, render.TypeLabel, render.InkText, name)
	for _, text := range lines {
		line(textHigh, render.TypeSmall, render.InkSecondary, text)
	}
}

// count writes a number with its noun.
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// set sets a text in a row where no other stands, on a ground of its own; framed it has an edge.
func (d *Layout) set(room image.Rectangle, x, y int, text string, ink render.Ink, framed bool) bool {
	s := d.s
	w, h := s.Face(render.TypeSmall).Measure(text)+s.Px(8), s.Px(textHigh+2)
	x = min(max(x, room.Min.X), room.Max.X-w)
	y = min(max(y, room.Min.Y), room.Max.Y-h)
	box := image.Rect(x, y, x+w, y+h)
	if !box.In(room) {
		return false
	}
	for _, t := range d.taken {
		if t.Overlaps(box) {
			return false
		}
	}
	s.Rect(box, render.InkLane)
	if framed {
		s.Frame(box, s.Px(1), render.InkText)
	}
	s.TextIn(box, render.Middle, render.TypeSmall, ink, text)
	d.taken = append(d.taken, box)
	return true
}

// heads draws the heads of the songs.
func (d *Layout) heads() {
	s := d.s
	s.Rect(d.Heads, render.InkPanel)
	s.TextCut(image.Rect(d.Heads.Min.X+s.Px(12), d.Heads.Min.Y, d.Axis.Min.X, d.Heads.Max.Y), render.TypeLabel, render.InkSecondary, "Songs")
	for i := range d.v.Course.Songs {
		if i != d.v.Held-1 {
			d.head(i)
		}
	}
	if d.v.Held > 0 && d.v.Held <= len(d.v.Course.Songs) {
		d.head(d.v.Held - 1)
	}
	s.Rect(image.Rect(d.Heads.Min.X, d.Heads.Max.Y-s.Px(1), d.Heads.Max.X, d.Heads.Max.Y), render.InkBar)
}

func (d *Layout) head(i int) {
	s := d.s
	x := &d.v.Course.Songs[i]
	box := d.song(image.Rect(0, d.Heads.Min.Y+s.Px(3), 0, d.Heads.Max.Y-s.Px(3)), i)
	s.Rect(box, render.InkBeat)
	switch {
	case i == d.v.Held-1:
		s.Frame(box, s.Px(2), render.InkText)
	case i == d.v.Song:
		s.Frame(box, s.Px(2), render.InkFocus)
	}
	d.headText(box, x)
	s.Hit(HitHead, strconv.Itoa(i), box)
}

// headText names a song: number and title, and below it where its timecode starts; of a narrow one the number alone.
func (d *Layout) headText(box image.Rectangle, x *course.Song) {
	s := d.s
	in := image.Rect(box.Min.X+s.Px(6), box.Min.Y, box.Max.X-s.Px(4), box.Max.Y)
	number := strconv.Itoa(x.Number)
	if in.Dx() < s.Px(40) {
		s.TextIn(box, render.Middle, render.TypeStrong, render.InkText, number)
		return
	}
	mid := (in.Min.Y + in.Max.Y) / 2
	s.TextCut(image.Rect(in.Min.X, in.Min.Y, in.Max.X, mid), render.TypeMark, render.InkText, number+" "+x.Song.FullTitle())
	s.TextIn(image.Rect(in.Min.X, mid, in.Max.X, in.Max.Y), render.Left, render.TypeSmall, render.InkText, x.Label(0))
}

// energy draws how loud a recording is; where there is none, it says so on a hatched ground.
func (d *Layout) energy(box image.Rectangle, i int) {
	s := d.s
	var sound Sound
	if i < len(d.v.Sounds) {
		sound = d.v.Sounds[i]
	}
	if len(sound.Levels) == 0 {
		d.hatch(box, render.InkBar)
		if sound.Why != "" {
			w := s.Face(render.TypeSmall).Measure(sound.Why) + s.Px(8)
			if w <= box.Dx() {
				mid := image.Rect((box.Min.X+box.Max.X-w)/2, (box.Min.Y+box.Max.Y)/2-s.Px(9), (box.Min.X+box.Max.X+w)/2, (box.Min.Y+box.Max.Y)/2+s.Px(9))
				s.Rect(mid, render.InkLane)
				s.TextIn(mid, render.Middle, render.TypeSmall, render.InkSecondary, sound.Why)
			}
		}
		return
	}
	long := d.v.Course.Songs[i].Long
	high := box.Dy() - s.Px(6)
	from, now := box.Min.X, -1
	for x := box.Min.X; x <= box.Max.X; x++ {
		h := 0
		if x < box.Max.X {
			a := int(int64(x-box.Min.X) * int64(long/timeline.Second) / int64(max(box.Dx(), 1)))
			z := max(int(int64(x+1-box.Min.X)*int64(long/timeline.Second)/int64(max(box.Dx(), 1))), a+1)
			h = int(loudest(sound.Levels, a, z)) * high / 255
		}
		if h == now && x < box.Max.X {
			continue
		}
		if now > 0 {
			s.Rect(image.Rect(from, box.Max.Y-now, x, box.Max.Y), render.InkBar)
		}
		from, now = x, h
	}
}

// loudest gives the highest of some levels, as far as there are any.
func loudest(levels []uint8, from, to int) uint8 {
	most := uint8(0)
	for i := max(from, 0); i < min(to, len(levels)); i++ {
		most = max(most, levels[i])
	}
	return most
}

// hatch fills a box with slanted lines.
func (d *Layout) hatch(box image.Rectangle, ink render.Ink) {
	s := d.s
	s.PushClip(box)
	h := box.Dy()
	for x := box.Min.X - h; x < box.Max.X; x += s.Px(7) {
		s.Line(s.Scale.Pxf(1), ink, 255, render.Point{X: float32(x), Y: float32(box.Max.Y)}, render.Point{X: float32(x + h), Y: float32(box.Min.Y)})
	}
	s.PopClip()
}

// dashes draws a level line in dashes.
func (d *Layout) dashes(from, to, y int, dash, gap int, ink render.Ink) {
	for x := from; x < to; x += dash + gap {
		d.s.Rect(image.Rect(x, y, min(x+dash, to), y+d.s.Px(1)), ink)
	}
}

// uprights draws an upright line in dashes.
func (d *Layout) uprights(x, from, to int, ink render.Ink) {
	for y := from; y < to; y += d.s.Px(6) {
		d.s.Rect(image.Rect(x, y, x+d.s.Px(1), min(y+d.s.Px(3), to)), ink)
	}
}

// cursor draws a line where the pointer is in time.
func (d *Layout) cursor() {
	if d.v.Cursor == nil || d.v.Cursor.Song < 0 || d.v.Cursor.Song >= len(d.starts) {
		return
	}
	x := d.X(*d.v.Cursor)
	box := image.Rect(x, d.v.Area.Min.Y, x+d.s.Px(1), d.v.Area.Max.Y)
	if d.v.Each {
		for _, r := range d.rows {
			if r.of == d.v.Cursor.Song {
				box.Min.Y, box.Max.Y = r.box.Min.Y, r.box.Max.Y
			}
		}
		box = box.Intersect(d.Rows)
	}
	d.s.Rect(box, render.InkPlayhead)
}
