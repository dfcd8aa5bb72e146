package causes

import (
	"image"
	"strconv"

	"emberbeat/render"
)

// Card is one cause.
type Card struct {
	Severity           render.Severity
	Title, Text, Cause string    // what is wrong; how often and where; what it rests on
	Songs              []float64 // where songs of the set begin, from 0 to 1
	Marks              []float64 // where it was found
	Opens              bool      // it has lines, which Open shows
	Open               bool
	Chosen             bool // the cursor stands on its head
	Faint              bool // all of it was accepted
	Button             bool // there is room to be left for one
	Slim               bool // without Cause, Note and the set
	Note               string
	Lines              []Line
	More               int // lines that are not shown
}

// Line is one place.
type Line struct {
	Song, Where, Text string
	Tick              Tick
	Chosen, Faint     bool
}

// Tick says whether a line is part of what the card's button does.
type Tick uint8

// The states of a tick.
const (
	NoTick Tick = iota // there is nothing to do about it by itself
	Ticked
	Left // out
)

// Box is where a card stands.
type Box struct {
	All, Head  image.Rectangle
	Button     image.Rectangle // empty where there is none
	Lines      []image.Rectangle
	Ticks      []image.Rectangle // of the lines, empty where there is none
	Foot       image.Rectangle   // below the lines, for what can be done about them; empty while closed
	text, note image.Rectangle
	strip      image.Rectangle
}

// The things of a card that a pointer can find: the id is the place of the card, for lines and ticks with that of the line: "3 12".
const (
	HitCard render.HitKind = "cause"
	HitLine render.HitKind = "found"
	HitTick render.HitKind = "found tick"
)

// Logical measures.
const (
	headHigh  = 76
	slimHigh  = 54
	lineHigh  = 26
	footHigh  = 40
	between   = 8
	pad       = 10
	badgeWide = 46 // with the arrow that says that a card opens
	buttonMax = 232
	stripWide = 300
	stripFrom = 900 // a narrower card goes without
	stripHigh = 14
	tickSize  = 18
)

// Place gives where cards stand below each other in an area, the first at its top, and how high they are together; the area's own height bounds nothing.
func Place(scale render.Scale, area image.Rectangle, cards []Card) (list []Box, high int) {
	px := scale.Px
	y := area.Min.Y
	for i := range cards {
		c := &cards[i]
		tall, button := headHigh, 32
		if c.Slim {
			tall, button = slimHigh, 28
		}
		b := Box{Head: image.Rect(area.Min.X, y, area.Max.X, y+px(tall))}
		end := b.Head.Max.Y
		in := image.Rect(b.Head.Min.X+px(pad), b.Head.Min.Y+px(pad), b.Head.Max.X-px(pad), b.Head.Max.Y-px(pad))
		if c.Button {
			wide := min(px(buttonMax), in.Dx()*2/5)
			b.Button = image.Rect(in.Max.X-wide, in.Min.Y, in.Max.X, in.Min.Y+px(button))
			b.note = image.Rect(b.Button.Min.X, b.Button.Max.Y+px(2), in.Max.X, in.Max.Y)
			in.Max.X = b.Button.Min.X - px(pad)
		}
		if area.Dx() >= px(stripFrom) && !c.Slim {
			b.strip = image.Rect(in.Max.X-px(stripWide), in.Min.Y+px(4), in.Max.X, in.Min.Y+px(4+stripHigh))
			in.Max.X = b.strip.Min.X - px(pad)
		}
		b.text = image.Rect(in.Min.X+px(badgeWide), in.Min.Y, in.Max.X, in.Max.Y)
		if c.Open {
			end += px(4)
			for k := range c.Lines {
				line := image.Rect(area.Min.X+px(pad), end, area.Max.X-px(pad), end+px(lineHigh))
				tick := image.Rectangle{}
				if c.Lines[k].Tick != NoTick {
					mid := (line.Min.Y + line.Max.Y) / 2
					tick = image.Rect(line.Min.X+px(8), mid-px(tickSize)/2, line.Min.X+px(8+tickSize), mid-px(tickSize)/2+px(tickSize))
				}
				b.Lines, b.Ticks = append(b.Lines, line), append(b.Ticks, tick)
				end = line.Max.Y
			}
			b.Foot = image.Rect(area.Min.X+px(pad), end+px(4), area.Max.X-px(pad), end+px(footHigh-4))
			end += px(footHigh)
		}
		b.All = image.Rect(area.Min.X, y, area.Max.X, end)
		list = append(list, b)
		y = end + px(between)
	}
	return list, max(y-px(between)-area.Min.Y, 0)
}

// Draw adds the cards that are in sight, at the places that Place gave them.
func Draw(s *render.Scene, cards []Card, boxes []Box) {
	for i := range cards {
		if boxes[i].All.Overlaps(s.Clip()) {
			draw(s, &cards[i], &boxes[i], strconv.Itoa(i))
		}
	}
}

func draw(s *render.Scene, c *Card, b *Box, id string) {
	ground, edge, width := render.InkPanel, render.InkBar, s.Px(1)
	begun := len(s.Shapes)
	if c.Open {
		ground = render.InkRaised
	}
	if c.Chosen {
		edge, width = render.InkFocus, s.Px(2)
	}
	s.Rect(b.All, ground)
	s.Frame(b.All, width, edge)
	s.Hit(HitCard, id, b.Head)
	s.Badge(image.Pt(b.Head.Min.X+s.Px(pad), b.text.Min.Y), c.Severity)
	if c.Opens {
		arrow(s, image.Pt(b.Head.Min.X+s.Px(pad+render.BadgeSize+12), b.text.Min.Y+s.Px(8)), c.Open)
	}
	ink := render.InkText
	if c.Faint {
		ink = render.InkSecondary
	}
	row := image.Rect(b.text.Min.X, b.text.Min.Y-s.Px(2), b.text.Max.X, b.text.Min.Y+s.Px(18))
	s.TextCut(row, render.TypeStrong, ink, c.Title)
	row = row.Add(image.Pt(0, s.Px(20)))
	s.TextCut(row, render.TypeLabel, render.InkSecondary, c.Text)
	if row = row.Add(image.Pt(0, s.Px(19))); !c.Slim {
		s.TextCut(row, render.TypeSmall, render.InkSecondary, c.Cause)
	}
	if c.Note != "" && c.Button && !c.Slim {
		s.TextCut(b.note, render.TypeSmall, render.InkSecondary, c.Note)
	}
	if !b.strip.Empty() {
		strip(s, c, b.strip)
	}
	if c.Open {
		y := b.Head.Max.Y
		s.Rect(image.Rect(b.All.Min.X+s.Px(pad), y, b.All.Max.X-s.Px(pad), y+s.Px(1)), render.InkBar)
		for k := range c.Lines {
			line(s, &c.Lines[k], b.Lines[k], b.Ticks[k], id+" "+strconv.Itoa(k))
		}
		s.OnRaised(begun)
	}
}

// arrow says whether a card is open.
func arrow(s *render.Scene, at image.Point, open bool) {
	x, y, p := float32(at.X), float32(at.Y), s.Scale.Pxf(4)
	points := [...]render.Point{{X: x - p/2, Y: y - p}, {X: x + p/2, Y: y}, {X: x - p/2, Y: y + p}}
	if open {
		points = [...]render.Point{{X: x - p, Y: y - p/2}, {X: x, Y: y + p/2}, {X: x + p, Y: y - p/2}}
	}
	s.Line(s.Scale.Pxf(1.5), render.InkText, 255, points[:]...)
}

// strip draws the set with the places in it.
func strip(s *render.Scene, c *Card, r image.Rectangle) {
	x := func(part float64) int { return r.Min.X + int(part*float64(r.Dx())) }
	for i, from := range c.Songs {
		to := 1.0
		if i+1 < len(c.Songs) {
			to = c.Songs[i+1]
		}
		if box := image.Rect(x(from), r.Min.Y, x(to)-s.Px(2), r.Max.Y); !box.Empty() {
			s.Rect(box, render.InkBeat)
		}
	}
	for _, m := range c.Marks {
		at := min(x(m), r.Max.X-s.Px(3))
		s.Rect(image.Rect(at, r.Min.Y-s.Px(2), at+s.Px(3), r.Max.Y+s.Px(2)), render.InkText)
	}
	words := "where in the set"
	if len(c.Marks) == 0 {
		words = "at no time of a song"
	}
	s.TextCut(image.Rect(r.Min.X, r.Max.Y+s.Px(6), r.Max.X, r.Max.Y+s.Px(24)), render.TypeSmall, render.InkSecondary, words)
}

// line draws one place.
func line(s *render.Scene, l *Line, r, tick image.Rectangle, id string) {
	s.Hit(HitLine, id, r)
	if l.Chosen {
		s.Rect(r, render.InkLane)
		s.Frame(r, s.Px(2), render.InkFocus)
	}
	if !tick.Empty() {
		s.Rect(tick, render.InkLane)
		s.Frame(tick, s.Px(1), render.InkEdge)
		if l.Tick == Ticked {
			w, h := float32(tick.Dx()), float32(tick.Dy())
			at := func(x, y float32) render.Point {
				return render.Point{X: float32(tick.Min.X) + x*w, Y: float32(tick.Min.Y) + y*h}
			}
			s.Line(s.Scale.Pxf(2), render.InkText, 255, at(0.22, 0.52), at(0.42, 0.72), at(0.78, 0.28))
		}
		s.Hit(HitTick, id, tick)
	}
	ink := render.InkText
	if l.Faint {
		ink = render.InkSecondary
	}
	in := image.Rect(r.Min.X+s.Px(8+tickSize+10), r.Min.Y, r.Max.X-s.Px(8), r.Max.Y)
	song, where := in.Dx()*18/100, in.Dx()*22/100
	s.TextCut(image.Rect(in.Min.X, in.Min.Y, in.Min.X+song-s.Px(8), in.Max.Y), render.TypeLabel, ink, l.Song)
	s.TextCut(image.Rect(in.Min.X+song, in.Min.Y, in.Min.X+song+where-s.Px(8), in.Max.Y), render.TypeLabel, render.InkSecondary, l.Where)
	s.TextCut(image.Rect(in.Min.X+song+where, in.Min.Y, in.Max.X, in.Max.Y), render.TypeLabel, ink, l.Text)
}
