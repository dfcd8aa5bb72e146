package song

import (
	"image"
	"strconv"

	"emberbeat/render"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// Logical places in the row of counters and buttons.
const (
	counterLeft   = 12
	barLeft       = 196
	buttonsLeft   = 322
	buttonsTop    = 5
	buttonsHeight = 30
	wordsTop      = 36 // of the line below the counters
)

// transport draws the buttons of the transport row; its counters are drawn with what moves.
func (sp *Page) transport(r image.Rectangle) {
	u := sp.h.UI()
	s := u.Scene()
	play := widget.BarItem{ID: "play", Sign: "▶", Label: "Play", Wide: "Pause", Main: true, Keep: true}
	if sp.player.Playing() {
		play.Sign, play.Label = "❚❚", "Pause"
	}
	items := []widget.BarItem{play, {ID: "stop", Sign: "■", Label: "Stop"}, {ID: "loop", Sign: "↻", Label: "Loop"}, {ID: "click", Sign: "♩", Label: "Click"},
		{ID: "half-speed", Sign: "½", Label: "Half speed"}, {ID: "follow", Sign: "→", Label: "Follow"}, {ID: "snap-menu", Sign: "S", Label: "Snap"}}
	if !sp.toolsFit() {
		items = append(items, sp.tools()...)
	}
	for i := range items {
		it := &items[i]
		it.Off, it.Tip, it.Keys = sp.h.Off(it.ID), sp.h.Help(it.ID), sp.h.Key(it.ID)
		it.On = it.ID != "play" && sp.IsOn(it.ID)
	}
	room := image.Rect(r.Min.X+s.Px(buttonsLeft), r.Min.Y+s.Px(buttonsTop), sp.drawn.Counts.Min.X-s.Px(4), r.Min.Y+s.Px(buttonsTop+buttonsHeight))
	if id, ok := u.Bar("transport", room, items); ok {
		sp.h.Use(id)
	}
	sp.h.Menu("snap-menu", snapMenu...)
}

// Logical place of the tools left of the waveform.
const (
	toolsTop    = 22
	toolsHeight = 26
)

// toolsFit reports whether there is room for the tools left of the waveform; without it they stand in the row of buttons.
func (sp *Page) toolsFit() bool {
	return sp.drawn.Wave.Dy() >= sp.h.UI().Px(toolsTop+toolsHeight+2)
}

// tools are what zooms, and what else there is for the beats.
func (sp *Page) tools() []widget.BarItem {
	items := []widget.BarItem{{ID: "beat-strip", Label: "Beat strip", Sign: "♩"}, {ID: "zoom-out", Label: "Zoom out", Sign: "−"}, {ID: "zoom-in", Label: "Zoom in", Sign: "+"},
		{ID: "zoom-song", Label: "Fit the song", Sign: "Fit"}}
	for i := range items {
		it := &items[i]
		it.Off, it.Tip, it.On = sp.h.Off(it.ID), sp.h.Help(it.ID), sp.IsOn(it.ID)
	}
	return items
}

// soundTools draws the tools left of the waveform; the strip of beats has its own there.
func (sp *Page) soundTools(l *render.SongLayout) {
	u := sp.h.UI()
	s := u.Scene()
	if !sp.toolsFit() || sp.beats.Open() {
		return
	}
	items := sp.tools()
	room := image.Rect(l.Wave.Min.X+s.Px(counterLeft), l.Wave.Min.Y+s.Px(toolsTop), l.Left-s.Px(8), l.Wave.Min.Y+s.Px(toolsTop+toolsHeight))
	if id, ok := u.Bar("sound-tools", room, items); ok {
		sp.h.Use(id)
	}
}

// counters draws timecode and bar at a time, and below them which section it lies in.
func (sp *Page) counters(s *render.Scene, at timeline.Time) {
	r := sp.drawn.Transport
	if r.Empty() {
		return
	}
	p := sp.work().Data.Plan
	x := r.Min.X + s.Px(counterLeft)
	top, low := r.Min.Y+s.Px(2), r.Min.Y+s.Px(wordsTop)
	text := sp.text[:0]
	words := "from the start"
	if p.Rate == timeline.RateUnset || p.StartErr != nil {
		text = append(text, at.Clock(2)...)
	} else {
		words = "timecode"
		if frame := p.FrameAt(at); frame != sp.frame || sp.label == "" || p.Rate != sp.rate {
			sp.frame, sp.label, sp.rate = frame, p.Rate.Label(frame), p.Rate
		}
		text = append(text, sp.label...)
	}
	s.TextBytes(image.Pt(x, top), render.TypeCounter, render.InkText, text)
	if sp.counting() {
		words = "counting in"
	}
	s.Text(image.Pt(x, low), render.TypeSmall, render.InkFaint, words)
	beats := sp.beats.Beats()
	x = r.Min.X + s.Px(barLeft)
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
	sp.text = sp.section(s, at, image.Rect(x, low, r.Min.X+s.Px(buttonsLeft-8), low+s.Px(16)), text[:0])
}

// section says in a box which section a time lies in, and which of its bars that is.
func (sp *Page) section(s *render.Scene, at timeline.Time, box image.Rectangle, text []byte) []byte {
	name, of, ok := sp.work().Data.SectionAt(at)
	beats := sp.beats.Beats()
	if !ok || beats.Empty() {
		s.Text(box.Min, render.TypeSmall, render.InkFaint, "bar.beat")
		return text
	}
	first, last := beats.Locate(of.From).Bar, beats.Locate(of.To-timeline.EntryStep).Bar
	text = append(append(text, name...), ", "...)
	from := len(text)
	text = append(text, "bar "...)
	text = strconv.AppendInt(text, int64(beats.Locate(at).Bar-first+1), 10)
	text = append(text, " of "...)
	text = strconv.AppendInt(text, int64(last-first+1), 10)
	if !s.BytesIn(box, render.Left, render.TypeSmall, render.InkSecondary, text) {
		s.BytesIn(box, render.Left, render.TypeSmall, render.InkSecondary, text[from:])
	}
	return text
}
