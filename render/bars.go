package render

import (
	"image"
	"strconv"

	"emberbeat/timeline"
)

// barStep gives the number of bars from one label to the next, a power of two, so that labels stand gap device pixels apart at least.
func (p *SongDrawer) barStep(first, last, gap int) int {
	step := 1
	for bars := max(last-first, 1); step < bars && (p.Right-p.Left)*step/bars < gap; {
		step *= 2
	}
	return step
}

// bars gives the first and last bar in view.
func (p *SongDrawer) bars() (first, last int) {
	beats := p.d.Plan.Song.Beats
	return beats.Locate(p.Show.From).Bar, beats.Locate(p.Show.To).Bar
}

// barCount gives the place of a bar in a row of steps from bar 1, as 0 for a bar that is labelled.
func barCount(bar, step int) int { return ((bar-1)%step + step) % step }

func (p *SongDrawer) barRow() {
	if p.Bars.Empty() {
		return
	}
	p.caption(p.Bars, "Bars")
	p.tempoNow()
	p.s.Ground(HitBars, "", p.axis(p.Bars))
	p.s.PushClip(p.axis(p.Bars))
	beats := p.d.Plan.Song.Beats
	first, last := p.bars()
	step := p.barStep(first, last, p.px(barGap))
	for bar := first - barCount(first, step); bar <= last; bar += step {
		x := p.X(beats.BarStart(bar))
		if x < p.Left {
			continue
		}
		p.upright(x, p.Bars, p.px(1), InkEdge)
		p.text = strconv.AppendInt(p.text[:0], int64(bar), 10)
		p.s.BytesIn(image.Rect(x+p.px(5), p.Bars.Min.Y, p.Right, p.Bars.Max.Y), Left, TypeMark, InkText, p.text)
	}
	p.s.PopClip()
	p.rule(p.Bars, InkBar)
}

// grid draws bar lines, beat lines and section starts over a part of the view.
func (p *SongDrawer) grid(row image.Rectangle) {
	if beats := p.d.Plan.Song.Beats; !beats.Empty() {
		first, last := p.bars()
		p.beatLines(row, beats, first, last)
		step := p.barStep(first, last, p.px(7))
		for bar := first - barCount(first, step); bar <= last; bar += step {
			p.upright(p.X(beats.BarStart(bar)), row, p.px(1), InkBar)
		}
	}
	for i := range p.d.sections {
		p.upright(p.X(p.d.sections[i].from), row, p.px(2), InkBar)
	}
}

// beatLines draws the beats between bar lines where they stand far enough apart.
func (p *SongDrawer) beatLines(row image.Rectangle, beats *timeline.BeatMap, first, last int) {
	if (p.Right-p.Left)/max(last-first, 1) < p.px(40) {
		return
	}
	for bar := first; bar <= last; bar++ {
		for beat := range beats.MetreAt(bar).Num {
			if beat > 0 {
				at := timeline.BarBeat{Bar: bar, Beat: timeline.NewRat(int64(beat), 1)}
				p.upright(p.X(beats.At(at)), row, p.px(1), InkBeat)
			}
		}
	}
}

// tempoNow sets the tempo at the left end of the view in the gutter of the bars.
func (p *SongDrawer) tempoNow() {
	now := -1
	for i := range p.d.tempos {
		if i == 0 || p.d.tempos[i].at <= p.Show.From {
			now = i
		}
	}
	if now < 0 {
		return
	}
	box := p.gutter(p.Bars)
	p.text = append(append(p.text[:0], p.d.tempos[now].text...), " bpm"...)
	p.s.BytesIn(image.Rect(box.Min.X+p.px(50), box.Min.Y, box.Max.X-p.px(10), box.Max.Y), Right, TypeSmall, InkSecondary, p.text)
}

// tempoLabels sets each tempo that begins in view at the top of a row, where it fits before the next.
func (p *SongDrawer) tempoLabels(row image.Rectangle) {
	for i := 1; i < len(p.d.tempos); i++ {
		x, end := p.X(p.d.tempos[i].at), p.Right
		if i+1 < len(p.d.tempos) {
			end = p.X(p.d.tempos[i+1].at)
		}
		if x < p.Left || x >= p.Right {
			continue
		}
		p.text = append(append(p.text[:0], p.d.tempos[i].text...), " bpm"...)
		box := image.Rect(x, row.Min.Y, x+p.s.Face(TypeSmall).MeasureBytes(p.text)+p.px(12), row.Min.Y+p.px(18))
		if box.Max.X <= end {
			p.s.Rect(box, InkLane)
			p.s.BytesIn(inset(box, p.px(5), 0), Left, TypeSmall, InkSecondary, p.text)
		}
		p.upright(x, box, p.px(1), InkEdge)
	}
}
