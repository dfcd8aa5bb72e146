package render

import (
	"image"
	"slices"
	"strconv"

	"emberbeat/timeline"
)

// Logical measures of a cue on its lane.
const (
	cueMargin = 36 // of a cue left of the view that may show in it
	glyphTop  = 5
	glyphRoom = 14 // what the lane's height has over the glyph's
)

// cueRow is where the cues of one lane are drawn.
type cueRow struct {
	axis   image.Rectangle
	top    int // of glyphs
	height int // of glyphs
	bottom int
}

// cues draws the cues of a lane that can be seen, in the order of their hits.
func (p *SongDrawer) cues(lane *LaneData, axis image.Rectangle) {
	r := cueRow{axis: axis, top: axis.Min.Y + p.px(glyphTop), height: max(axis.Dy()-p.px(glyphRoom), p.px(8))}
	r.bottom = r.top + r.height
	list := p.inView(lane)
	for i := range list {
		if !list[i].Window {
			continue
		}
		limit := axis.Max.X // the words of each end where the next begins
		for k := i + 1; k < len(list); k++ {
			if list[k].Window {
				limit = p.X(list[k].Hit)
				break
			}
		}
		p.window(&list[i], limit, r)
	}
	most, tight := 0, false
	for i := 0; i < len(list); {
		if list[i].Window {
			i++
			continue
		}
		if end := p.ribbonOf(list, i); end > i {
			if most == 0 {
				most = p.fullest(list)
			}
			p.ribbon(list[i:end], most, r)
			i, tight = end, false
			continue
		}
		i, tight = p.next(list, i, r, tight)
	}
	p.held(list, r)
}

// inView gives the cues of a lane of which something may show.
func (p *SongDrawer) inView(lane *LaneData) []CueData {
	margin := p.TimeAt(p.Left+p.px(cueMargin)) - p.Show.From
	first, _ := slices.BinarySearchFunc(lane.Cues, p.Show.From-lane.after-margin, byHit)
	last, _ := slices.BinarySearchFunc(lane.Cues, p.Show.To+lane.before+margin, byHit)
	return lane.Cues[first:last]
}

func byHit(c CueData, t timeline.Time) int {
	switch {
	case c.Hit < t:
		return -1
	case c.Hit > t:
		return 1
	}
	return 0
}

// next draws the cue at i by itself and gives the place of the one after. Where the next stands close, it is a small glyph without words; tight says
// whether that was so of the one before, and is given for the one after.
func (p *SongDrawer) next(list []CueData, i int, r cueRow, tight bool) (int, bool) {
	x := p.X(list[i].Hit)
	far, next := p.gap(list, i)
	was := tight
	if tight = far < p.px(closeAt) || was && p.stays(far, closeAt); tight || was {
		r.height = min(r.height, p.px(smallGlyph))
		r.top = (r.top + r.bottom - r.height) / 2
		r.bottom = r.top + r.height
		p.cue(&list[i], x, x, r, true)
		return next, tight
	}
	limit := r.axis.Max.X
	if next < len(list) {
		limit = min(p.X(list[next].Hit), max(p.X(list[next].Command), x))
	}
	p.cue(&list[i], x, limit, r, false)
	return next, false
}

// cue draws a cue whose hit is at column x; its label may reach to limit. Of a small one there is no label, and no lead that is hardly seen.
func (p *SongDrawer) cue(c *CueData, x, limit int, r cueRow, small bool) {
	w := c.Look.Glyph.Width(r.height)
	body := image.Rect(x, r.top, x+w, r.bottom)
	look := c.Look
	look.Hollow = c.Cue.Disabled || c.Dead
	end := max(p.X(c.End), x)
	if !small || x-p.X(c.Command) >= p.px(3) {
		p.lead(c, x, r, look)
	}
	p.tail(c, image.Rect(x, r.top, end, r.bottom), look)
	p.s.Glyph(p.th, body.Min, r.height, look)
	p.signs(c, body, max(end, body.Max.X), r)
	whole := body
	whole.Max.X = max(whole.Max.X, end)
	p.s.Hit(HitCue, string(c.Cue.ID), whole)
	if end-x >= p.px(Reach) {
		p.s.Hit(HitCueEnd, string(c.Cue.ID), image.Rect(end-p.px(4), r.top, end+p.px(4), r.bottom))
	}
	if small {
		if _, found := p.v.Marks.OfCue(c.Cue.ID); found {
			p.bracket(c, body)
		}
		return
	}
	right := p.finding(c, body)
	p.label(c, image.Rect(right+p.px(5), r.axis.Min.Y, limit-p.px(6), r.top+r.height/2))
}

// lead draws the line from the command to the hit.
func (p *SongDrawer) lead(c *CueData, x int, r cueRow, look Look) {
	from := p.X(c.Command)
	if from >= x {
		return
	}
	y := r.top + r.height/2
	p.s.Tint(image.Rect(from, y, x, y+p.px(1)), look.Ink, p.th.GlyphEdge)
	if x-from < p.px(3) {
		return
	}
	p.s.Tint(image.Rect(from, y-p.px(3), from+p.px(1), y+p.px(4)), look.Ink, p.th.GlyphEdge)
}

// tailCover is how strongly a tail's body covers the lane, of 255, under full bodies of glyphs.
const tailCover = 120

// tail draws the open time as a band from the hit to the end: as high as the level, its foot and its end in full.
func (p *SongDrawer) tail(c *CueData, box image.Rectangle, look Look) {
	if box.Dx() < p.px(3) {
		return
	}
	low, high := p.px(4), box.Dy()/2
	h := low + (high-low)*c.Level/100
	line := p.px(2)
	foot := image.Rect(box.Min.X, box.Max.Y-line, box.Max.X, box.Max.Y)
	if !look.Hollow {
		cover := uint8(int(tailCover) * int(p.th.GlyphFill) / 255)
		p.s.Tint(image.Rect(box.Min.X, box.Max.Y-h, box.Max.X-line, foot.Min.Y), look.Ink, cover)
	}
	p.s.Tint(foot, look.Ink, p.th.GlyphEdge)
	p.s.Tint(image.Rect(box.Max.X-line, box.Max.Y-h, box.Max.X, foot.Min.Y), look.Ink, p.th.GlyphEdge)
}

// signs draws what is said of a cue around its glyph: ring = selected, underline = group, bar below = locked.
func (p *SongDrawer) signs(c *CueData, body image.Rectangle, end int, r cueRow) {
	if len(p.v.Selected) > 0 && p.v.Selected[c.Cue.ID] {
		p.s.Frame(body.Inset(-p.px(4)), p.px(2), InkFocus)
	}
	y := r.bottom + p.px(2)
	if c.Cue.Group != "" {
		p.s.Rect(image.Rect(body.Min.X, y, end, y+p.px(1)), InkText)
	}
	if c.Cue.Locked {
		y += p.px(2)
		p.s.Rect(image.Rect(body.Min.X, y, body.Max.X, y+p.px(3)), InkSecondary)
	}
}

// finding draws the badge of the worst finding of a cue beside its glyph and gives the x where the next thing may stand.
func (p *SongDrawer) finding(c *CueData, body image.Rectangle) int {
	v, found := p.v.Marks.OfCue(c.Cue.ID)
	if !found {
		return body.Max.X
	}
	x, y := body.Max.X+p.px(5), body.Min.Y-p.px(2)
	p.s.Badge(image.Pt(x, y), v)
	p.bracket(c, body)
	return x + p.px(BadgeSize)
}

// bracket spans a cue with a finding from its command to the end of its glyph or tail.
func (p *SongDrawer) bracket(c *CueData, body image.Rectangle) {
	from, to := min(p.X(c.Command), body.Min.X)-p.px(2), max(p.X(c.End), body.Max.X)+p.px(2)
	top, line := body.Min.Y-p.px(4), p.px(1)
	p.s.Rect(image.Rect(from, top, to, top+line), InkText)
	p.s.Rect(image.Rect(from, top, from+line, top+p.px(5)), InkText)
	p.s.Rect(image.Rect(to-line, top, to, top+p.px(5)), InkText)
}

// label says what the cue is: its note, an article that is not the lane's, else where it stands.
func (p *SongDrawer) label(c *CueData, box image.Rectangle) {
	box.Max.X = min(box.Max.X, p.Right)
	if box.Dx() < p.px(12) || box.Min.X < p.Left {
		return
	}
	if c.Label != "" {
		if !p.s.TextIn(box, Left, TypeSmall, InkText, c.Label) && box.Dx() >= p.px(48) {
			p.s.TextCut(box, TypeSmall, InkText, c.Label)
		}
		return
	}
	p.text = appendMoment(p.text[:0], c.Cue.At)
	p.s.BytesIn(box, Left, TypeSmall, InkSecondary, p.text)
}

// appendMoment writes a cue's anchor as timeline.Moment does, a time with its clock sign s, without making a string.
func appendMoment(b []byte, m timeline.Moment) []byte {
	if !m.OnBeat {
		t := m.Time.RoundTo(timeline.Millisecond)
		if t < 0 {
			b, t = append(b, '-'), -t
		}
		ms := int64(t / timeline.Millisecond)
		b = append(strconv.AppendInt(b, ms/60000, 10), ':', byte('0'+ms/10000%6), byte('0'+ms/1000%10), '.')
		return append(b, byte('0'+ms/100%10), byte('0'+ms/10%10), byte('0'+ms%10))
	}
	whole := m.Bar.Beat.Floor()
	b = append(strconv.AppendInt(b, int64(m.Bar.Bar), 10), '.')
	b = strconv.AppendInt(b, whole+1, 10)
	if rest := m.Bar.Beat.Num() - whole*m.Bar.Beat.Den(); rest != 0 {
		b = append(strconv.AppendInt(append(b, '+'), rest, 10), '/')
		b = strconv.AppendInt(b, m.Bar.Beat.Den(), 10)
	}
	return b
}
