package paper

import (
	"image"
	"slices"

	"emberbeat/render"
)

// tableHead gives the names of a part's columns with a line below.
func (l *layout) tableHead(p *Part) block {
	if len(p.Columns) == 0 {
		return block{}
	}
	names := make([]string, len(p.Columns))
	for i, c := range p.Columns {
		names[i] = c.Name
	}
	lines, most := l.wrapRow(p, names, false, l.mark)
	height := most*l.line() + l.px(2*rowPadding)
	return block{height: height, draw: func(s *render.Scene, top int) {
		l.cells(s, p, lines, top+l.px(rowPadding), l.line(), render.TypeMark, render.InkSecondary)
		s.Rect(image.Rect(l.body.Min.X, top+height-l.px(1), l.body.Max.X, top+height), render.InkText)
	}}
}

// rows gives the rows of a part, none higher than a limit: higher ones are cut
// into several.
func (l *layout) rows(p *Part, limit int) []block {
	var list []block
	across := slices.ContainsFunc(p.Rows, func(r Row) bool { return r.Across })
	grouped := !across && slices.ContainsFunc(p.Rows, func(r Row) bool { return r.With }) // its strong rows are no totals
	most := max(1, (limit-l.px(2*p.padding()))/l.px(p.lineHeight()))
	var under *block
	for _, r := range p.Rows {
		lines, n := l.wrapRow(p, r.Cells, r.Across, l.faces.Face(cellType(p, r.Strong), pageScale))
		for from := 0; from < n; from += most {
			b := l.row(p, r, slice(lines, from, most), min(most, n-from))
			b.with, b.last = r.With && from == 0, b.last && !grouped && !r.Across
			if !r.Strong {
				b.under = under
			}
			list = append(list, b)
		}
		if r.Across {
			f := l.faces.Face(cellType(p, r.Strong), pageScale)
			room := l.tableWidth(p) - f.Measure(more)
			said := l.row(p, r, [][]string{{atMost(wrap(f, r.Cells[0], room), 1, f, room)[0] + more}}, 1)
			under = &said
		}
	}
	return list
}

func (l *layout) wrapRow(p *Part, cells []string, across bool, f *render.Face) (lines [][]string, most int) {
	widths := l.widths[columnKey(p)]
	lines = make([][]string, len(cells))
	for i, cell := range cells {
		width := widths[i]
		if across {
			width = l.tableWidth(p)
		}
		lines[i] = wrap(f, cell, width)
		most = max(most, len(lines[i]))
	}
	return lines, most
}

// slice takes some lines of every cell.
func slice(lines [][]string, from, most int) [][]string {
	out := make([][]string, len(lines))
	for i, cell := range lines {
		out[i] = cell[min(from, len(cell)):min(from+most, len(cell))]
	}
	return out
}

func (l *layout) row(p *Part, r Row, lines [][]string, n int) block {
	line := l.px(p.lineHeight())
	height := n*line + l.px(2*p.padding())
	for _, c := range p.Columns {
		if c.Box && !r.Strong {
			height = max(height, l.px(boxOf(p)+2*p.padding()))
		}
	}
	return block{height: height, last: r.Strong, draw: func(s *render.Scene, top int) {
		if r.Strong {
			s.Rect(image.Rect(l.body.Min.X, top, l.body.Max.X, top+height), render.InkPanel)
		}
		l.cells(s, p, lines, top+(height-n*line)/2, line, cellType(p, r.Strong), render.InkText)
		l.boxes(s, p, r, top, height)
		s.Rect(image.Rect(l.body.Min.X, top+height-1, l.body.Max.X, top+height), render.InkBar)
	}}
}

// cells draws the lines of a row's cells.
func (l *layout) cells(s *render.Scene, p *Part, lines [][]string, top, line int, t render.Type, ink render.Ink) {
	widths := l.widths[columnKey(p)]
	x := l.body.Min.X
	for i, cell := range lines {
		for j, text := range cell {
			at := image.Pt(x, top+j*line)
			if p.Columns[i].Right {
				at.X += widths[i] - s.Face(t).Measure(text)
			}
			if text != "" {
				s.Text(at, t, ink, text)
			}
		}
		x += widths[i] + l.gap(p)
	}
}

// boxes draws the boxes to write in.
func (l *layout) boxes(s *render.Scene, p *Part, r Row, top, height int) {
	widths := l.widths[columnKey(p)]
	x := l.body.Min.X
	for i, c := range p.Columns {
		if c.Box && !r.Strong && r.Cells[i] == "" {
			y := top + (height-l.px(boxOf(p)))/2
			wide := widths[i]
			if c.Tick {
				wide = min(wide, l.px(boxOf(p)))
			}
			s.Frame(image.Rect(x, y, x+wide, y+l.px(boxOf(p))), l.px(1), render.InkEdge)
		}
		x += widths[i] + l.gap(p)
	}
}

// boxOf is the height of a part's boxes in logical pixels.
func boxOf(p *Part) int {
	switch {
	case p.Tall:
		return tallBox
	case p.Dense:
		return boxHeight - 2
	}
	return boxHeight
}

// gap is what stands free between two columns.
func (l *layout) gap(p *Part) int {
	if p.Dense {
		return l.px(columnGap * 3 / 4)
	}
	return l.px(columnGap)
}

// padding is what stands free above and below a row's lines, in logical pixels.
func (p *Part) padding() int {
	if p.Dense {
		return rowPadding / 3
	}
	return rowPadding
}

// largeSize is the lettering that is read in the dark at arm's length: 12 points
// on paper (our judgement).
const largeSize = 16

// lineHeight is the height of a line of a row in logical pixels.
func (p *Part) lineHeight() int {
	switch {
	case p.Large && p.Dense:
		return largeSize + 2
	case p.Large:
		return largeSize + 4
	}
	return 15
}

// cellType gives the lettering of a part's rows.
func cellType(p *Part, strong bool) render.Type {
	switch {
	case p.Large:
		return render.Type{Size: largeSize, Bold: strong}
	case strong:
		return render.TypeMark
	}
	return render.TypeSmall
}
