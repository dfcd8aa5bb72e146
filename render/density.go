package render

import (
	"image"
	"strconv"

	"emberbeat/timeline"
)

// density draws how many hits a window centred on each column holds, with the limit where one is given. What is over it is striped.
func (p *SongDrawer) density() {
	row := p.axis(p.Density)
	if row.Empty() {
		return
	}
	p.text = append(append(append(p.text[:0], "Hits per "...), p.id(int(p.v.window()/timeline.Second))...), " s"...)
	p.captionBytes(p.Density)
	p.s.Rect(row, InkLane)
	p.s.Ground(HitDensity, "", row)
	p.s.PushClip(row)
	most := p.mostHits()
	scale := max(most, p.v.Limit+p.v.Limit/4, 4)
	room := row.Dy() - p.px(6)
	limit := row.Max.Y - p.v.Limit*room/scale
	lo, hi, from := 0, 0, row.Min.X
	now := p.hitsAround(p.TimeAt(from), &lo, &hi)
	for x := from + 1; x <= row.Max.X; x++ {
		n := p.hitsAround(p.TimeAt(x), &lo, &hi)
		if n != now || x == row.Max.X {
			p.densityRun(image.Rect(from, row.Max.Y-now*room/scale, x, row.Max.Y), now, limit)
			from, now = x, n
		}
	}
	p.limitLine(row, limit)
	p.s.PopClip()
	p.mostText(most)
	p.rule(p.Density, InkBar)
}

// densityRun draws columns of one number of hits.
func (p *SongDrawer) densityRun(box image.Rectangle, n, limit int) {
	p.s.Rect(box, InkWave)
	if p.v.Limit == 0 || n <= p.v.Limit {
		return
	}
	for x := box.Min.X; x < box.Max.X; x += p.px(4) {
		p.s.Rect(image.Rect(x, box.Min.Y, min(x+p.px(2), box.Max.X), limit), InkText)
	}
}

// hitsAround counts the hits in the window about t; lo and hi go up with t from one call to the next.
func (p *SongDrawer) hitsAround(t timeline.Time, lo, hi *int) int {
	half := p.v.window() / 2
	for *hi < len(p.d.Hits) && p.d.Hits[*hi] <= t+half {
		*hi++
	}
	for *lo < len(p.d.Hits) && p.d.Hits[*lo] < t-half {
		*lo++
	}
	return *hi - *lo
}

// mostHits gives the largest number of hits in any window of the song.
func (p *SongDrawer) mostHits() int {
	n, _ := timeline.Busiest(p.d.Hits, p.v.window())
	return n
}

func (p *SongDrawer) limitLine(row image.Rectangle, y int) {
	if p.v.Limit == 0 {
		return
	}
	for x := row.Min.X; x < row.Max.X; x += p.px(8) {
		p.s.Rect(image.Rect(x, y, x+p.px(5), y+p.px(1)), InkText)
	}
	p.text = strconv.AppendInt(append(p.text[:0], "limit "...), int64(p.v.Limit), 10)
	box := image.Rect(row.Min.X, y-p.px(16), row.Max.X-p.px(6), y)
	if box.Min.Y < row.Min.Y {
		box = box.Add(image.Pt(0, p.px(17)))
	}
	box.Min.X = box.Max.X - p.s.Face(TypeSmall).MeasureBytes(p.text)
	p.s.Rect(image.Rect(box.Min.X-p.px(5), box.Min.Y, row.Max.X, box.Max.Y), InkLane)
	p.s.BytesIn(box, Right, TypeSmall, InkText, p.text)
}

// mostText sets the largest number in the gutter.
func (p *SongDrawer) mostText(most int) {
	box := p.gutter(p.Density)
	p.text = append(append(p.text[:0], "most "...), p.id(most)...)
	p.s.BytesIn(image.Rect(box.Min.X, box.Min.Y, box.Max.X-p.px(10), box.Max.Y), Right, TypeSmall, InkSecondary, p.text)
}
