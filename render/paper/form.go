package paper

import (
	"image"

	"emberbeat/render"
)

// Measures of forms in logical pixels.
const (
	figureWidth = 165 // of a large number at least
	entryWidth  = 330 // of an entry at least
	entryLines  = 8   // an entry with more lines is as wide as the page and may go on on the next
	writingLine = 20
)

// figures gives the large numbers of a part, row by row.
func (l *layout) figures(p *Part) []block {
	var list []block
	across := max(1, min(len(p.Figures), l.body.Dx()/l.px(figureWidth)))
	label := 0
	for _, f := range p.Figures {
		label = max(label, l.small.Measure(f.Label))
	}
	for across > 1 && label > l.body.Dx()/across-l.px(columnGap) { // what a number is of is not cut
		across--
	}
	width := l.body.Dx() / across
	for from := 0; from < len(p.Figures); from += across {
		row := p.Figures[from:min(from+across, len(p.Figures))]
		high := 0
		for _, f := range row {
			_, _, h := l.figure(f.Text, width-l.px(columnGap))
			high = max(high, h)
		}
		list = append(list, block{height: l.px(17+8) + high, draw: func(s *render.Scene, top int) { l.figureRow(s, row, width, top) }})
	}
	return list
}

func (l *layout) figureRow(s *render.Scene, row []Fact, width, top int) {
	for i, f := range row {
		x := l.body.Min.X + i*width
		label := atMost(wrap(l.small, f.Label, width-l.px(columnGap)), 1, l.small, width-l.px(columnGap))[0]
		s.Text(image.Pt(x, top), render.TypeSmall, render.InkSecondary, label)
		lines, t, h := l.figure(f.Text, width-l.px(columnGap))
		for j, text := range lines {
			s.Text(image.Pt(x, top+l.px(17)+j*h/len(lines)), t, render.InkText, text)
		}
	}
}

// figure sets a text as large as its width allows: in one line, or in lines of
// the smallest lettering for it.
func (l *layout) figure(text string, width int) (lines []string, t render.Type, height int) {
	for _, t := range []render.Type{render.TypeCounter, render.TypeTitle} {
		if f := l.faces.Face(t, pageScale); f.Measure(text) <= width {
			return []string{text}, t, f.Height()
		}
	}
	lines = wrap(l.strong, text, width)
	return lines, render.TypeStrong, len(lines) * l.px(17)
}

// entries gives the form of a part, row by row in as many columns as there is
// room for.
func (l *layout) entries(p *Part) []block {
	var list []block
	across := max(1, l.body.Dx()/l.px(entryWidth))
	width := l.body.Dx() / across
	room := width - l.px(2*columnGap)
	var row []Fact
	flush := func() {
		if len(row) > 0 {
			list = append(list, l.entryRow(row, width, room))
			row = nil
		}
	}
	for _, e := range p.Entries {
		if len(wrap(l.small, e.Text, room)) > entryLines {
			flush()
			list = append(list, l.longEntry(e)...)
			continue
		}
		if row = append(row, e); len(row) == across {
			flush()
		}
	}
	flush()
	return list
}

func (l *layout) entryRow(row []Fact, width, room int) block {
	texts, labels := make([][]string, len(row)), make([][]string, len(row))
	high := 0
	for i, e := range row {
		labels[i], texts[i] = wrap(l.small, e.Label, room), wrap(l.strong, e.Text, room)
		high = max(high, len(labels[i])*l.line()+l.textHeight(e, texts[i]))
	}
	return block{height: high + l.px(8), draw: func(s *render.Scene, top int) {
		for i, e := range row {
			x := l.body.Min.X + i*width
			for j, text := range labels[i] {
				s.Text(image.Pt(x, top+j*l.line()), render.TypeSmall, render.InkSecondary, text)
			}
			y := top + len(labels[i])*l.line()
			if e.Text == "" {
				s.Rect(image.Rect(x, y+l.px(writingLine)-l.px(1), x+room, y+l.px(writingLine)), render.InkEdge)
				continue
			}
			for j, text := range texts[i] {
				s.Text(image.Pt(x, y+j*l.px(17)), render.TypeStrong, render.InkText, text)
			}
		}
	}}
}

func (l *layout) textHeight(e Fact, lines []string) int {
	if e.Text == "" {
		return l.px(writingLine)
	}
	return max(len(lines)*l.px(17), l.px(writingLine))
}

// longEntry sets an entry line by line, so that it can go on on the next page.
func (l *layout) longEntry(e Fact) []block {
	var list []block
	for _, text := range wrap(l.small, e.Label, l.body.Dx()) {
		list = append(list, l.textLine(text, render.TypeSmall, render.InkSecondary, l.line()))
	}
	for _, text := range wrap(l.small, e.Text, l.body.Dx()) {
		list = append(list, l.textLine(text, render.TypeSmall, render.InkText, l.line()))
	}
	return append(list, block{height: l.px(8), draw: func(*render.Scene, int) {}})
}
