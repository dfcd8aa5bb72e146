package front

import (
	"image"
	"math"
	"sort"
	"strconv"

	"emberbeat/render"
	"emberbeat/timeline"
)

// View says what of a stage is drawn, where and when. Drawing keeps nothing of it.
type View struct {
	Stage    *Stage
	Area     image.Rectangle
	At       timeline.Time                        // from the start of the song's audio
	Above    bool                                 // from above, not from the front; without courses and heights
	Large    bool                                 // with the courses of what comes and goes below, and room for words
	Still    bool                                 // reduced motion: bodies at their full height while they are open, and nothing drifts
	Previews func(lane timeline.ID) bool          // which lanes are seen; nil = all
	Only     map[timeline.ID]bool                 // cues that are seen alone; nil = all
	Cue      timeline.ID                          // the one cue that is seen, as high as it is; "" = all
	Bare     bool                                 // no words: whoever draws it sets Caption beside it; no row of what comes
	Hide     struct{ Reach, Zones, Heights bool } // what is left out
}

// sees reports whether a command is seen.
func (v *View) sees(c *timeline.Command) bool {
	return (v.Previews == nil || v.Previews(c.Lane.ID)) && (v.Only == nil || v.Only[c.Cue.ID]) && (v.Cue == "" || v.Cue == c.Cue.ID)
}

// Drawer adds pictures of a stage to scenes. It keeps its memory, so that drawing
// the next moment makes no garbage. It serves one goroutine.
type Drawer struct {
	s  *render.Scene
	th *render.Theme
	v  *View
	st *Stage

	picture  image.Rectangle
	ppm      float64 // device pixels a metre
	x0, base float64 // device pixels of the middle of the stage, and of its floor

	lines  []bool // spells whose bodies are lines
	lineAt lineKey

	units  []seen
	zones  []band
	order  []*coming
	points []render.Point
	text   []byte
	taken  []image.Rectangle
	bad    []bool // marks that a zone in force reaches
}

// lineKey is what the choice of lines hangs on.
type lineKey struct {
	stage *Stage
	m2    float64 // of the whole picture
}

// seen is what is to be seen of one unit at the moment.
type seen struct {
	body    *hit
	height  float64
	spell   int32
	next    *hit // reach
	lead    *hit
	zone    bool
	until   timeline.Time // of the zone in force
	closing timeline.Time // when the next one comes into force; 0 = not soon
	over    bool          // one has just ended
}

// Logical sizes.
const (
	floorSmall = 40
	floorLarge = 64
	nextHigh   = 54
	stripHigh  = 216
	stripLeast = 420 // of the whole, below which the strip is left out
	nextLeast  = 190 // of the whole, below which the row of what comes is left out
	namesLeast = 560 // width from which marks have names
)

// Bars is how many bars ahead the reach of what comes is drawn, and Ahead how long
// that is in a song without bars.
const (
	Bars  = 2
	Ahead = 4 * timeline.Second
)

// Draw adds the picture of a moment to a scene.
func (d *Drawer) Draw(s *render.Scene, th *render.Theme, v *View) {
	d.s, d.th, d.v, d.st = s, th, v, v.Stage
	s.Rect(v.Area, render.InkLane)
	if d.st == nil || v.Area.Dx() < s.Px(60) || v.Area.Dy() < s.Px(60) {
		return
	}
	s.PushClip(v.Area)
	area := v.Area
	d.taken = d.taken[:0]
	switch {
	case v.Bare:
	case v.Large && area.Dy() >= s.Px(stripLeast):
		below := area
		below.Min.Y = area.Max.Y - s.Px(stripHigh)
		area.Max.Y = below.Min.Y
		d.strip(below)
	case area.Dy() >= s.Px(nextLeast):
		below := area
		below.Min.Y = area.Max.Y - s.Px(nextHigh)
		area.Max.Y = below.Min.Y
		d.nextRow(below)
	}
	if v.Above {
		d.fromAbove(area)
		s.PopClip()
		return
	}
	d.fit(area)
	d.look()
	s.PushClip(area)
	if !v.Bare {
		d.foot(d.st.before)
	}
	if v.Large {
		d.peak()
	}
	d.ground()
	d.closed()
	d.reaches()
	d.bodies()
	d.people()
	d.feet()
	if !v.Bare {
		d.labels()
	}
	s.PopClip()
	s.PopClip()
}

// fit finds the scale.
func (d *Drawer) fit(area image.Rectangle) {
	s, st := d.s, d.st
	d.picture = area
	low := s.Px(floorSmall)
	if d.v.Bare {
		low = s.Px(8)
	}
	if d.v.Large {
		low = s.Px(floorLarge)
	}
	d.base = float64(area.Max.Y - low)
	d.ppm = math.Min(float64(area.Dx()-s.Px(16))/(st.right-st.left), (d.base-float64(area.Min.Y)-float64(s.Px(10)))/st.top)
	d.ppm = math.Max(d.ppm, 1)
	d.x0 = float64(area.Min.X+area.Max.X)/2 - (st.left+st.right)/2*d.ppm
	d.keep(area)
}

// keep makes room for what is seen of each unit, and finds what is drawn as lines in a picture of that size and scale.
func (d *Drawer) keep(area image.Rectangle) {
	st := d.st
	key := lineKey{st, float64(area.Dx()) * float64(area.Dy()) / (d.ppm * d.ppm)}
	if key != d.lineAt {
		d.lineAt = key
		d.lines = st.crowd(d.lines, key.m2)
	}
	if len(d.units) != len(st.units) {
		d.units = make([]seen, len(st.units))
	}
	if len(d.bad) != len(st.marks) {
		d.bad = make([]bool, len(st.marks))
	}
}

// at gives where a place is drawn.
func (d *Drawer) at(x, z float64) render.Point {
	return render.Point{X: float32(d.x0 + x*d.ppm), Y: float32(d.base - z*d.ppm)}
}

// foot of a unit: those at one position stand side by side.
func (d *Drawer) footOf(u *unit) render.Point {
	p := d.at(u.x, u.z)
	p.X += d.s.Scale.Pxf(5) * float32(u.shift)
	return p
}

// soon gives until when what comes is drawn as its reach.
func (d *Drawer) soon() timeline.Time {
	b := d.st.Song.Song.Beats
	if b.Empty() {
		return d.v.At + Ahead
	}
	return b.BarStart(b.Locate(d.v.At).Bar + Bars + 1)
}

// look finds what is to be seen of each unit.
func (d *Drawer) look() {
	st, at := d.st, d.v.At
	clear(d.units)
	clear(d.bad)
	soon := d.soon()
	first := sort.Search(len(st.hits), func(i int) bool { return st.hits[i].command.At >= at-st.longest })
	for i := first; i < len(st.hits); i++ {
		h := &st.hits[i]
		if h.command.At > soon+leadRoom {
			break
		}
		if h.spell < 0 || !d.v.sees(h.command) {
			continue
		}
		d.lookAt(&d.units[h.unit], h, soon)
	}
	from := sort.Search(len(st.spells), func(i int) bool { return st.spells[i].from >= at-st.latest })
	for i := from; i < len(st.spells) && st.spells[i].from <= at; i++ {
		if s := &st.spells[i]; at < s.to {
			d.spellNow(s, int32(i))
		}
	}
}

// leadRoom is longer than any lead: what is hit soon may be commanded later than
// what is hit after it.
const leadRoom = 10 * timeline.Second

// Zones are spoken of a little before and after.
const (
	zoneAhead = 2 * timeline.Second
	zoneAfter = timeline.Second
)

// lookAt notes reach, lead and zone of one command. A lead within a spell has no ring:
// it would come and go with each hit.
func (d *Drawer) lookAt(u *seen, h *hit, soon timeline.Time) {
	at := d.v.At
	if h.course.Hit > at && h.course.Hit <= soon && (u.next == nil || h.course.Hit < u.next.course.Hit) {
		u.next = h
	}
	if h.course.Command <= at && at < h.course.Hit && h.course.Hit == d.st.spells[h.spell].from && (u.lead == nil || h.course.Hit < u.lead.course.Hit) {
		u.lead = h
	}
	if h.command.Article.Clear <= 0 {
		return
	}
	switch {
	case h.zoneOn <= at && at < h.zoneOver || u.zone && h.zoneOn <= u.until && at < h.zoneOver:
		u.zone, u.until = true, max(u.until, h.zoneOver)
	case h.zoneOn > at && h.zoneOn <= at+zoneAhead && (u.closing == 0 || h.zoneOn < u.closing):
		u.closing = h.zoneOn
	case h.zoneOver <= at && h.zoneOver > at-zoneAfter:
		u.over = true
	}
}

// spellNow notes what of a spell stands at the moment.
func (d *Drawer) spellNow(s *spell, n int32) {
	u := &d.units[s.unit]
	for _, i := range d.st.inSpell[s.first : s.first+s.n] {
		h := &d.st.hits[i]
		if !d.v.sees(h.command) {
			continue
		}
		height := h.course.Height(d.v.At)
		switch {
		case s.striped, d.v.Bare:
			height = 1
		case d.v.Still && height > 0:
			height = 0
			if d.v.At < h.course.Closed() {
				height = 1
			}
		}
		if height > u.height {
			u.body, u.height, u.spell = h, height, n
		}
		if s.striped {
			return
		}
	}
}

// gridStep gives how many metres or feet apart the lines of the grid are.
func (d *Drawer) gridStep() int {
	step := 2
	for float64(step)*d.st.told.Back("m", 1)*d.ppm < float64(d.s.Px(22)) {
		step *= 2
	}
	return step
}

// ground draws grid, heights, trim, and what things stand on.
func (d *Drawer) ground() {
	s, a := d.s, d.picture
	one := d.st.told.Back("m", 1)
	step := d.gridStep()
	thin := s.Px(1)
	for z := step; ; z += step {
		y := int(d.at(0, float64(z)*one).Y)
		if y < a.Min.Y+s.Px(4) || float64(z)*one > d.st.top+float64(step)*one {
			break
		}
		s.Rect(image.Rect(a.Min.X, y, a.Max.X, y+thin), render.InkBeat)
		if d.v.Bare {
			continue
		}
		d.text = strconv.AppendInt(d.text[:0], int64(z), 10)
		d.text = append(append(d.text, ' '), d.st.told.Unit("m")...)
		d.put(image.Pt(a.Min.X+s.Px(4), y-s.Face(render.TypeSmall).Height()-s.Px(1)), render.TypeSmall, render.InkFaint, d.text)
	}
	d.trim()
	for i := range d.st.bars {
		d.truss(&d.st.bars[i])
	}
	for i := range d.st.risers {
		r := &d.st.risers[i]
		p, q := d.at(r.x-0.9, r.z), d.at(r.x+0.9, 0)
		s.Rect(image.Rect(int(p.X), int(p.Y), int(q.X), int(q.Y)), render.InkBeat)
	}
	y := int(d.base)
	s.Rect(image.Rect(a.Min.X, y, a.Max.X, y+s.Px(2)), render.InkEdge)
}

// trim draws the line below which everything hangs, or says that it is higher.
func (d *Drawer) trim() {
	if d.st.trim <= 0 || d.v.Bare {
		return
	}
	s, a := d.s, d.picture
	d.text = append(d.text[:0], "trim height "...)
	d.text = append(d.text, d.st.trimSaid...)
	y := int(d.at(0, d.st.trim).Y)
	if y < a.Min.Y+s.Px(2) {
		d.text = append(d.text, ", above the picture"...)
		y = a.Min.Y - s.Px(2)
	} else {
		for x := a.Min.X; x < a.Max.X; x += s.Px(10) {
			s.Rect(image.Rect(x, y, min(x+s.Px(6), a.Max.X), y+s.Px(2)), render.InkSecondary)
		}
	}
	w := s.Face(render.TypeSmall).MeasureBytes(d.text)
	d.put(image.Pt(a.Max.X-w-s.Px(6), y+s.Px(3)), render.TypeSmall, render.InkSecondary, d.text)
}

// truss draws a bar with its braces.
func (d *Drawer) truss(b *trussed) {
	s := d.s
	p, q := d.at(b.from-0.8, b.z), d.at(b.to+0.8, b.z)
	r := image.Rect(int(p.X), int(p.Y)-s.Px(8), int(q.X), int(p.Y))
	s.Frame(r, s.Px(1), render.InkBar)
	for x := r.Min.X; x+s.Px(16) <= r.Max.X; x += s.Px(24) {
		s.Line(s.Scale.Pxf(1), render.InkBar, 255, pt(x, r.Min.Y), pt(x+s.Px(16), r.Max.Y))
	}
}

// put sets a text where nothing stands yet, moved into the picture, and reports
// whether there was room.
func (d *Drawer) put(p image.Point, t render.Type, ink render.Ink, text []byte) bool {
	f := d.s.Face(t)
	w, a := f.MeasureBytes(text), d.picture
	p.X = max(min(p.X, a.Max.X-w-d.s.Px(3)), a.Min.X+d.s.Px(3))
	box := image.Rect(p.X, p.Y, p.X+w, p.Y+f.Height())
	apart := d.s.Px(4) // of words side by side: nearer, they read as one
	if !box.In(a) || !d.free(image.Rect(box.Min.X-apart, box.Min.Y, box.Max.X+apart, box.Max.Y)) {
		return false
	}
	d.taken = append(d.taken, box)
	d.s.TextBytes(p, t, ink, text)
	return true
}

// free reports whether nothing is set in a box.
func (d *Drawer) free(box image.Rectangle) bool {
	for _, t := range d.taken {
		if t.Overlaps(box) {
			return false
		}
	}
	return true
}

// peak says at the right, below the top, what goes highest in the song.
func (d *Drawer) peak() {
	d.text = append(d.text[:0], d.st.peak...)
	f := d.s.Face(render.TypeSmall)
	d.put(image.Pt(d.picture.Max.X-f.MeasureBytes(d.text)-d.s.Px(6), d.picture.Min.Y+d.s.Px(4)), render.TypeSmall, render.InkSecondary, d.text)
}

// foot sets the caption, before all other words: it always stands; beside it what lies before the picture.
func (d *Drawer) foot(before string) {
	s, a := d.s, d.picture
	f := s.Face(render.TypeSmall)
	y := a.Max.Y - f.Height() - s.Px(2)
	d.text = append(d.text[:0], Caption...)
	if before != "" {
		d.text = append(append(d.text, " · "...), before...)
	}
	if f.MeasureBytes(d.text) > a.Dx()-s.Px(8) {
		d.text = append(d.text[:0], Caption...)
	}
	if f.MeasureBytes(d.text) > a.Dx()-s.Px(8) {
		d.text = append(d.text[:0], "marks, not where people are"...)
	}
	d.put(image.Pt(a.Min.X+s.Px(4), y), render.TypeSmall, render.InkFaint, d.text)
}

func pt(x, y int) render.Point { return render.Point{X: float32(x), Y: float32(y)} }
