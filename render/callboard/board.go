package callboard

import (
	"image"
	"strconv"

	"emberbeat/render"
	"emberbeat/render/front"
	"emberbeat/shows/report/calling"
	"emberbeat/timeline"
)

// Standing is what always stands on the board.
const Standing = "Displays the plan only. Not linked to the show's timecode."

// View says what is drawn and where.
type View struct {
	Area    image.Rectangle
	Board   *calling.Board
	Moment  *calling.Moment
	Marks   *calling.Marks
	Stage   *front.Stage // of the board's song, for where the next cue is; nil = left out
	Running bool         // the clock runs; else no time is told to anything
	Source  string       // whose clock it is
	Stopped string       // why it does not run, where it has run
	Still   bool         // reduced motion
	Keys    string       // what keys do here
	Note    string       // what went wrong; "" = nothing
}

// Drawer adds boards to scenes. It keeps its memory, so that the next frame makes no
// garbage. It serves one goroutine.
type Drawer struct {
	s     *render.Scene
	th    *render.Theme
	v     *View
	m     *calling.Moment
	b     *calling.Board
	kx    float64 // device pixels to a 1920th of the width
	ky    float64 // to a 1080th of the height
	text  []byte
	where front.Drawer
	shown front.View
}

// Slide is how long the rows slide up when one has gone.
const Slide = 120 * timeline.Millisecond

// Draw adds the board to a scene.
func (d *Drawer) Draw(s *render.Scene, th *render.Theme, v *View) {
	d.s, d.th, d.v, d.m, d.b = s, th, v, v.Moment, v.Board
	s.Rect(v.Area, render.InkLane)
	d.kx, d.ky = float64(v.Area.Dx())/1920, float64(v.Area.Dy())/1080
	s.PushClip(v.Area)
	if d.b != nil {
		d.top()
		d.counters()
		d.song()
		d.next()
		d.place()
		d.rows()
		d.arms()
		d.hold()
		d.missed()
		d.note()
	}
	d.foot()
	s.PopClip()
}

// rect maps a rectangle of the 1920 by 1080 board into the picture.
func (d *Drawer) rect(x0, y0, x1, y1 int) image.Rectangle {
	a := d.v.Area.Min
	return image.Rect(a.X+int(float64(x0)*d.kx), a.Y+int(float64(y0)*d.ky), a.X+int(float64(x1)*d.kx), a.Y+int(float64(y1)*d.ky))
}

// least is the smallest lettering, in logical pixels.
const least = 16

// letters gives the type of a size on the board: it grows with the height, and with
// the width where that is scarce.
func (d *Drawer) letters(size int, bold bool) render.Type {
	n := float64(size) * min(d.kx, d.ky) * 100 / float64(d.s.Scale)
	return render.Type{Size: uint8(min(max(int(n), least), 250)), Bold: bold}
}

// fit makes a type as small as a box is high: where letters are wanted larger than the board has room for, they end at that.
func (d *Drawer) fit(box image.Rectangle, t render.Type) render.Type {
	for t.Size > 6 && d.s.Face(t).Height() > box.Dy()+d.s.Px(2) {
		t.Size--
	}
	return t
}

// put sets text in a box, as much as fits, and gives the x where it ends.
func (d *Drawer) put(box image.Rectangle, a render.Align, t render.Type, ink render.Ink, text string) int {
	t = d.fit(box, t)
	if a != render.Left && d.s.TextIn(box, a, t, ink, text) {
		return box.Max.X
	}
	return d.s.TextCut(box, t, ink, text)
}

// bytes sets what was made in d.text, and leaves it out where it does not fit.
func (d *Drawer) bytes(box image.Rectangle, a render.Align, t render.Type, ink render.Ink) {
	d.s.BytesIn(box, a, d.fit(box, t), ink, d.text)
}

// card draws the ground of a part.
func (d *Drawer) card(r image.Rectangle, strong bool) {
	ink := render.InkBar
	w := 1
	if strong {
		ink, w = render.InkSecondary, 2
	}
	d.s.Rect(r, render.InkPanel)
	d.s.Frame(r, d.s.Px(w), ink)
}

// top says which song it is, where in it, and of which night.
func (d *Drawer) top() {
	band := d.rect(0, 0, 1920, 46)
	d.s.Rect(band, render.InkPanel)
	t := d.fit(band, d.letters(17, false))
	mid := (band.Min.X + band.Max.X) / 2
	w := min(d.s.Face(t).Measure(Standing), band.Dx())
	stands := image.Rect(mid-w/2, band.Min.Y, mid-w/2+w, band.Max.Y)
	d.put(stands, render.Left, t, render.InkText, Standing)
	box := d.rect(24, 0, 700, 46)
	box.Max.X = stands.Min.X - d.s.Px(16)
	end := d.put(box, render.Left, d.letters(22, true), render.InkText, d.b.Title)
	p := &d.b.Parts[d.m.Part]
	d.text = append(d.text[:0], p.Name...)
	if d.m.Bar > 0 {
		d.text = strconv.AppendInt(append(d.text, ", bar "...), int64(d.m.Bar), 10)
		if d.m.Bars > 0 {
			d.text = strconv.AppendInt(append(d.text, " of "...), int64(d.m.Bars), 10)
		}
	}
	box.Min.X = end + d.rect(0, 0, 30, 0).Dx()
	d.bytes(box, render.Left, d.letters(22, false), render.InkText)
	right := d.rect(1250, 0, 1896, 46)
	right.Min.X = stands.Max.X + d.s.Px(16)
	d.put(right, render.Right, d.letters(20, false), render.InkSecondary, d.b.Head)
}

// counters draws timecode and bar.
func (d *Drawer) counters() {
	ps := d.b.Song
	if ps.StartErr != nil || ps.Rate == timeline.RateUnset {
		d.put(d.rect(30, 56, 740, 166), render.Left, d.letters(60, true), render.InkText, "no timecode")
	} else {
		d.text = ps.Rate.AppendLabel(d.text[:0], ps.FrameAt(d.m.At))
		d.bytes(d.rect(30, 56, 740, 166), render.Left, d.letters(100, true), render.InkText)
	}
	d.text = append(append(d.text[:0], "timecode "...), d.v.Source...)
	if d.v.Stopped != "" {
		d.text = append(d.text[:0], d.v.Stopped...)
	}
	d.bytes(d.rect(38, 168, 740, 196), render.Left, d.letters(18, false), render.InkSecondary)
	if beats := ps.Song.Beats; !beats.Empty() {
		p := beats.Locate(d.m.At)
		d.text = strconv.AppendInt(d.text[:0], int64(p.Bar), 10)
		d.text = strconv.AppendInt(append(d.text, '.'), p.Beat.Floor()+1, 10)
		d.bytes(d.rect(756, 56, 1060, 166), render.Left, d.letters(100, true), render.InkText)
		d.put(d.rect(764, 168, 1060, 196), render.Left, d.letters(18, false), render.InkSecondary, "bar . beat")
	}
	d.s.Rect(d.rect(0, 205, 1920, 206), render.InkBar)
}

// song draws the whole song with its sections and cues, what is left of it and what
// follows.
func (d *Drawer) song() {
	s, ps := d.s, d.b.Song
	d.put(d.rect(1080, 56, 1180, 86), render.Left, d.letters(18, false), render.InkSecondary, "Song")
	d.text = append(appendClock(d.text[:0], d.m.Left), " left · "...)
	d.text = append(d.text, d.b.After...)
	d.bytes(d.rect(1190, 56, 1884, 86), render.Right, d.letters(18, false), render.InkText)
	strip := d.rect(1080, 90, 1884, 130)
	if ps.Duration <= 0 {
		return
	}
	x := func(t timeline.Time) int {
		return strip.Min.X + int(float64(max(0, min(t, ps.Duration)))/float64(ps.Duration)*float64(strip.Dx()))
	}
	for i := range d.b.Parts {
		p := &d.b.Parts[i]
		box := image.Rect(x(p.From), strip.Min.Y, x(p.To)-s.Px(1), strip.Max.Y)
		if box.Empty() {
			continue
		}
		ink := render.InkSecondary
		if i == d.m.Part {
			s.Rect(box, render.InkBeat)
			ink = render.InkText
		}
		s.Frame(box, s.Px(1), render.InkBar)
		box.Min.X += s.Px(6)
		if box.Dx() > s.Px(30) {
			d.put(box, render.Left, d.letters(18, i == d.m.Part), ink, p.Name)
		}
	}
	ticks := d.rect(0, 138, 0, 148)
	for i := range d.b.Cues {
		c := &d.b.Cues[i]
		ink := render.InkSecondary
		if c.Command < d.m.At {
			ink = render.InkBar
		}
		at := x(c.Hit)
		s.Rect(image.Rect(at, ticks.Min.Y, at+s.Px(1), ticks.Max.Y), ink)
	}
	now := x(d.m.At)
	s.Rect(image.Rect(now, strip.Min.Y-s.Px(4), now+s.Px(3), ticks.Max.Y), render.InkPlayhead)
	d.text = strconv.AppendInt(d.text[:0], int64(len(d.b.Cues)), 10)
	d.text = strconv.AppendInt(append(d.text, " cues in this song, "...), int64(d.m.Coming), 10)
	d.text = append(d.text, " to come"...)
	d.bytes(d.rect(1080, 168, 1884, 196), render.Left, d.letters(18, false), render.InkSecondary)
}

// appendClock writes minutes and seconds.
func appendClock(b []byte, t timeline.Time) []byte {
	sec := int64(t / timeline.Second)
	b = append(strconv.AppendInt(b, sec/60, 10), ':')
	return append(b, byte('0'+sec%60/10), byte('0'+sec%10))
}

// countdown writes the time to a command: tenths under ten seconds, else seconds; a
// dash where no clock runs or the show is held. It reaches nought with the command
// and not before.
func (d *Drawer) countdown(b []byte, in timeline.Time) []byte {
	if !d.v.Running || d.m.Held {
		return append(b, "–"...)
	}
	in += timeline.Second/10 - 1
	if in < 10*timeline.Second {
		return in.AppendTenths(b)
	}
	if in += timeline.Second - timeline.Second/10; in >= 100*timeline.Second {
		return appendClock(b, in)
	}
	return strconv.AppendInt(b, int64(in/timeline.Second), 10)
}

// next is the card of the next cue.
func (d *Drawer) next() {
	s := d.s
	r := d.rect(24, 222, 1240, 540)
	d.card(r, true)
	s.Rect(image.Rect(r.Min.X, r.Min.Y, r.Min.X+d.rect(0, 0, 8, 0).Dx(), r.Max.Y), render.InkText)
	d.put(d.rect(56, 236, 300, 270), render.Left, d.letters(20, false), render.InkSecondary, "Next")
	if d.m.Next < 0 {
		d.put(d.rect(56, 280, 1200, 350), render.Left, d.letters(44, true), render.InkText, "No more cues in this song")
		return
	}
	c := &d.b.Cues[d.m.Next]
	name := d.rect(56, 270, 940, 344)
	glyph := name.Dy() * 3 / 4
	name.Max.X -= glyph + s.Px(12)
	end := d.put(name, render.Left, d.letters(60, true), render.InkText, c.Name)
	s.Glyph(d.th, image.Pt(end+s.Px(14), name.Min.Y+(name.Dy()-glyph)/2), glyph, lookOf(c))
	d.text = append(append(append(d.text[:0], c.Where...), " · "...), c.What...)
	d.text = appendOpen(append(d.text, " · "...), c)
	d.bytes(d.rect(56, 346, 940, 384), render.Left, d.letters(26, false), render.InkText)
	d.text = append(append(d.text[:0], "at "...), c.Bar...)
	d.text = append(append(d.text, "   command "...), c.Code...)
	d.bytes(d.rect(56, 386, 940, 424), render.Left, d.letters(26, false), render.InkText)
	d.text = d.countdown(d.text[:0], d.m.In)
	d.bytes(d.rect(950, 236, 1204, 356), render.Right, d.letters(124, true), render.InkText)
	unit := "seconds"
	if d.v.Running && !d.m.Held && d.m.In >= 100*timeline.Second {
		unit = "minutes"
	}
	d.put(d.rect(950, 362, 1204, 396), render.Right, d.letters(20, false), render.InkSecondary, unit)
	d.drain(c)
}

// appendOpen says how long a cue stays open.
func appendOpen(b []byte, c *calling.Cue) []byte {
	b = append(b, "open "...)
	return append((c.Open + timeline.Second/20).AppendTenths(b), " s"...)
}

// drain draws the bar that is empty at the command, with its beats.
func (d *Drawer) drain(c *calling.Cue) {
	s := d.s
	bar := d.rect(56, 450, 1192, 472)
	s.Frame(bar, s.Px(1), render.InkBar)
	if d.v.Running && !d.m.Held {
		end := bar.Min.X + int(d.m.Drain*float64(bar.Dx()))
		s.Rect(image.Rect(bar.Min.X, bar.Min.Y, end, bar.Max.Y), render.InkBar)
		s.Rect(image.Rect(max(end-s.Px(4), bar.Min.X), bar.Min.Y, end, bar.Max.Y), render.InkText)
	}
	words := "drains to the command"
	if beats := d.b.Song.Song.Beats; !beats.Empty() {
		p := beats.Locate(c.Command)
		from := beats.At(timeline.BarBeat{Bar: p.Bar - calling.DrainBars, Beat: p.Beat})
		for bar2 := p.Bar - calling.DrainBars; bar2 <= p.Bar; bar2++ {
			n := int(beats.MetreAt(bar2).Num)
			for beat := range n {
				t := beats.At(timeline.BarBeat{Bar: bar2, Beat: timeline.NewRat(int64(beat), 1)})
				if t < from || t > c.Command || c.Command <= from {
					continue
				}
				x := bar.Min.X + int(float64(c.Command-t)/float64(c.Command-from)*float64(bar.Dx()))
				low := bar.Min.Y
				if beat == 0 {
					low -= s.Px(6)
				}
				s.Rect(image.Rect(x, low, x+s.Px(1), bar.Max.Y), render.InkEdge)
			}
		}
		d.put(d.rect(900, 484, 1192, 516), render.Right, d.letters(18, false), render.InkSecondary, "two bars")
	}
	d.text = append(append(d.text[:0], words...), "; its lead is "...)
	d.text = append((c.Lead + timeline.Second/20).AppendTenths(d.text), " s more"...)
	d.bytes(d.rect(56, 484, 890, 516), render.Left, d.letters(18, false), render.InkSecondary)
}

// lookOf is the sign of a cue.
func lookOf(c *calling.Cue) render.Look {
	return render.Look{Glyph: render.GlyphOf(c.Family), Ink: render.InkOf(c.Family.Class()), Hollow: true}
}

// place shows where the next cue is, as it will stand, and what is open now.
func (d *Drawer) place() {
	r := d.rect(1256, 222, 1896, 540)
	d.card(r, false)
	d.put(d.rect(1276, 236, 1400, 270), render.Left, d.letters(20, false), render.InkSecondary, "Where")
	d.text = append(d.text[:0], "open now: "...)
	switch n := len(d.m.Open); n {
	case 0:
		d.text = append(d.text, "nothing, as planned"...)
	case 1:
		d.text = append(d.text, d.b.Cues[d.m.Open[0]].Name...)
	default:
		d.text = append(strconv.AppendInt(d.text, int64(n), 10), " cues"...)
	}
	d.bytes(d.rect(1410, 236, 1880, 270), render.Right, d.letters(18, false), render.InkText)
	if d.v.Stage == nil || d.m.Next < 0 {
		return
	}
	c := &d.b.Cues[d.m.Next]
	d.shown = front.View{Stage: d.v.Stage, Area: d.rect(1264, 274, 1888, 506), At: c.Hit, Cue: c.ID, Bare: true, Still: true}
	d.shown.Hide.Zones = true
	d.where.Draw(d.s, d.th, &d.shown)
	d.put(d.rect(1276, 508, 1880, 536), render.Left, d.letters(16, false), render.InkSecondary, front.Caption)
}

// rows lists what comes after the next cue.
func (d *Drawer) rows() {
	s := d.s
	d.put(d.rect(36, 556, 600, 596), render.Left, d.letters(20, false), render.InkSecondary, "After that")
	all := d.rect(24, 600, 1240, 908)
	s.PushClip(all)
	high := all.Dy() / calling.Listed
	off := 0
	if n := d.m.Next; n > 0 && d.v.Running && !d.v.Still {
		if gone := d.m.At - d.b.Cues[n-1].Command; gone >= 0 && gone < Slide {
			off = int(float64(high) * (1 - float64(gone)/float64(Slide)))
		}
	}
	for i, n := range d.m.After {
		box := image.Rect(all.Min.X, all.Min.Y+i*high+off, all.Max.X, all.Min.Y+(i+1)*high+off)
		if i%2 == 0 {
			s.Rect(box, render.InkPanel)
		}
		d.row(box, &d.b.Cues[n])
	}
	s.PopClip()
	if len(d.m.After) == 0 {
		d.put(d.rect(36, 610, 1200, 650), render.Left, d.letters(22, false), render.InkFaint, "nothing")
	}
}

// row draws one cue of the list.
func (d *Drawer) row(box image.Rectangle, c *calling.Cue) {
	s := d.s
	col := func(x0, x1 int) image.Rectangle {
		r := d.rect(x0, 0, x1, 0)
		return image.Rect(r.Min.X, box.Min.Y, r.Max.X, box.Max.Y)
	}
	d.text = d.countdown(d.text[:0], c.Command-d.m.At)
	if d.v.Running && !d.m.Held && c.Command-d.m.At < 100*timeline.Second {
		d.text = append(d.text, " s"...)
	}
	d.bytes(col(30, 145), render.Right, d.letters(26, true), render.InkText)
	d.put(col(165, 255), render.Left, d.letters(22, false), render.InkSecondary, c.Bar)
	glyph := min(box.Dy()*3/5, d.rect(0, 0, 40, 0).Dx())
	s.Glyph(d.th, image.Pt(col(262, 300).Min.X, box.Min.Y+(box.Dy()-glyph)/2), glyph, lookOf(c))
	d.put(col(315, 640), render.Left, d.letters(26, true), render.InkText, c.Name)
	d.put(col(655, 900), render.Left, d.letters(20, false), render.InkText, c.Where)
	d.text = appendOpen(d.text[:0], c)
	d.bytes(col(905, 1020), render.Left, d.letters(20, false), render.InkText)
	d.put(col(1030, 1225), render.Right, d.letters(18, false), render.InkSecondary, c.Needs)
}
