package render

import (
	"image"
	"math"
)

// What stands on the head of a lane; the id is the lane's.
const (
	HitLaneArm  HitKind = "lane-arm"  // taps go there
	HitLaneHide HitKind = "lane-hide" // left out of the stage
	HitLaneOnly HitKind = "lane-only" // alone in the stage
	HitLaneLock HitKind = "lane-lock"
)

// Logical measures of a lane's head.
const (
	headGlyph   = 10 // left of the glyph
	headName    = 32 // left of the words
	headSwitch  = 24 // width of a switch
	headRight   = 102
	secondLine  = 36 // least height of a lane with two lines of words
	switchSigns = 16 // size of a sign
)

// Previewed reports whether the stage shows a lane: of lanes that are shown alone these, else all but those that are hidden.
func Previewed[ID comparable](hidden, only map[ID]bool, lane ID) bool {
	for _, on := range only {
		if on {
			return only[lane]
		}
	}
	return !hidden[lane]
}

// laneHead draws a lane's name with the look of its article, where it stands or what is special about it now, and its switches, or where there are
// none how many cues it has.
func (p *SongDrawer) laneHead(lane *LaneData, id string, n int, row image.Rectangle) {
	s := p.s
	p.rule(row, InkBeat)
	s.Ground(HitLaneHead, id, row)
	begun := len(s.Shapes)
	if id != "" && id == string(p.v.Focus) {
		s.Rect(image.Rect(row.Min.X, row.Min.Y, row.Max.X, row.Max.Y-p.px(1)), InkRaised)
		s.Rect(image.Rect(row.Min.X, row.Min.Y, row.Min.X+p.px(3), row.Max.Y), InkFocus)
	}
	h := min(p.px(14), row.Dy()-p.px(4))
	at := image.Pt(row.Min.X+p.px(headGlyph), row.Min.Y+(row.Dy()-h)/2)
	if !lane.Plain {
		s.Glyph(p.th, at, h, lane.Look)
	} else if lane.Lane != nil {
		s.Frame(image.Rect(at.X, at.Y+p.px(2), at.X+h, at.Y+h-p.px(2)), p.px(2), InkSecondary)
	}
	words := image.Rect(row.Min.X+p.px(headName), row.Min.Y, row.Max.X-p.px(8), row.Max.Y)
	if lane.Lane != nil && p.v.Fit && row.Dx() >= p.px(gutterWidth) {
		p.switches(lane, id, n, row)
		words.Max.X = row.Max.X - p.px(headRight+4)
	} else {
		p.text = append(p.text[:0], p.id(len(lane.Cues))...)
		w := s.Face(TypeSmall).MeasureBytes(p.text)
		s.BytesIn(words, Right, TypeSmall, InkFaint, p.text)
		words.Max.X -= w + p.px(8)
	}
	p.laneWords(lane, words)
	if id != "" && id == string(p.v.Focus) {
		s.OnRaised(begun)
	}
}

// laneWords sets the name and, where the lane is high enough, a second line.
func (p *SongDrawer) laneWords(lane *LaneData, box image.Rectangle) {
	ink := InkText
	if p.hidden(lane) {
		ink = InkFaint
	}
	if second := p.laneState(lane); second != "" && box.Dy() >= p.px(secondLine) {
		mid := (box.Min.Y+box.Max.Y)/2 + p.px(1)
		ink2 := InkFaint
		if second != lane.Where {
			ink2 = InkText
		}
		p.s.TextCut(image.Rect(box.Min.X, mid, box.Max.X, mid+p.px(16)), TypeSmall, ink2, second)
		box = image.Rect(box.Min.X, mid-p.px(18), box.Max.X, mid)
	}
	p.s.TextCut(box, TypeLabel, ink, lane.Name)
}

// laneState says what is special about a lane now, else where its effects stand.
func (p *SongDrawer) laneState(lane *LaneData) string {
	switch {
	case lane.Lane == nil:
		return lane.Where
	case p.hidden(lane):
		return "hidden in stage"
	case p.v.Only[lane.Lane.ID]:
		return "only this in stage"
	case lane.Lane.Locked:
		return "locked"
	}
	return lane.Where
}

// hidden reports whether the stage leaves a lane out.
func (p *SongDrawer) hidden(lane *LaneData) bool {
	return lane.Lane != nil && !Previewed(p.v.Hidden, p.v.Only, lane.Lane.ID)
}

// switches draws the four switches of a lane: taps, hidden, alone, locked. n is its number from 1.
func (p *SongDrawer) switches(lane *LaneData, id string, n int, row image.Rectangle) {
	l := lane.Lane.ID
	armed := p.v.Armed == l || p.v.Armed == "" && p.v.Focus == l
	for i, kind := range [...]HitKind{HitLaneArm, HitLaneHide, HitLaneOnly, HitLaneLock} {
		x := row.Max.X - p.px(headRight) + i*p.px(headSwitch)
		box := image.Rect(x, row.Min.Y, x+p.px(headSwitch), row.Max.Y)
		p.s.Hit(kind, id, box)
		size := min(p.px(switchSigns), row.Dy()-p.px(6))
		sign := image.Rect(0, 0, size, size).Add(image.Pt(x+(box.Dx()-size)/2, row.Min.Y+(row.Dy()-size)/2))
		switch kind {
		case HitLaneArm:
			p.armSign(sign, n, armed)
		case HitLaneHide:
			on := p.v.Hidden[l]
			p.switchBox(sign, on)
			p.eye(sign, on)
		case HitLaneOnly:
			on := p.v.Only[l]
			p.switchBox(sign, on)
			p.ringDot(sign, switchInk(on))
		case HitLaneLock:
			on := lane.Lane.Locked
			p.switchBox(sign, on)
			p.padlock(sign, on)
		}
	}
}

// switchBox draws the ground of a switch that is on.
func (p *SongDrawer) switchBox(sign image.Rectangle, on bool) {
	if !on {
		return
	}
	box := sign.Inset(-p.px(2))
	if p.th.BarHolds() {
		p.s.Rect(box, InkBar)
		return
	}
	p.s.Frame(box, p.px(2), InkText)
}

func switchInk(on bool) Ink {
	if on {
		return InkText
	}
	return InkSecondary
}

// armSign draws a key cap with the number that taps into the lane; only lanes 1 to 9 have a key.
func (p *SongDrawer) armSign(sign image.Rectangle, n int, on bool) {
	ink := InkSecondary
	if on {
		p.s.Rect(sign, InkFocus)
		ink = InkLane
	} else {
		p.s.Frame(sign, p.px(1), InkEdge)
	}
	if n <= 9 {
		p.s.TextIn(sign, Middle, TypeMark, ink, p.id(n))
	} else if on {
		p.s.TextIn(sign, Middle, TypeMark, ink, "T")
	}
}

// Signs are drawn through points in a square of one.
var (
	eyeLid  = append(arc(0.5, 0.86, 0.6, 222, 318, 10), arc(0.5, 0.14, 0.6, 42, 138, 10)...)
	eyeDot  = arc(0.5, 0.5, 0.15, 0, 340, 17)
	ringOut = arc(0.5, 0.5, 0.42, 0, 360, 20)
	ringDot = arc(0.5, 0.5, 0.16, 0, 340, 17)
	shackle = append(append([]Point{{0.28, 0.5}}, arc(0.5, 0.3, 0.22, 180, 360, 10)...), Point{0.72, 0.5})
	opened  = append(append([]Point{{0.28, 0.5}}, arc(0.5, 0.3, 0.22, 180, 360, 10)...), Point{0.72, 0.36})
)

// trace draws a line through points of a square of one, scaled to a box; with fill it is a body.
func (p *SongDrawer) trace(box image.Rectangle, points []Point, ink Ink, fill bool) {
	var room [32]Point
	out := room[:0]
	for _, q := range points {
		out = append(out, Point{float32(box.Min.X) + q.X*float32(box.Dx()), float32(box.Min.Y) + q.Y*float32(box.Dy())})
	}
	if fill {
		p.s.Poly(ink, 255, out...)
		return
	}
	p.s.Line(float32(math.Max(1, float64(p.s.Scale.Pxf(1.4)))), ink, 255, out...)
}

func (p *SongDrawer) eye(box image.Rectangle, struck bool) {
	ink := switchInk(struck)
	p.trace(box, eyeLid, ink, false)
	p.trace(box, eyeDot, ink, true)
	if struck {
		p.trace(box, []Point{{0.1, 0.9}, {0.9, 0.1}}, ink, false)
	}
}

func (p *SongDrawer) ringDot(box image.Rectangle, ink Ink) {
	p.trace(box, ringOut, ink, false)
	p.trace(box, ringDot, ink, true)
}

func (p *SongDrawer) padlock(box image.Rectangle, locked bool) {
	ink := switchInk(locked)
	if locked {
		p.trace(box, shackle, ink, false)
	} else {
		p.trace(box, opened, ink, false)
	}
	h := box.Dy()
	body := image.Rect(box.Min.X+h/6, box.Min.Y+h/2, box.Max.X-h/6, box.Max.Y-h/16)
	if locked {
		p.s.Rect(body, ink)
	} else {
		p.s.Frame(body, p.px(1), ink)
	}
}
