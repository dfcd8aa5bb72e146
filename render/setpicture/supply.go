package setpicture

import (
	"fmt"
	"image"

	"emberbeat/render"
	"emberbeat/shows/report/course"
	"emberbeat/timeline"
)

// supply draws what is left of a supply, where it is changed or has to be, and where it runs short.
func (d *Layout) supply(r image.Rectangle, of int) {
	s, x := d.s, &d.v.Course.Supplies[of]
	d.title(r, x.Name, fmt.Sprintf("%s, %s to draw", count(x.Of.Units, "unit", "units"), d.v.Told.Say("kg", x.Usable, 1)), "uses "+d.v.Told.Say("kg", x.Used, 1), weighed(x))
	axis := d.axis(r)
	plot := image.Rect(axis.Min.X, axis.Min.Y+s.Px(6), axis.Max.X, axis.Max.Y-s.Px(6))
	if x.Full <= 0 {
		d.set(plot, plot.Min.X+s.Px(6), (plot.Min.Y+plot.Max.Y)/2-s.Px(9), "what it holds is not given", render.InkText, false)
		return
	}
	y := func(kg float64) int {
		return plot.Max.Y - int(min(max(kg/x.Full, 0), 1)*float64(plot.Dy()))
	}
	ink := render.InkWave
	if x.Class != "" {
		ink = render.InkOf(x.Class)
	}
	d.curve(plot, x, y, ink)
	for i := range x.Stages {
		d.reserve(plot, x, i, y)
	}
	empty := d.short(plot, x.Empty, y(0), render.SevError)
	low := d.short(plot, x.Low, y(x.Stages[0].Reserve), render.SevWarning)
	d.shortText(plot, x.Empty, empty, "empty")
	d.shortText(plot, x.Low, low, "below reserve")
	d.reserveText(plot, x, y)
	for i := range x.Stages[1:] {
		d.changed(plot, &x.Stages[i+1])
	}
	if d.v.Held > 0 {
		return // they are left out until the order is settled, for they take as long as everything else together
	}
	for _, w := range d.v.Course.Swaps(of) {
		at := d.X(w.Place)
		d.uprights(at, plot.Min.Y, plot.Max.Y, render.InkText)
		d.set(plot, at+s.Px(3), plot.Min.Y, "swap by here, "+w.Free.Text(0)+" s free", render.InkText, false)
	}
}

func weighed(x *course.Supply) string {
	if x.Weighed {
		return "as weighed for this night"
	}
	return ""
}

// curve draws what is left over the time: filled below, with a line on top. Of what falls on one column of pixels only the lowest is drawn.
func (d *Layout) curve(plot image.Rectangle, x *course.Supply, y func(float64) int, ink render.Ink) {
	s := d.s
	from, now := plot.Min.X, y(x.Usable)
	step := func(to int) {
		if to = min(to, plot.Max.X); to > from {
			s.Tint(image.Rect(from, now, to, plot.Max.Y), ink, 60)
			s.Rect(image.Rect(from, now-s.Px(1), to, now+s.Px(1)), ink)
			from = to
		}
	}
	for i := range x.Curve {
		l := &x.Curve[i]
		at, next := min(max(d.X(l.Place), plot.Min.X), plot.Max.X), y(l.Kg)
		if next == now {
			continue
		}
		step(at)
		s.Rect(image.Rect(at, min(now, next), at+s.Px(1), max(now, next)), ink)
		now = next
	}
	step(plot.Max.X)
}

// reserve draws the line below which a supply should be changed, over a stage.
func (d *Layout) reserve(plot image.Rectangle, x *course.Supply, i int, y func(float64) int) {
	s, st := d.s, &x.Stages[i]
	from, to := plot.Min.X, plot.Max.X
	if i > 0 {
		from = d.X(st.From)
	}
	if i+1 < len(x.Stages) {
		to = d.X(x.Stages[i+1].From)
	}
	line := y(st.Reserve)
	d.dashes(from, to, line, s.Px(5), s.Px(4), render.InkSecondary)
}

func (d *Layout) reserveText(plot image.Rectangle, x *course.Supply, y func(float64) int) {
	d.set(plot, plot.Min.X+d.s.Px(2), y(x.Stages[0].Reserve)-d.s.Px(textHigh+3), fmt.Sprintf("reserve %.0f %%", 100*x.Of.Reserve), render.InkSecondary, false)
}

// changed draws a planned refill with how long it takes and how long there is for it.
func (d *Layout) changed(plot image.Rectangle, st *course.Stage) {
	s := d.s
	x := d.X(st.From)
	s.Rect(image.Rect(x, plot.Min.Y, x+s.Px(2), plot.Max.Y), render.InkText)
	text := "changed, time not given"
	if needs := st.Refill.Needs(); needs > 0 {
		text = fmt.Sprintf("changed, %s s of %s", needs.Text(0), st.Gap.Text(0))
		if needs > st.Gap {
			d.badge(plot, x-s.Px(render.BadgeSize+2), plot.Max.Y-s.Px(render.BadgeSize), render.SevError)
		}
	}
	w := s.Face(render.TypeSmall).Measure(text) + s.Px(8)
	d.set(plot, x-w/2, (plot.Min.Y+plot.Max.Y)/2-s.Px(9), text, render.InkText, true)
}

// badge draws a severity inside a box where nothing else stands, and gives where.
func (d *Layout) badge(room image.Rectangle, x, y int, v render.Severity) image.Rectangle {
	size := d.s.Px(render.BadgeSize)
	x = min(max(x, room.Min.X), max(room.Max.X-size-d.s.Px(3), room.Min.X))
	y = min(max(y, room.Min.Y+d.s.Px(3)), max(room.Max.Y-size, room.Min.Y))
	box := image.Rect(x, y-d.s.Px(3), x+size+d.s.Px(3), y+size) // a triangle is larger than its letter's circle
	for _, t := range d.taken {
		if t.Overlaps(box) {
			return image.Rectangle{}
		}
	}
	d.taken = append(d.taken, box)
	d.s.Badge(image.Pt(x, y), v)
	return image.Rect(x, y, x+size, y+size)
}

// short marks where a supply runs short, and gives where its badge stands.
func (d *Layout) short(plot image.Rectangle, f *course.Shortfall, y int, v render.Severity) image.Rectangle {
	if f == nil {
		return image.Rectangle{}
	}
	s := d.s
	x := d.X(f.Place)
	d.uprights(x, plot.Min.Y, plot.Max.Y, render.InkText)
	return d.badge(plot, x-s.Px(render.BadgeSize/2), y-s.Px(render.BadgeSize/2), v)
}

// shortText says beside its badge with which hit a supply runs short.
func (d *Layout) shortText(plot image.Rectangle, f *course.Shortfall, badge image.Rectangle, word string) {
	if f == nil || badge.Empty() {
		return
	}
	s := d.s
	text := word + " by keys alone"
	if f.Command != nil {
		text = fmt.Sprintf("%s at hit %d of %d", word, f.Hit, f.Of)
	}
	w := s.Face(render.TypeSmall).Measure(text) + s.Px(8)
	if badge.Min.X-w-s.Px(3) < plot.Min.X || !d.set(plot, badge.Min.X-w-s.Px(3), badge.Min.Y-s.Px(1), text, render.InkText, false) {
		d.set(plot, badge.Max.X+s.Px(5), badge.Min.Y-s.Px(1), text, render.InkText, false)
	}
}

// more says how many supplies are left out, or that all are shown.
func (d *Layout) more(r image.Rectangle, left int) {
	s := d.s
	text := fmt.Sprintf("%d more supplies, none worse than these: show all", left)
	if left == 0 {
		text = "show the worst alone"
	}
	box := image.Rect(r.Min.X+s.Px(6), r.Min.Y+s.Px(1), r.Max.X-s.Px(8), r.Max.Y-s.Px(2))
	s.Frame(box, s.Px(1), render.InkEdge)
	s.TextCut(image.Rect(box.Min.X+s.Px(6), box.Min.Y, box.Max.X-s.Px(6), box.Max.Y), render.TypeSmall, render.InkText, text)
	s.Hit(HitMore, "", box.Intersect(d.Rows))
}

// arms draws when arms are up: a line for each kind of device, hatched where they stay up over a changeover.
func (d *Layout) arms(r image.Rectangle) {
	s, list := d.s, d.v.Course.Arms
	names := ""
	over := 0
	for i := range list {
		if i > 0 {
			names += " · "
		}
		names += list[i].Name
		for _, up := range list[i].Up {
			if up.Over {
				over++
			}
		}
	}
	left := ""
	if over > 0 {
		left = "hatched: left up"
	}
	d.title(r, "Arms, as planned", names, left)
	y := r.Min.Y + s.Px(armHigh)/2
	for i := range list {
		if i == mostArms {
			break
		}
		line := image.Rect(0, y+s.Px(2), 0, y+s.Px(armLine-2))
		for _, up := range list[i].Up {
			d.up(line, up)
		}
		y += s.Px(armLine)
	}
}

func (d *Layout) up(line image.Rectangle, up course.Raised) {
	s := d.s
	box := d.in(line, up.Song, up.From, up.To)
	s.Rect(box, render.InkBeat)
	edge := render.InkEdge
	if up.Over {
		d.hatch(box, render.InkText)
		edge = render.InkText
	}
	s.Frame(box, s.Px(1), edge)
}

// cluster is findings that are drawn as one, for they stand near each other.
type cluster struct {
	x, n    int
	worst   render.Severity
	finding int
}

// findings draws the findings of all songs over the line of time, or of one; those near each other have one badge, of the gravest.
func (d *Layout) findings(axis image.Rectangle, song int) {
	s := d.s
	var list []cluster
	for _, m := range d.v.Marks {
		if m.Song < 0 || song >= 0 && m.Song != song {
			continue
		}
		p := m.Place
		if !m.Timed {
			p.At = 0
		}
		x := min(max(d.X(p), axis.Min.X), axis.Max.X)
		if n := len(list); n > 0 && x < list[n-1].x+s.Px(44) {
			l := &list[n-1]
			if l.n++; m.Severity < l.worst {
				l.worst, l.finding = m.Severity, m.Finding
			}
			continue
		}
		list = append(list, cluster{x, 1, m.Severity, m.Finding})
	}
	for _, l := range list {
		y := (axis.Min.Y + axis.Max.Y - s.Px(render.BadgeSize)) / 2
		if song >= 0 {
			y = axis.Min.Y
		}
		box := d.badge(axis, l.x-s.Px(render.BadgeSize/2), y, l.worst)
		if box.Empty() {
			continue
		}
		if l.n > 1 {
			text := image.Rect(box.Max.X+s.Px(3), box.Min.Y, min(box.Max.X+s.Px(30), axis.Max.X), box.Max.Y)
			s.TextIn(text, render.Left, render.TypeSmall, render.InkText, fmt.Sprintf("×%d", l.n))
		}
		s.Hit(HitFinding, fmt.Sprint(l.finding), box.Intersect(d.Rows))
	}
}

// each draws a song by itself: its sound, its hits on top of that, what it uses up, its arms and findings.
func (d *Layout) each(r *row) {
	s, i := d.s, r.of
	x := &d.v.Course.Songs[i]
	axis := d.axis(r.box)
	box := d.song(axis, i)
	s.Rect(box, render.InkLane)
	d.energy(box, i)
	plot := image.Rect(box.Min.X, box.Min.Y+s.Px(render.BadgeSize+8), box.Max.X, box.Max.Y-s.Px(8))
	if plot.Dy() > 0 {
		tall := d.tallest()
		d.bars(plot, i, tall)
		d.dashes(box.Min.X, box.Max.X, plot.Max.Y-d.v.Course.Limit*plot.Dy()/tall, s.Px(5), s.Px(4), render.InkText)
	}
	for _, a := range d.v.Course.Arms {
		for _, up := range a.Up {
			if up.Song == i {
				d.up(image.Rect(0, box.Max.Y-s.Px(6), 0, box.Max.Y-s.Px(1)), up)
			}
		}
	}
	d.shots(image.Rect(axis.Min.X, r.box.Max.Y-s.Px(34), axis.Max.X, r.box.Max.Y-s.Px(8)), i)
	d.findings(image.Rect(axis.Min.X, r.box.Min.Y, axis.Max.X, r.box.Min.Y+s.Px(render.BadgeSize+6)), i)
	head := d.gutter(r.box)
	inner := image.Rect(head.Min.X+s.Px(6), head.Min.Y+s.Px(3), head.Max.X-s.Px(6), head.Max.Y-s.Px(3))
	s.Rect(inner, render.InkBeat)
	switch {
	case i == d.v.Held-1:
		s.Frame(inner, s.Px(2), render.InkText)
	case i == d.v.Song:
		s.Frame(inner, s.Px(2), render.InkFocus)
	}
	third := inner.Dy() / 3
	text := image.Rect(inner.Min.X+s.Px(6), inner.Min.Y, inner.Max.X-s.Px(4), inner.Min.Y+third)
	s.TextCut(text, render.TypeMark, render.InkText, fmt.Sprintf("%d %s", x.Number, x.Song.FullTitle()))
	s.TextCut(text.Add(image.Pt(0, third)), render.TypeSmall, render.InkText, x.Label(0)+" · "+clock(x.Duration))
	s.TextCut(text.Add(image.Pt(0, 2*third)), render.TypeSmall, render.InkText, fmt.Sprintf("most %d · mean %.1f", x.Most, x.Mean))
	s.Hit(HitHead, fmt.Sprint(i), inner.Intersect(d.Rows))
}

func clock(t timeline.Time) string {
	if t <= 0 {
		return "length not given"
	}
	return t.Clock(0)
}
