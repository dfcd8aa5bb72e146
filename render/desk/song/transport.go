package song

import (
	"image"
	"strconv"

	"emberbeat/render"
	"emberbeat/timeline"
)

// Logical places of the counters in the transport row.
const (
	counterLeft = 14
	timecodeRun = 210
	barRun      = 150
)

// transport draws the buttons of the transport row; its counters are drawn with what moves.
func (sp *Page) transport(r image.Rectangle) {
	u := sp.h.UI()
	k := u.Stack(r, 6)
	k.Left(counterLeft + timecodeRun + barRun)
	row := k.Rest()
	row.Min.Y, row.Max.Y = row.Min.Y+u.Px(14), row.Max.Y-u.Px(14)
	k = u.Stack(row, 6)
	for _, b := range []struct{ id, on, off string }{
		{"play", "Pause", "Play"}, {"stop", "Stop", "Stop"}, {"loop", "Loop on", "Loop"}, {"click", "Click on", "Click"},
		{"half-speed", "Half speed on", "Half speed"}, {"follow", "Follow on", "Follow"},
	} {
		label := b.off
		if b.id == "play" && sp.player.Playing() || b.id != "play" && sp.IsOn(b.id) {
			label = b.on
		}
		w := max(u.ButtonWidth(b.on), u.ButtonWidth(b.off))
		if k.Rest().Dx() < u.Px(w+8) {
			break
		}
		used := false
		if b.id == "play" {
			used = u.Off(sp.h.Off(b.id)).MainButton(b.id, k.Left(w), label)
		} else {
			used = u.Off(sp.h.Off(b.id)).Button(b.id, k.Left(w), label)
		}
		sp.h.Tip(b.id)
		if used {
			sp.h.Use(b.id)
		}
	}
}

// counters draws timecode and bar at a time.
func (sp *Page) counters(s *render.Scene, at timeline.Time) {
	r := sp.drawn.Transport
	if r.Empty() {
		return
	}
	p := sp.work().Data.Plan
	x := r.Min.X + s.Px(counterLeft)
	top := r.Min.Y + s.Px(6)
	text := sp.text[:0]
	if p.Rate == timeline.RateUnset || p.StartErr != nil {
		text = append(text, at.Clock(2)...)
	} else {
		if frame := p.FrameAt(at); frame != sp.frame || sp.label == "" || p.Rate != sp.rate {
			sp.frame, sp.label, sp.rate = frame, p.Rate.Label(frame), p.Rate
		}
		text = append(text, sp.label...)
	}
	s.TextBytes(image.Pt(x, top), render.TypeCounter, render.InkText, text)
	beats := sp.beats.Beats()
	x += s.Px(timecodeRun)
	text = text[:0]
	if beats.Empty() {
		text = append(text, "no bars"...)
	} else {
		b := beats.Locate(at)
		text = strconv.AppendInt(text, int64(b.Bar), 10)
		text = append(text, '.')
		text = strconv.AppendInt(text, b.Beat.Floor()+1, 10)
	}
	s.TextBytes(image.Pt(x, top), render.TypeCounter, render.InkText, text)
	sp.text = text
	low := top + s.Px(33)
	s.Text(image.Pt(r.Min.X+s.Px(counterLeft), low), render.TypeSmall, render.InkFaint, "timecode")
	s.Text(image.Pt(x, low), render.TypeSmall, render.InkFaint, "bar.beat")
}
