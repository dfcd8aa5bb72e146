package render

import "image"

// legendWidth is the logical width of one entry of the legend.
const legendWidth = 220

// legendRows gives the number of rows that the legend of a view takes.
func legendRows(v *SongView, scale Scale) int {
	each := max((v.Area.Dx()-scale.Px(24))/scale.Px(legendWidth), 1)
	return (len(v.Data.used) + each - 1) / each
}

// legend names the looks of the articles that the song uses.
func (p *SongDrawer) legend() {
	if p.Legend.Empty() {
		return
	}
	w, h, size := p.px(legendWidth), p.px(legendHeight), p.px(20)
	each := max((p.Legend.Dx()-p.px(24))/w, 1)
	for i, a := range p.d.used {
		x, y := p.Legend.Min.X+p.px(12)+i%each*w, p.Legend.Min.Y+i/each*h
		p.s.Glyph(p.th, image.Pt(x, y+(h-size)/2), size, lookOf(a))
		p.s.TextCut(image.Rect(x+p.px(28), y, x+w-p.px(12), y+h), TypeSmall, InkSecondary, a.Name)
	}
}
