package render

import "image"

// How far apart hits of a lane stand, in logical pixels: nearer than ribbonAt they are a ribbon, nearer than closeAt small glyphs without words.
// What is a ribbon or close already stays it until they stand a fifth farther apart, so that a stretch is not broken for one hit.
const (
	ribbonAt     = 4
	closeAt      = 12
	ribbonColumn = 4
	smallGlyph   = 14
	leastMost    = 3 // hits that a column is full of at least: two hits are no full column
)

// stays reports whether what is nearer than at already is so still where the next stands so far away.
func (p *SongDrawer) stays(far, at int) bool { return far < 1<<20 && far*5 < p.px(at)*6 }

// gap gives how far the next cue of a list that is no window stands from the one at i, a lot where there is none.
func (p *SongDrawer) gap(list []CueData, i int) (pixels, next int) {
	for k := i + 1; k < len(list); k++ {
		if !list[k].Window {
			return p.X(list[k].Hit) - p.X(list[i].Hit), k
		}
	}
	return 1 << 30, len(list)
}

// ribbonOf gives the place behind the last cue of the ribbon that begins at i; i where none does.
func (p *SongDrawer) ribbonOf(list []CueData, i int) int {
	far, next := p.gap(list, i)
	if far >= p.px(ribbonAt) {
		return i
	}
	for p.stays(far, ribbonAt) {
		i = next
		far, next = p.gap(list, i)
	}
	return i + 1
}

// fullest gives the most hits of a lane that fall on one column of a ribbon, as far as they are in view.
func (p *SongDrawer) fullest(list []CueData) int {
	most, n, at := leastMost, 0, -1<<30
	for i := range list {
		if list[i].Window {
			continue
		}
		if x := p.column(p.X(list[i].Hit)); x != at {
			n, at = 0, x
		}
		n++
		most = max(most, n)
	}
	return most
}

// column gives the left end of the column that a pixel belongs to. Columns stand at whole numbers of their width, wherever a ribbon begins.
func (p *SongDrawer) column(x int) int {
	w := p.px(ribbonColumn)
	return x - ((x-p.Left)%w+w)%w
}

// ribbon draws cues that stand too near for glyphs: columns as high as the hits that fall on them, in the inks of their classes; what is not played
// stands on top, in the ink of bars. Then, over the cues that anything was found of, a hatch with a bar below.
func (p *SongDrawer) ribbon(list []CueData, most int, r cueRow) {
	foot := r.bottom
	high := foot - r.axis.Min.Y - p.px(4)
	first, at, piece := "", 0, -1<<30
	for i := 0; i < len(list); {
		if list[i].Window {
			i++
			continue
		}
		x := p.column(p.X(list[i].Hit))
		var of [inkCount]int
		n, chosen := 0, false
		for ; i < len(list) && (list[i].Window || p.column(p.X(list[i].Hit)) == x); i++ {
			c := &list[i]
			if c.Window {
				continue
			}
			if n++; x >= piece+p.px(Reach) { // a piece wide enough to be found
				p.hitPiece(first, at, x, r)
				first, at, piece = string(c.Cue.ID), x, x
			}
			ink := c.Look.Ink
			if c.Cue.Disabled || c.Dead {
				ink = InkBar
			}
			of[ink]++
			chosen = chosen || p.v.Selected[c.Cue.ID]
		}
		p.ribbonStack(image.Rect(x, foot-n*high/most, x+p.px(ribbonColumn)-p.px(1), foot), n, &of)
		if chosen {
			p.s.Frame(image.Rect(x-p.px(2), r.axis.Min.Y+p.px(2), x+p.px(ribbonColumn+1), foot+p.px(2)), p.px(2), InkFocus)
		}
	}
	p.hitPiece(first, at, p.column(p.X(list[len(list)-1].Hit))+p.px(ribbonColumn), r)
	for _, v := range []Severity{SevNote, SevWarning, SevError} {
		p.ribbonFindings(list, v, r)
	}
}

// ribbonStack draws a column of n hits, class upon class.
func (p *SongDrawer) ribbonStack(box image.Rectangle, n int, of *[inkCount]int) {
	sum := 0
	for ink := range of {
		if of[ink] == 0 || Ink(ink) == InkBar {
			continue
		}
		low := box.Max.Y - sum*box.Dy()/n
		sum += of[ink]
		p.s.Rect(image.Rect(box.Min.X, box.Max.Y-sum*box.Dy()/n, box.Max.X, low), Ink(ink))
	}
	p.s.Rect(image.Rect(box.Min.X, box.Min.Y, box.Max.X, box.Max.Y-sum*box.Dy()/n), InkBar)
}

// hitPiece lets a piece of a ribbon be found, by the first of its cues.
func (p *SongDrawer) hitPiece(first string, from, to int, r cueRow) {
	if first != "" {
		p.s.Hit(HitCues, first, image.Rect(from, r.axis.Min.Y+p.px(2), to, r.axis.Max.Y-p.px(2)))
	}
}

// Covers and sizes of what marks findings in a ribbon.
const (
	ribbonHatch = 97 // of 255: 38 %
	ribbonJoin  = 12 // findings nearer than this are one stretch
)

// ribbonFindings draws over the cues of a ribbon that have a finding of a severity a hatch, and below them a bar with ends: full for errors, dashed
// for warnings, dotted for notes.
func (p *SongDrawer) ribbonFindings(list []CueData, v Severity, r cueRow) {
	from, to := 0, -1<<30
	for i := range list {
		c := &list[i]
		if found, ok := p.v.Marks.OfCue(c.Cue.ID); !ok || found != v || c.Window {
			continue
		}
		x := p.column(p.X(c.Hit))
		if x > to+p.px(ribbonJoin) {
			p.ribbonBar(from, to, v, r)
			from = x
		}
		to = x + p.px(ribbonColumn)
	}
	p.ribbonBar(from, to, v, r)
}

func (p *SongDrawer) ribbonBar(from, to int, v Severity, r cueRow) {
	if to <= from {
		return
	}
	box := image.Rect(from, r.axis.Min.Y+p.px(2), to, r.bottom)
	p.s.PushClip(box)
	for x := box.Min.X - box.Dy(); x < box.Max.X; x += p.px(6) {
		p.s.Line(p.s.Scale.Pxf(1), InkText, ribbonHatch, Point{float32(x), float32(box.Max.Y)}, Point{float32(x + box.Dy()), float32(box.Min.Y)})
	}
	p.s.PopClip()
	bar := image.Rect(from, r.bottom+p.px(1), to, r.bottom+p.px(5))
	dash, gap := bar.Dx(), 0
	switch v {
	case SevWarning:
		dash, gap = p.px(6), p.px(4)
	case SevNote:
		dash, gap = p.px(2), p.px(3)
	}
	for x := bar.Min.X; x < bar.Max.X; x += max(dash+gap, 1) {
		p.s.Rect(image.Rect(x, bar.Min.Y, min(x+dash, bar.Max.X), bar.Max.Y), InkText)
	}
	for _, x := range []int{bar.Min.X, bar.Max.X - p.px(1)} {
		p.s.Rect(image.Rect(x, bar.Min.Y-p.px(3), x+p.px(1), bar.Max.Y), InkText)
	}
}

// held draws the cues of a lane that are dragged on top of everything, so that they are seen in the densest ribbon.
func (p *SongDrawer) held(list []CueData, r cueRow) {
	if len(p.v.Dragged) == 0 {
		return
	}
	for i := range list {
		if c := &list[i]; !c.Window && p.v.Dragged[c.Cue.ID] {
			x := p.X(c.Hit)
			body := image.Rect(x-p.px(2), r.top-p.px(2), x+c.Look.Glyph.Width(r.height)+p.px(2), r.bottom+p.px(2))
			p.s.Rect(body, InkLane)
			p.cue(c, x, r.axis.Max.X, r, false)
		}
	}
}
