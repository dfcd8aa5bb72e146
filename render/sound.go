package render

import (
	"image"
	"math"

	"emberbeat/timeline"
)

// sound draws the waveform and the energy under it, both from one reading of the peaks.
func (p *SongDrawer) sound() {
	wave, energy := p.axis(p.Wave), p.axis(p.Energy)
	both := wave.Union(energy)
	if both.Empty() { // the view is too low for it
		return
	}
	p.s.Rect(both, InkLane)
	p.soundCaption()
	p.caption(p.Energy, "Energy")
	p.s.Ground(HitWave, "", both)
	p.s.PushClip(both)
	p.grid(both)
	if p.v.Fit { // markers stand in the upper edge
		wave.Min.Y = max(wave.Min.Y, min(p.Markers.Max.Y, wave.Max.Y))
	}
	if p.v.Peaks == nil {
		p.hatch(wave)
	} else {
		loudest := p.loudest()
		p.columns = columnsOf(p.v.Peaks, p.columns, p.Show, wave.Dx())
		p.wave(wave, p.columns)
		p.energy(energy, loudest)
	}
	p.sectionEnergy(energy)
	p.beatTicks(wave)
	p.heardHits(wave)
	p.tempoLabels(wave)
	p.s.PopClip()
	p.rule(p.Energy, InkBar)
}

// columnsOf reads n columns into room, which it makes larger where needed.
func columnsOf(peaks Peaks, room []Column, part Span, n int) []Column {
	if cap(room) < n {
		room = make([]Column, n)
	}
	room = room[:n]
	peaks.Columns(part.From, part.To, room)
	return room
}

// soundCaption names the row, and says by how much the waveform is drawn larger.
func (p *SongDrawer) soundCaption() {
	row := p.Wave
	row.Max.Y = min(row.Max.Y, row.Min.Y+p.px(22))
	if p.v.Gain == 0 {
		p.caption(row, "Sound")
		return
	}
	p.text = append(append(append(p.text[:0], "Sound, drawn +"...), p.id(p.v.Gain)...), " dB"...)
	p.captionBytes(row)
}

// wave draws the sound above the ticks of its row, as much larger as the view asks for.
func (p *SongDrawer) wave(row image.Rectangle, columns []Column) {
	row.Max.Y = max(row.Max.Y-p.px(tickHeight), row.Min.Y)
	p.s.wave(row, columns, p.v.Gain)
}

// beatTicks marks beats and bars below the waveform.
func (p *SongDrawer) beatTicks(row image.Rectangle) {
	beats := p.d.Plan.Song.Beats
	if beats.Empty() || row.Dy() < p.px(3*tickHeight) {
		return
	}
	first, last := p.bars()
	step := p.barStep(first, last, p.px(7))
	each := (p.Right-p.Left)/max(last-first, 1) >= p.px(40)
	for bar := first - barCount(first, step); bar <= last; bar += step {
		p.beatTick(row, beats.BarStart(bar), 3, 9)
		for beat := 1; each && beat < beats.MetreAt(bar).Num; beat++ {
			p.beatTick(row, beats.At(timeline.BarBeat{Bar: bar, Beat: timeline.NewRat(int64(beat), 1)}), 1, 5)
		}
	}
}

// beatTick draws one of a logical width and height at the foot of a row.
func (p *SongDrawer) beatTick(row image.Rectangle, at timeline.Time, w, h int) {
	x := p.X(at)
	p.s.Rect(image.Rect(x-p.px(w)/2, row.Max.Y-p.px(1+h), x-p.px(w)/2+p.px(w), row.Max.Y-p.px(1)), InkSecondary)
}

// wave draws columns of sound, larger by a gain in dB: the full swing, and over it the average.
func (s *Scene) wave(row image.Rectangle, columns []Column, gain int) {
	mid, half := (row.Min.Y+row.Max.Y)/2, max(row.Dy()-s.Px(4), 0)/2
	if gain != 0 {
		s.PushClip(row)
		defer s.PopClip()
		half = int(float64(half) * math.Pow(10, float64(gain)/20))
	}
	for i, c := range columns {
		x := row.Min.X + i
		top, bottom := mid-int(c.Max)*half/32767, mid-int(c.Min)*half/32767
		s.Rect(image.Rect(x, top, x+1, bottom+1), InkWave)
		if core := int(c.RMS) * half / 32768; core > 0 {
			s.Rect(image.Rect(x, max(mid-core, top), x+1, min(mid+core, bottom)+1), InkCore)
		}
	}
}

// energySmooth is the logical width over which energy is averaged.
const energySmooth = 14

// loudest gives the highest RMS of a song cut into 200 parts, 1 at least, so that a quiet recording's energy fills its row as well.
func (p *SongDrawer) loudest() int {
	const parts = 200
	p.columns = columnsOf(p.v.Peaks, p.columns, p.d.Whole(), parts)
	top := 1
	for _, c := range p.columns {
		top = max(top, int(c.RMS))
	}
	return top
}

// energy draws the loudness, averaged over neighbouring columns, against the song's loudest part as a filled curve.
func (p *SongDrawer) energy(row image.Rectangle, loudest int) {
	reach := p.px(energySmooth) / 2
	sum, lo, hi := 0, 0, 0
	for i := range p.columns {
		for ; hi < len(p.columns) && hi <= i+reach; hi++ {
			sum += int(p.columns[hi].RMS)
		}
		for ; lo < i-reach; lo++ {
			sum -= int(p.columns[lo].RMS)
		}
		h := min(sum*(row.Dy()-p.px(3))/((hi-lo)*loudest), row.Dy())
		x := row.Min.X + i
		p.s.Rect(image.Rect(x, row.Max.Y-h, x+1, row.Max.Y), InkBar)
		p.s.Rect(image.Rect(x, row.Max.Y-h-p.px(1), x+1, row.Max.Y-h+p.px(1)), InkWave)
	}
}

// sectionEnergy draws the energy that sections name as a step each.
func (p *SongDrawer) sectionEnergy(row image.Rectangle) {
	for i := range p.d.sections {
		c := &p.d.sections[i]
		if c.energy == 0 {
			continue
		}
		box := p.stretch(row, c.from, c.to)
		y := row.Max.Y - p.px(2) - c.energy*(row.Dy()-p.px(5))/100
		p.s.Rect(image.Rect(box.Min.X+p.px(2), y, box.Max.X-p.px(2), y+p.px(2)), InkSecondary)
	}
}

// hatch says that there is no sound to draw, and why.
func (p *SongDrawer) hatch(row image.Rectangle) {
	h, step := row.Dy(), p.px(14)
	for x := row.Min.X - h; x < row.Max.X; x += step {
		p.s.Line(p.s.Scale.Pxf(1), InkBar, 255, Point{float32(x), float32(row.Max.Y)}, Point{float32(x + h), float32(row.Min.Y)})
	}
	text := p.v.Quiet
	if text == "" {
		text = "no sound"
	}
	w := p.s.Face(TypeLabel).Measure(text) + p.px(24)
	x := (row.Min.X + row.Max.X - w) / 2
	box := image.Rect(x, row.Min.Y+h/2-p.px(13), x+w, row.Min.Y+h/2+p.px(13))
	p.s.Rect(box, InkLane)
	p.s.TextIn(box, Middle, TypeLabel, InkText, text)
}

// stripCaption names the row; on a page without a title it says how long the song is and what it holds, and leads to its values.
func (p *SongDrawer) stripCaption() {
	p.caption(p.Strip, "Whole song")
	if !p.v.Fit {
		return
	}
	box := p.gutter(p.Strip)
	p.s.Ground(HitTitle, string(p.d.Plan.Song.ID), box)
	box.Max.X -= p.px(10)
	box.Min.X += p.px(12+8) + p.s.Face(TypeSmall).Measure("Whole song")
	p.s.TextIn(box, Right, TypeSmall, InkSecondary, p.d.short)
}

// strip draws the whole song small, with the part that is shown.
func (p *SongDrawer) strip() {
	if p.Strip.Empty() {
		return
	}
	whole := p.d.Whole()
	row := p.axis(p.Strip)
	p.stripCaption()
	p.s.Rect(row, InkLane)
	p.s.Ground(HitStrip, "", row)
	p.s.PushClip(row)
	sound := image.Rect(row.Min.X, row.Min.Y+p.px(3), row.Max.X, row.Max.Y-p.px(9))
	if p.v.Peaks != nil {
		p.columns = columnsOf(p.v.Peaks, p.columns, whole, row.Dx())
		p.s.wave(sound, p.columns, 0)
	}
	at := func(t timeline.Time) int {
		return row.Min.X + int(scaled(int64(t-whole.From), int64(row.Dx()), int64(whole.To-whole.From)))
	}
	for i := range p.d.sections {
		p.upright(at(p.d.sections[i].from), row, p.px(1), InkEdge)
	}
	last := -1
	for _, t := range p.d.Hits {
		if x := at(t); x != last {
			p.s.Rect(image.Rect(x, row.Max.Y-p.px(8), x+p.px(1), row.Max.Y-p.px(2)), InkSecondary)
			last = x
		}
	}
	shown := image.Rect(at(p.Show.From), row.Min.Y, max(at(p.Show.To), at(p.Show.From)+p.px(4)), row.Max.Y)
	p.s.Frame(shown, p.px(2), InkFocus)
	p.s.Hit(HitShown, "", shown)
	p.s.PopClip()
	p.rule(p.Strip, InkBar)
}
