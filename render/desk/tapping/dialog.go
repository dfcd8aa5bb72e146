package tapping

import (
	"image"
	"strconv"

	"emberbeat/render"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// Host is what the dialog needs of who plays.
type Host interface {
	UI() *widget.UI
	// Tick plays from its beginning a row of ticks, one each Beat, or the same without a sound; Silence ends it.
	Tick(heard bool)
	Silence()
	// Ticking gives the instant of the row that leaves the device now, whatever output delay is set; false where none plays.
	Ticking() (timeline.Time, bool)
	// Mute says why nothing is heard, "" where it is.
	Mute() string
	// Set gives what is set, in ms, and the most that can be; Keep sets it, with the spread of the taps.
	Set() (delay, lead, mostDelay, mostLead int)
	Keep(delay, lead, spread int)
}

// Dialog measures while it stands open.
type Dialog struct {
	h    Host
	pass pass // that goes on
	taps [3][]timeline.Time
}

// pass is a row of ticks that is tapped along with.
type pass int

const (
	none pass = iota
	byEar
	byEye
)

// New gives a dialog in which nothing is measured yet.
func New(h Host) *Dialog { return &Dialog{h: h} }

// Moves reports whether something in it moves.
func (d *Dialog) Moves() bool { return d.pass == byEye }

// begin begins a row, or ends it where it goes on.
func (d *Dialog) begin(p pass) {
	d.h.Silence()
	if d.pass == p {
		d.pass = none
		return
	}
	d.pass, d.taps[p] = p, nil
	d.h.Tick(p == byEar)
}

// tap takes a tap at this moment.
func (d *Dialog) tap() {
	if at, ok := d.h.Ticking(); ok && d.pass != none {
		d.taps[d.pass] = append(d.taps[d.pass], Offset(at))
	}
}

// Draw shows it and reports whether it has been left.
func (d *Dialog) Draw() (left bool) {
	u := d.h.UI()
	if _, ok := d.h.Ticking(); !ok {
		d.pass = none // the row has ended
	}
	b := u.BeginDialog("tapping", "Measure output delay and tap lead", 620, 470)
	k := u.Stack(b.Body, 8)
	line := func(t render.Type, ink render.Ink, text string) { u.Label(k.Top(18), t, ink, text) }
	line(render.TypeLabel, render.InkText, "By ear: tap Space along with the ticks, as you tap cues in.")
	line(render.TypeLabel, render.InkText, "By eye, without a sound: tap Space as the mark passes the line. It tells delay and lead apart.")
	row := u.Stack(k.Top(32), 8)
	why := ""
	if d.pass == byEar && d.h.Mute() != "" {
		why = d.h.Mute() + ": nothing can be measured by ear"
		d.begin(byEar)
	}
	for _, p := range []struct {
		pass pass
		name string
	}{{byEar, "By ear"}, {byEye, "By eye"}} {
		label := p.name
		if d.pass == p.pass {
			label = "End " + p.name
		}
		if u.OnButton(p.name, row.Left(u.ButtonWidth("End By ear")+8), label, d.pass == p.pass) {
			d.begin(p.pass)
		}
	}
	if u.Off(offUnless(d.pass != none)).Button("tap", row.Left(u.ButtonWidth("Tap  Space")+24), "Tap  Space") || d.pass != none && u.Take(widget.KeySpace, 0) {
		d.tap()
	}
	d.scale(k.Top(96))
	ear, errEar := Measure(d.taps[byEar])
	eye, errEye := Measure(d.taps[byEye])
	line(render.TypeLabel, render.InkText, "By ear: "+said(ear, errEar))
	line(render.TypeLabel, render.InkText, "By eye: "+said(eye, errEye))
	delay, lead, mostDelay, mostLead := d.h.Set()
	line(render.TypeSmall, render.InkSecondary, "Set now: output delay "+ms(delay)+", tap lead "+ms(lead))
	keep := ""
	if errEar != nil {
		keep = "tap along by ear first"
	} else {
		of := &eye
		if errEye != nil {
			of = nil
		}
		newDelay, newLead, err := Split(ear, of, delay, mostDelay, mostLead)
		if err != nil {
			keep = err.Error()
		} else {
			delay, lead = newDelay, newLead
		}
		line(render.TypeSmall, render.InkSecondary, "Measured: output delay "+ms(delay)+", tap lead "+ms(lead)+map[bool]string{true: "; the delay is as set, since nothing was tapped by eye"}[of == nil])
	}
	if why != "" || keep != "" && errEar == nil {
		line(render.TypeSmall, render.InkText, why+keep)
	}
	foot := u.Stack(k.Rest(), 2)
	u.Label(foot.Bottom(16), render.TypeSmall, render.InkFaint, "with none was this tried. Measure with those you work with.")
	u.Label(foot.Bottom(16), render.TypeSmall, render.InkFaint, "Headphones add a delay of their own, those without a wire most of all:")
	choice := b.Buttons(widget.Choice{Label: "Close"}, widget.Choice{Label: "Keep", Main: true, Off: keep})
	b.End()
	if choice == 1 {
		d.h.Keep(delay, lead, Whole(ear.Spread))
	}
	if choice >= 0 || b.Closed {
		d.h.Silence()
		return true
	}
	return false
}

// said tells what was measured, or what is missing.
func said(m Measured, err error) string {
	if err != nil {
		return err.Error()
	}
	return m.String()
}

func ms(n int) string { return strconv.Itoa(n) + " ms" }

func offUnless(on bool) string {
	if on {
		return ""
	}
	return "begin by ear or by eye"
}

// scale draws the taps of the row that goes on, or of the one by ear, over the time from before a tick to after it; by eye a mark goes from end
// to end, which passes the line as a tick would sound. Nothing flashes.
func (d *Dialog) scale(r image.Rectangle) {
	u := d.h.UI()
	s := u.Scene()
	s.Rect(r, render.InkLane)
	in := r.Inset(s.Px(8))
	x := func(off timeline.Time) int {
		return in.Min.X + int(float64(off-earliest)/float64(Beat)*float64(in.Dx()))
	}
	s.Rect(image.Rect(x(0)-s.Px(1), in.Min.Y, x(0)+s.Px(1), in.Max.Y), render.InkFocus)
	p := d.pass
	if p == none {
		p = byEar
	}
	for i, off := range d.taps[p] {
		y := in.Min.Y + s.Px(4) + i%12*(in.Dy()-s.Px(12))/12
		ink := render.InkText
		if i < finding {
			ink = render.InkFaint
		}
		s.Rect(image.Rect(x(off)-s.Px(2), y, x(off)+s.Px(2), y+s.Px(4)), ink)
	}
	if at, ok := d.h.Ticking(); ok && d.pass == byEye {
		m := x(Offset(at))
		s.Rect(image.Rect(m-s.Px(3), in.Max.Y-s.Px(24), m+s.Px(3), in.Max.Y), render.InkPlayhead)
	}
}
