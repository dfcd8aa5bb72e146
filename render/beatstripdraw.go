package render

import (
	"image"
	"strconv"

	"emberbeat/timeline"
)

// beats draws the strip.
func (p *SongDrawer) beats() {
	b := p.v.Beats
	p.doubts(b)
	p.s.Rect(p.Tools, InkBeat)
	p.rule(p.Tools, InkBar)
	p.timecodeRow()
	p.beatBars(b)
	p.beatWave(b)
	p.readings(b)
	p.lanes()
	p.oldPlaces(b)
	p.s.Rect(p.Keep, InkBeat)
	p.s.Rect(image.Rect(p.Keep.Min.X, p.Keep.Min.Y, p.Keep.Max.X, p.Keep.Min.Y+p.px(1)), InkEdge)
}

// doubts draws over the whole song how sure the ear is of the beats: as high as the doubt, hatched where it is large.
func (p *SongDrawer) doubts(b *BeatStrip) {
	row := p.axis(p.Doubt)
	p.caption(p.Doubt, "Doubt")
	p.s.Rect(row, InkLane)
	p.s.PushClip(row)
	whole := p.d.Whole()
	at := func(t timeline.Time) int {
		return row.Min.X + int(scaled(int64(t-whole.From), int64(row.Dx()), int64(whole.To-whole.From)))
	}
	for i, d := range b.Doubts {
		box := image.Rect(at(d.From), row.Max.Y-max(p.px(2), int(d.Share*float64(row.Dy()-p.px(2)))), max(at(d.To), at(d.From)+p.px(2)), row.Max.Y-p.px(1))
		if d.Share >= gridDoubt {
			p.hatched(box, InkSecondary)
			p.s.Frame(box, p.px(1), InkSecondary)
			p.s.Hit(HitDoubt, p.id(i), box)
		} else {
			p.s.Rect(box, InkBar)
		}
	}
	p.s.PopClip()
	p.rule(p.Doubt, InkBar)
}

// hatched fills a box with slanted lines.
func (p *SongDrawer) hatched(box image.Rectangle, ink Ink) {
	p.s.PushClip(box)
	h, step := box.Dy(), p.px(7)
	for x := box.Min.X - h; x < box.Max.X; x += step {
		p.s.Line(p.s.Scale.Pxf(1), ink, 255, Point{float32(x), float32(box.Max.Y)}, Point{float32(x + h), float32(box.Min.Y)})
	}
	p.s.PopClip()
}

// moved reports whether a grid is tried that is another than the one that stands.
func (p *SongDrawer) moved(b *BeatStrip) bool {
	return !b.Old.Empty() && !b.Old.Equal(p.d.Plan.Song.Beats)
}

// beatBars numbers the bars: the old ones small beside dotted lines, the tried ones bold.
func (p *SongDrawer) beatBars(b *BeatStrip) {
	row := p.axis(p.Bars)
	name := "Bars"
	if p.moved(b) {
		name = "Bars: old, and as tried"
	}
	p.caption(p.Bars, name)
	p.s.Rect(row, InkPanel)
	p.s.Ground(HitBars, "", row)
	p.s.PushClip(row)
	beats := p.d.Plan.Song.Beats
	if beats.Empty() {
		p.s.TextIn(inset(row, p.px(6), 0), Left, TypeSmall, InkSecondary, "no beats yet: type a tempo, or tap it")
	} else {
		p.numbered(row, beats, b)
	}
	p.s.PopClip()
	p.rule(p.Bars, InkBar)
}

func (p *SongDrawer) numbered(row image.Rectangle, beats *timeline.BeatMap, b *BeatStrip) {
	first, last := p.bars()
	step := p.barStep(first, last, p.px(2*barGap))
	ink := InkText
	if p.moved(b) {
		ink = InkFocus
	}
	for bar := first - barCount(first, step); bar <= last; bar += step {
		x := p.X(beats.BarStart(bar))
		p.upright(x, row, p.px(2), ink)
		p.text = strconv.AppendInt(p.text[:0], int64(bar), 10)
		p.s.BytesIn(image.Rect(x+p.px(6), row.Min.Y, min(x+p.px(barGap), row.Max.X), row.Max.Y), Left, TypeStrong, InkText, p.text)
	}
	if !p.moved(b) {
		return
	}
	from, to := b.Old.Locate(p.Show.From).Bar, b.Old.Locate(p.Show.To).Bar
	for bar := from - barCount(from, step); bar <= to; bar += step {
		x := p.X(b.Old.BarStart(bar))
		p.text = strconv.AppendInt(p.text[:0], int64(bar), 10)
		w := p.s.Face(TypeSmall).MeasureBytes(p.text)
		if p.roomFor(x-w-p.px(8), x, beats, step) {
			p.s.BytesIn(image.Rect(x-w-p.px(4), row.Min.Y, x, row.Max.Y), Left, TypeSmall, InkSecondary, p.text)
		}
		p.dotted(x, row)
	}
}

// roomFor reports whether an old number between two columns stays free of the bold ones.
func (p *SongDrawer) roomFor(from, to int, beats *timeline.BeatMap, step int) bool {
	bar := beats.Locate(p.TimeAt(from)).Bar
	bar -= barCount(bar, step)
	for ; ; bar += step {
		x := p.X(beats.BarStart(bar))
		if x > to {
			return true
		}
		if x+p.px(barGap) > from {
			return false
		}
	}
}

// dotted draws a dotted line down a row.
func (p *SongDrawer) dotted(x int, row image.Rectangle) {
	for y := row.Min.Y; y < row.Max.Y; y += p.px(6) {
		p.s.Rect(image.Rect(x, y, x+p.px(1), min(y+p.px(2), row.Max.Y)), InkEdge)
	}
}

// attacksHeight is the logical height of the ticks of attacks at the foot of the wave.
const attacksHeight = 26

// beatWave draws the sound with the grid over it, old lines dotted and tried ones in focus, and the attacks that are heard.
func (p *SongDrawer) beatWave(b *BeatStrip) {
	row := p.axis(p.Wave)
	p.s.Rect(row, InkLane)
	p.s.Ground(HitWave, "", row)
	p.sitting(b)
	p.s.PushClip(row)
	for _, d := range b.Doubts {
		if d.Share >= gridDoubt && d.To > p.Show.From && d.From < p.Show.To {
			box := p.stretch(row, d.From, d.To)
			p.hatched(box.Intersect(row), InkBeat)
		}
	}
	wave := image.Rect(row.Min.X, row.Min.Y+p.px(4), row.Max.X, row.Max.Y-p.px(attacksHeight))
	if p.v.Peaks == nil {
		p.hatch(wave)
	} else {
		p.columns = columnsOf(p.v.Peaks, p.columns, p.Show, wave.Dx())
		p.wave(wave, p.columns)
	}
	if p.moved(b) {
		p.gridLines(row, b.Old, true)
	}
	p.gridLines(row, p.d.Plan.Song.Beats, false)
	last := -1
	for _, t := range b.Attacks {
		if x := p.X(t); t >= p.Show.From && t <= p.Show.To && x > last {
			p.s.Rect(image.Rect(x-p.px(1), row.Max.Y-p.px(22), x+p.px(2), row.Max.Y-p.px(6)), InkCore)
			last = x + p.px(2)
		}
	}
	p.doubtWord(row, b)
	if b.Drag != nil {
		p.draggedLine(row, b.Drag)
	}
	p.s.PopClip()
	p.rule(p.Wave, InkBar)
}

// gridLines draws the lines of a map over a row: bars, and beats where there is room. Those of the tried one can be taken hold of.
func (p *SongDrawer) gridLines(row image.Rectangle, beats *timeline.BeatMap, old bool) {
	if beats.Empty() {
		return
	}
	first, last := beats.Locate(p.Show.From).Bar, beats.Locate(p.Show.To).Bar
	step := p.barStep(first, last, p.px(7))
	beatsToo := (p.Right-p.Left)/max(last-first, 1) >= p.px(40)
	ink := InkBar
	if p.moved(p.v.Beats) {
		ink = InkFocus
	}
	for bar := first - barCount(first, step); bar <= last+1; bar += step {
		x := p.X(beats.BarStart(bar))
		if old {
			p.dotted(x, row)
		} else {
			p.upright(x, row, p.px(2), ink)
			if (p.Right-p.Left)*step/max(last-first, 1) >= p.px(Reach) {
				p.s.Hit(HitBarLine, strconv.Itoa(bar), image.Rect(x, row.Min.Y, x+p.px(2), row.Max.Y))
			}
		}
		metre := beats.MetreAt(bar)
		for beat := metre.Pulse(); beatsToo && beat < metre.Num; beat += metre.Pulse() {
			x := p.X(beats.At(timeline.BarBeat{Bar: bar, Beat: timeline.NewRat(int64(beat), 1)}))
			if old {
				p.dotted(x, row)
			} else {
				p.s.Tint(image.Rect(x, row.Min.Y, x+p.px(1), row.Max.Y), ink, 140)
			}
		}
	}
}

// doubtWord says at the place where the ear is not sure what that means.
func (p *SongDrawer) doubtWord(row image.Rectangle, b *BeatStrip) {
	if b.Drag != nil {
		return
	}
	for _, d := range b.Doubts {
		box := p.stretch(row, d.From, d.To).Intersect(row)
		if d.Share < gridDoubt || box.Empty() {
			continue
		}
		text := "in doubt: hits fall between the beats here, or none are heard"
		w := p.s.Face(TypeSmall).Measure(text) + p.px(12)
		if w > row.Dx() {
			return
		}
		x := min(max((box.Min.X+box.Max.X-w)/2, row.Min.X), row.Max.X-w)
		note := image.Rect(x, row.Min.Y+p.px(6), x+w, row.Min.Y+p.px(26))
		p.s.Rect(note, InkLane)
		p.s.Frame(note, p.px(1), InkSecondary)
		p.s.TextIn(note, Middle, TypeSmall, InkText, text)
		return
	}
}

// draggedLine draws the line that is moved, with arrows, and a box that says what goes with it.
func (p *SongDrawer) draggedLine(row image.Rectangle, d *BeatDrag) {
	x := p.X(d.At)
	p.upright(x-p.px(1), row, p.px(4), InkFocus)
	y, h := float32((row.Min.Y+row.Max.Y)/2), p.s.Scale.Pxf(8)
	for _, side := range []float32{-1, 1} {
		from := float32(x+p.px(1)) + side*p.s.Scale.Pxf(5)
		p.s.Poly(InkFocus, 255, Point{from, y - h}, Point{from + side*h, y}, Point{from, y + h})
	}
	width := p.s.Face(TypeStrong).Measure(d.Head)
	lines := append(append([]string{}, d.Lines...), d.Keys)
	for _, line := range lines {
		width = max(width, p.s.Face(TypeSmall).Measure(line))
	}
	width += p.px(24)
	high := p.px(28 + 18*len(lines) + 8)
	left := x + p.px(18)
	if left+width > row.Max.X {
		left = max(x-p.px(18)-width, row.Min.X)
	}
	top := max(min(int(y)-high/2, row.Max.Y-high), row.Min.Y)
	box := image.Rect(left, top, left+width, top+high)
	p.s.Rect(box, InkLane)
	p.s.Frame(box, p.px(2), InkFocus)
	in := inset(box, p.px(12), p.px(6))
	p.s.TextIn(image.Rect(in.Min.X, in.Min.Y, in.Max.X, in.Min.Y+p.px(22)), Left, TypeStrong, InkText, d.Head)
	for i, line := range lines {
		ink := InkText
		if i > 0 {
			ink = InkSecondary
		}
		y := in.Min.Y + p.px(22+18*i)
		p.s.TextIn(image.Rect(in.Min.X, y, in.Max.X, y+p.px(18)), Left, TypeSmall, ink, line)
	}
}

// sitting says left of the sound how well the grid sits, and what is locked.
func (p *SongDrawer) sitting(b *BeatStrip) {
	box := inset(p.gutter(p.Wave), p.px(12), p.px(6))
	y := box.Min.Y
	line := func(t Type, ink Ink, text string) {
		if h := p.px(19); text != "" && y+h <= box.Max.Y {
			p.s.TextCut(image.Rect(box.Min.X, y, box.Max.X, y+h), t, ink, text)
			y += h
		}
	}
	line(TypeSmall, InkSecondary, "How well it sits")
	switch {
	case b.Quiet != "":
		line(TypeSmall, InkSecondary, b.Quiet)
	case b.Sits < 0:
		line(TypeSmall, InkSecondary, "nothing is heard to tell")
	default:
		line(TypeStrong, InkText, strconv.Itoa(b.Sits)+" %")
		line(TypeSmall, InkSecondary, "attacks on beats, 20 ms")
		if b.Tried != "" && b.Before >= 0 {
			line(TypeSmall, InkSecondary, "before: "+strconv.Itoa(b.Before)+" %")
		}
		if h := p.px(10); y+h <= box.Max.Y {
			bar := image.Rect(box.Min.X, y+p.px(3), box.Max.X, y+p.px(7))
			p.s.Rect(bar, InkBar)
			p.s.Rect(image.Rect(bar.Min.X, bar.Min.Y, bar.Min.X+bar.Dx()*b.Sits/100, bar.Max.Y), InkText)
			if b.Before >= 0 {
				x := bar.Min.X + bar.Dx()*b.Before/100
				p.s.Rect(image.Rect(x, bar.Min.Y-p.px(2), x+p.px(2), bar.Max.Y+p.px(2)), InkFocus)
			}
			y += h + p.px(4)
		}
	}
	line(TypeSmall, InkText, b.Taps)
}

// readings draws the grids that may be meant, each with two bars of sound.
func (p *SongDrawer) readings(b *BeatStrip) {
	if p.Readings.Empty() {
		return
	}
	p.s.Rect(p.Readings, InkPanel)
	box := inset(p.gutter(p.Readings), p.px(12), p.px(8))
	for i, text := range []string{"Other ways to hear it", "1 to 4 takes one,", "↑ ↓ tries the next", "with a click."} {
		t, ink := TypeSmall, InkSecondary
		if i == 0 {
			t, ink = TypeStrong, InkText
		}
		y := box.Min.Y + p.px(20*i)
		p.s.TextCut(image.Rect(box.Min.X, y, box.Max.X, y+p.px(20)), t, ink, text)
	}
	if len(b.Readings) == 0 {
		p.s.TextCut(inset(p.axis(p.Readings), p.px(8), 0), TypeLabel, InkSecondary, b.Quiet)
		return
	}
	for i := range b.Readings {
		p.reading(&b.Readings[i], i, p.ReadingAt(i, p.s.Scale))
	}
}

func (p *SongDrawer) reading(r *BeatReading, i int, card image.Rectangle) {
	p.s.Ground(HitReading, p.id(i), card)
	p.s.Rect(card, InkLane)
	edge, width := InkEdge, p.px(1)
	if r.On {
		edge, width = InkFocus, p.px(3)
	}
	p.s.Frame(card, width, edge)
	in := inset(card, p.px(8), p.px(6))
	key := image.Rect(in.Min.X, in.Min.Y, in.Min.X+p.px(18), in.Min.Y+p.px(18))
	p.s.Frame(key, p.px(1), InkEdge)
	p.s.TextIn(key, Middle, TypeSmall, InkText, p.id(i+1))
	p.s.TextCut(image.Rect(key.Max.X+p.px(6), in.Min.Y, in.Max.X, key.Max.Y), TypeMark, InkText, r.Name)
	detail := image.Rect(in.Min.X, key.Max.Y+p.px(1), in.Max.X, key.Max.Y+p.px(17))
	p.s.TextCut(detail, TypeSmall, InkText, r.Detail)
	foot := image.Rect(in.Min.X, in.Max.Y-p.px(18), in.Max.X, in.Max.Y)
	if r.Sits >= 0 {
		p.text = append(strconv.AppendInt(append(p.text[:0], "sits "...), int64(r.Sits), 10), " %"...)
		w := p.s.Face(TypeMark).MeasureBytes(p.text)
		p.s.BytesIn(image.Rect(foot.Max.X-w, foot.Min.Y, foot.Max.X, foot.Max.Y), Left, TypeMark, InkText, p.text)
		foot.Max.X -= w + p.px(6)
	}
	p.s.TextCut(foot, TypeSmall, InkSecondary, r.Foot)
	p.twoBars(r.Beats, image.Rect(in.Min.X, detail.Max.Y+p.px(2), in.Max.X, foot.Min.Y-p.px(2)))
}

// twoBars draws the sound of two bars, those at the left end of the view, with their lines.
func (p *SongDrawer) twoBars(beats *timeline.BeatMap, box image.Rectangle) {
	if beats.Empty() || box.Dx() <= 0 || box.Dy() <= 0 {
		return
	}
	bar := beats.Locate(max(p.Show.From, 0)).Bar + 1
	part := Span{beats.BarStart(bar), beats.BarStart(bar + 2)}
	lead := (part.To - part.From) / 32
	part.From, part.To = part.From-lead, part.To+lead
	p.s.PushClip(box)
	if p.v.Peaks != nil {
		p.columns = columnsOf(p.v.Peaks, p.columns, part, box.Dx())
		p.wave(box, p.columns)
	}
	for k := bar; k <= bar+2; k++ {
		metre := beats.MetreAt(k)
		for beat := 0; beat < metre.Num; beat += metre.Pulse() {
			at := beats.At(timeline.BarBeat{Bar: k, Beat: timeline.NewRat(int64(beat), 1)})
			if at > part.To {
				break
			}
			x := box.Min.X + int(scaled(int64(at-part.From), int64(box.Dx()), int64(part.To-part.From)))
			if beat == 0 {
				p.upright(x, box, p.px(2), InkText)
			} else {
				p.upright(x, box, p.px(1), InkEdge)
			}
		}
	}
	p.s.PopClip()
}

// oldPlaces marks dotted where cues stood that would move.
func (p *SongDrawer) oldPlaces(b *BeatStrip) {
	if len(b.OldHits) == 0 || p.Lanes.Empty() {
		return
	}
	area := p.axis(p.Lanes)
	p.s.PushClip(area)
	y := p.Lanes.Min.Y - p.scroll
	for i := range p.d.Lanes {
		row := image.Rect(area.Min.X, y+p.px(3), area.Max.X, y+p.laneHeight-p.px(3))
		for k := range p.d.Lanes[i].Cues {
			c := &p.d.Lanes[i].Cues[k]
			if was, ok := b.OldHits[c.Cue.ID]; ok && row.Overlaps(area) {
				p.dotted(p.X(was), row)
			}
		}
		y += p.laneHeight
	}
	p.s.PopClip()
}
