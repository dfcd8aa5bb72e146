package render

import (
	"image"

	"emberbeat/timeline"
)

// RibbonView says where the stretches of an old recording of a song are in a new one, and where that is drawn: both recordings as strips, the
// old above and the new below on one scale of time, and bands between them.
type RibbonView struct {
	Area     image.Rectangle // in device pixels
	Old, New RibbonStrip
	Bands    []Band // in the order of the new recording
	Lost     []RibbonGap
	Added    []RibbonGap
	Ticks    []RibbonTick
	Chosen   string // id of a tick
	Held     int    // 1 + the band that is held, 0 for none
}

// RibbonStrip is one of the two recordings.
type RibbonStrip struct {
	Name   string // "Old", "New"
	Note   string // below it
	Length timeline.Time
	Peaks  Peaks // nil = there is no sound to draw
	Parts  []RibbonPart
}

// RibbonPart is a section of a recording.
type RibbonPart struct {
	Name string
	Span
}

// Band is a stretch that both recordings have.
type Band struct {
	Old, New Span
	Same     bool   // sample by sample; else played anew
	Locked   bool   // a user has placed it
	Sure     int    // per mille
	Text     string // that is set where it fits
	Short    string // and in its place where only this fits
}

// RibbonGap is a stretch that only one of the recordings has.
type RibbonGap struct {
	Span
	Text string // that is set where it fits
}

// RibbonTick is a cue: where it stands in the old recording and in the new one.
type RibbonTick struct {
	ID       string
	Old, New Instant
	Lost     bool // it has no place in the new one
	Look     bool // somebody has to look at it
}

// Ribbons is a RibbonView as it was drawn: what lies where.
type Ribbons struct {
	v     *RibbonView
	s     *Scene
	Axis  image.Rectangle // all that has a place in time
	Above image.Rectangle // the old recording's strip of sound
	Below image.Rectangle // the new one's
	Between,
	oldParts, newParts, sure image.Rectangle
	whole   timeline.Time // that the axis is long
	columns []Column
	taken   []image.Rectangle // by texts
}

// Logical sizes of the parts of ribbons.
const (
	ribbonHead  = 58
	ribbonParts = 18
	ribbonSure  = 18
	ribbonText  = 17 // high, of a text between the strips
)

// Ribbons draws two recordings and what is between them, and gives what lies where. What does not fit is left out: texts first.
func (s *Scene) Ribbons(v *RibbonView) *Ribbons {
	d := &Ribbons{v: v, s: s, whole: max(v.Old.Length, v.New.Length, 1)}
	d.layOut()
	s.PushClip(v.Area)
	s.Rect(v.Area, InkLane)
	d.strip(&v.Old, d.oldParts, d.Above)
	d.strip(&v.New, d.newParts, d.Below)
	s.PushClip(d.Between)
	for i := range v.Bands {
		d.band(&v.Bands[i], v.Held == i+1)
	}
	d.gapTexts()
	for i := range v.Bands {
		d.bandText(&v.Bands[i])
	}
	d.thread()
	s.PopClip()
	d.gaps()
	d.ticks()
	d.sureness()
	s.PopClip()
	return d
}

// layOut shares the height: what stands above and below has its own, the bands take the rest.
func (d *Ribbons) layOut() {
	s, r := d.s, d.v.Area
	d.Axis = image.Rect(min(r.Min.X+s.Px(ribbonHead), r.Max.X), r.Min.Y, r.Max.X, r.Max.Y)
	wave := max(min(r.Dy()*22/100, s.Px(64)), s.Px(16))
	y := d.Axis.Min.Y
	row := func(h int) image.Rectangle {
		box := image.Rect(d.Axis.Min.X, min(y, r.Max.Y), d.Axis.Max.X, min(y+h, r.Max.Y))
		y = box.Max.Y
		return box
	}
	d.oldParts, d.Above = row(s.Px(ribbonParts)), row(wave)
	below := s.Px(ribbonParts) + wave + s.Px(ribbonSure)
	d.Between = row(max(r.Max.Y-below-y, 0))
	d.Below, d.newParts, d.sure = row(wave), row(s.Px(ribbonParts)), row(s.Px(ribbonSure))
}

// X gives where an instant of either recording is drawn.
func (d *Ribbons) X(at timeline.Time) int {
	return d.Axis.Min.X + int(scaled(int64(at), int64(d.Axis.Dx()), int64(d.whole)))
}

// Time gives how long a number of pixels is.
func (d *Ribbons) Time(pixels int) timeline.Time {
	return timeline.Time(scaled(int64(pixels), int64(d.whole), int64(max(d.Axis.Dx(), 1))))
}

func (d *Ribbons) stretch(row image.Rectangle, t Span) image.Rectangle {
	from := min(max(d.X(t.From), d.Axis.Min.X), d.Axis.Max.X)
	return image.Rect(from, row.Min.Y, min(max(d.X(t.To), from+d.s.Px(1)), d.Axis.Max.X), row.Max.Y)
}

// strip draws a recording: its sections and its sound.
func (d *Ribbons) strip(t *RibbonStrip, parts, sound image.Rectangle) {
	s := d.s
	head := image.Rect(d.v.Area.Min.X+s.Px(2), sound.Min.Y, d.Axis.Min.X-s.Px(4), sound.Min.Y+s.Px(18))
	s.TextCut(head, TypeStrong, InkText, t.Name)
	if note := head.Add(image.Pt(0, s.Px(17))); note.Max.Y <= sound.Max.Y {
		s.TextCut(note, TypeSmall, InkSecondary, t.Note)
	}
	for _, p := range t.Parts {
		box := d.stretch(parts, p.Span)
		box.Max.X -= s.Px(1)
		if box.Dx() < s.Px(3) {
			continue
		}
		s.Rect(box, InkBeat)
		s.TextIn(inset(box, s.Px(4), 0), Left, TypeSmall, InkText, p.Name)
	}
	all := d.stretch(sound, Span{0, t.Length})
	s.Rect(all, InkPanel)
	if t.Peaks != nil && !all.Empty() {
		d.columns = columnsOf(t.Peaks, d.columns, Span{0, t.Length}, all.Dx())
		s.wave(all, d.columns, 0)
	}
}

// bandSteps is how many straight pieces the side of a band is drawn of.
const bandSteps = 14

// side gives the x of a side of a band between the strips, at a part of the way down: upright where it leaves a strip.
func side(above, below int, part float32) float32 {
	return float32(above) + float32(below-above)*part*part*(3-2*part)
}

// edge gives the points of a side of a band.
func (d *Ribbons) edge(above, below int) []Point {
	var list []Point
	for i := range bandSteps + 1 {
		part := float32(i) / bandSteps
		list = append(list, Point{side(above, below, part), float32(d.Between.Min.Y) + part*float32(d.Between.Dy())})
	}
	return list
}

// corners gives the x of a band's ends: left and right above, left and right below.
func (d *Ribbons) corners(b *Band) (a, z, c, e int) {
	above, below := d.stretch(d.Between, b.Old), d.stretch(d.Between, b.New)
	return above.Min.X, above.Max.X, below.Min.X, below.Max.X
}

// band draws a stretch that both have: with full lines where the sound is the same, with broken ones where it was played anew.
func (d *Ribbons) band(b *Band, held bool) {
	s := d.s
	a, z, c, e := d.corners(b)
	left, right := d.edge(a, c), d.edge(z, e)
	body := append([]Point{}, left...)
	for i := len(right) - 1; i >= 0; i-- {
		body = append(body, right[i])
	}
	ink, cover := InkBar, uint8(150)
	if !b.Same {
		ink, cover = InkBeat, 170
	}
	s.Poly(ink, cover, body...)
	line, width := InkEdge, s.Scale.Pxf(1)
	if b.Locked || held {
		line, width = InkFocus, s.Scale.Pxf(2)
	}
	for _, side := range [][]Point{left, right} {
		if b.Same || held {
			s.Line(width, line, 255, side...)
			continue
		}
		for i := 0; i+1 < len(side); i += 2 {
			s.Line(width, line, 255, side[i], side[i+1])
		}
	}
}

// bandText sets a band's text in its middle where the band is wide enough and no other text stands.
func (d *Ribbons) bandText(b *Band) {
	s := d.s
	a, z, c, e := d.corners(b)
	h := s.Px(ribbonText)
	for _, text := range []string{b.Text, b.Short} {
		w := s.Face(TypeSmall).Measure(text) + s.Px(6)
		for _, part := range []float32{0.5, 0.68, 0.32} {
			mid := d.Between.Min.Y + int(part*float32(d.Between.Dy()))
			box := image.Rect(0, mid-h/2, 0, mid-h/2+h)
			if text == "" || box.Min.Y < d.Between.Min.Y || box.Max.Y > d.Between.Max.Y {
				continue
			}
			lo, hi := d.Between.Min.X, d.Between.Max.X
			for _, y := range []int{box.Min.Y, mid, box.Max.Y} {
				at := float32(y-d.Between.Min.Y) / float32(d.Between.Dy())
				lo, hi = max(lo, -floor(-side(a, c, at))), min(hi, floor(side(z, e, at)))
			}
			if hi-lo < w {
				continue
			}
			box.Min.X = (lo + hi - w) / 2
			box.Max.X = box.Min.X + w
			if d.set(box, text, false) {
				return
			}
		}
	}
}

// set sets a text between the strips unless another one stands there.
func (d *Ribbons) set(box image.Rectangle, text string, framed bool) bool {
	if !box.In(d.Between) {
		return false
	}
	for _, t := range d.taken {
		if t.Overlaps(box) {
			return false
		}
	}
	if framed {
		d.s.Rect(box, InkLane)
		d.s.Frame(box, d.s.Px(1), InkEdge)
	}
	if !d.s.TextIn(box, Middle, TypeSmall, InkText, text) {
		return false
	}
	d.taken = append(d.taken, box)
	return true
}

// gapTexts says beside the strips what only one of the recordings has.
func (d *Ribbons) gapTexts() {
	s, h := d.s, d.s.Px(ribbonText)
	set := func(g RibbonGap, y int) {
		w := s.Face(TypeSmall).Measure(g.Text) + s.Px(10)
		if g.Text == "" || w > d.Between.Dx() {
			return
		}
		x := min(max((d.X(g.From)+d.X(g.To)-w)/2, d.Between.Min.X), d.Between.Max.X-w)
		d.set(image.Rect(x, y, x+w, y+h), g.Text, true)
	}
	for _, g := range d.v.Lost {
		set(g, d.Between.Min.Y+s.Px(3))
	}
	for _, g := range d.v.Added {
		set(g, d.Between.Max.Y-h-s.Px(3))
	}
}

// gaps hatches what is lost of the old recording, and draws a broken frame around what the new one has more.
func (d *Ribbons) gaps() {
	s := d.s
	for _, g := range d.v.Lost {
		box := d.stretch(d.Above, g.Span)
		s.PushClip(box)
		h := box.Dy()
		for x := box.Min.X - h; x < box.Max.X; x += s.Px(6) {
			s.Line(s.Scale.Pxf(1), InkText, 200, Point{float32(x), float32(box.Max.Y)}, Point{float32(x + h), float32(box.Min.Y)})
		}
		s.PopClip()
		s.Frame(box, s.Px(1), InkText)
	}
	for _, g := range d.v.Added {
		s.brokenFrame(d.stretch(d.Below, g.Span), InkText)
	}
}

// brokenFrame draws the edge of r in dashes.
func (s *Scene) brokenFrame(r image.Rectangle, ink Ink) {
	w, dash := s.Px(1), s.Px(4)
	for x := r.Min.X; x < r.Max.X; x += 2 * dash {
		to := min(x+dash, r.Max.X)
		s.Rect(image.Rect(x, r.Min.Y, to, r.Min.Y+w), ink)
		s.Rect(image.Rect(x, r.Max.Y-w, to, r.Max.Y), ink)
	}
	for y := r.Min.Y; y < r.Max.Y; y += 2 * dash {
		to := min(y+dash, r.Max.Y)
		s.Rect(image.Rect(r.Min.X, y, r.Min.X+w, to), ink)
		s.Rect(image.Rect(r.Max.X-w, y, r.Max.X, to), ink)
	}
}

// ticks draws the cues on both strips: taller where somebody has to look, hollow where one is lost.
func (d *Ribbons) ticks() {
	for i := range d.v.Ticks {
		t := &d.v.Ticks[i]
		if t.Old.On {
			d.tick(t, d.Above, d.X(t.Old.At), t.Lost)
		}
		if t.New.On {
			d.tick(t, d.Below, d.X(t.New.At), false)
		}
	}
}

func (d *Ribbons) tick(t *RibbonTick, row image.Rectangle, x int, hollow bool) {
	s := d.s
	high := min(s.Px(9), row.Dy())
	if t.Look || hollow {
		high = min(s.Px(14), row.Dy())
	}
	w, ink := s.Px(2), InkSecondary
	if t.Look || hollow {
		w, ink = s.Px(4), InkText
	}
	x = min(max(x, row.Min.X), row.Max.X-w)
	box := image.Rect(x, row.Max.Y-high, x+w, row.Max.Y)
	if t.ID == d.v.Chosen {
		s.Rect(image.Rect(x, row.Min.Y, x+s.Px(2), row.Max.Y), InkPlayhead)
	}
	s.Rect(box, ink)
	if hollow && w > s.Px(2) {
		s.Rect(box.Inset(s.Px(1)), InkLane)
	}
}

// thread joins the two places of the chosen cue.
func (d *Ribbons) thread() {
	for i := range d.v.Ticks {
		t := &d.v.Ticks[i]
		if t.ID != d.v.Chosen || !t.Old.On || !t.New.On {
			continue
		}
		line := d.edge(d.X(t.Old.At), d.X(t.New.At))
		for i := 0; i+1 < len(line); i += 2 {
			d.s.Line(d.s.Scale.Pxf(1.5), InkPlayhead, 255, line[i], line[i+1])
		}
	}
}

// sureness draws below how sure each stretch of the new recording is.
func (d *Ribbons) sureness() {
	s := d.s
	if d.sure.Dy() < s.Px(8) {
		return
	}
	s.TextCut(image.Rect(d.v.Area.Min.X+s.Px(2), d.sure.Min.Y, d.Axis.Min.X-s.Px(2), d.sure.Max.Y), TypeSmall, InkSecondary, "How sure")
	for i := range d.v.Bands {
		b := &d.v.Bands[i]
		box := inset(d.stretch(d.sure, b.New), 0, s.Px(1))
		box.Max.X -= s.Px(1)
		s.Rect(image.Rect(box.Min.X, box.Max.Y-max(box.Dy()*b.Sure/1000, s.Px(1)), box.Max.X, box.Max.Y), InkBeat)
		s.TextIn(inset(box, s.Px(3), 0), Left, TypeSmall, InkText, Percent(b.Sure))
	}
}

// BandAt gives the band under a pixel, the one on top, or -1.
func (d *Ribbons) BandAt(p image.Point) int {
	if !p.In(d.Between) {
		return -1
	}
	part := (float32(p.Y-d.Between.Min.Y) + 0.5) / float32(d.Between.Dy())
	for i := len(d.v.Bands) - 1; i >= 0; i-- {
		a, z, c, e := d.corners(&d.v.Bands[i])
		if x := float32(p.X) + 0.5; side(a, c, part) <= x && x < side(z, e, part) {
			return i
		}
	}
	return -1
}

// TickAt gives the cue under a pixel, the nearest, or "".
func (d *Ribbons) TickAt(p image.Point) string {
	best, id := d.s.Px(Reach)/2, ""
	for i := range d.v.Ticks {
		t := &d.v.Ticks[i]
		for _, side := range []struct {
			at  Instant
			row image.Rectangle
		}{{t.Old, d.Above}, {t.New, d.Below}} {
			if x := d.X(side.at.At) - p.X; side.at.On && p.In(side.row) && max(x, -x) < best {
				best, id = max(x, -x), t.ID
			}
		}
	}
	return id
}

// Bands gives the bands as they were drawn.
func (d *Ribbons) Bands() []Band { return d.v.Bands }
