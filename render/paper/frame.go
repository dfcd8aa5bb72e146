package paper

import (
	"image"
	"strings"

	"emberbeat/render"
)

// factWidth is the least width of an entry of the title block in logical
// pixels.
const factWidth = 150

// factLines is how many lines an entry of the title block may have beside others.
const factLines = 3

// factRow is a row of entries of the title block.
type factRow struct {
	width  int // of each
	cells  []factCell
	beside bool // the one entry stands beside its label
}

type factCell struct {
	label string
	lines []string
}

// factGrid gives the entries of the title block row by row; one that is
// never cut comes last where it needs the whole width.
func (l *layout) factGrid() []factRow {
	across := max(1, l.area.Dx()/l.px(factWidth))
	width := l.area.Dx() / across
	var rows, wide []factRow
	for _, f := range l.sheet.Facts {
		room := width - l.px(columnGap)
		lines := wrap(l.strong, f.Text, room)
		if len(lines) > factLines && f.Label == l.sheet.Uncut {
			beside := l.small.Measure(f.Label) + l.px(columnGap)
			wide = append(wide, factRow{l.area.Dx(), []factCell{{f.Label, wrap(l.strong, f.Text, l.area.Dx()-beside)}}, true})
			continue
		}
		if n := len(rows); n == 0 || len(rows[n-1].cells) == across {
			rows = append(rows, factRow{width: width})
		}
		last := &rows[len(rows)-1]
		last.cells = append(last.cells, factCell{f.Label, atMost(lines, factLines, l.strong, room)})
	}
	return append(rows, wide...)
}

func (l *layout) factRowHeight(r factRow) int {
	n := 1
	for _, c := range r.cells {
		n = max(n, len(c.lines))
	}
	if r.beside {
		return n*l.px(17) + l.px(4)
	}
	return l.px(15) + n*l.px(17) + l.px(4)
}

// headHeight is how high the head of a page is. From the second on the title block
// is said in lines of text where that takes less room: the same, and no page has
// less room than the first.
func (l *layout) headHeight(page int) int {
	block := l.blockHeight()
	if l.runs(page) {
		block = len(l.headLines()) * l.line()
	}
	return l.px(34) + l.stampHeight() + block + l.px(12)
}

// runs reports whether a page says the title block in lines of text.
func (l *layout) runs(page int) bool {
	return page > 1 && len(l.headLines())*l.line() < l.blockHeight()
}

func (l *layout) blockHeight() int {
	high := 0
	for _, r := range l.factGrid() {
		high += l.factRowHeight(r)
	}
	return high
}

// frame draws what every page carries: title, facts, foot and page number.
func (l *layout) frame(s *render.Scene, page int) {
	x, y := l.area.Min.X, l.area.Min.Y
	number := l.pageOf(page)
	s.Text(image.Pt(l.area.Max.X-l.strong.Measure(number), y+l.px(4)), render.TypeStrong, render.InkText, number)
	room := l.area.Dx() - l.strong.Measure(number) - l.px(2*columnGap)
	s.Text(image.Pt(x, y), render.TypeTitle, render.InkText, atMost(wrap(l.title, l.sheet.Title, room), 1, l.title, room)[0])
	s.Rect(image.Rect(x, y+l.px(26), l.area.Max.X, y+l.px(28)), render.InkText)
	l.stamp(s, y+l.px(28))
	if y += l.px(34) + l.stampHeight(); l.runs(page) {
		l.running(s, y)
	} else {
		l.facts(s, y)
	}
	l.foot(s)
}

// headLines says the title block in lines.
func (l *layout) headLines() []string {
	var parts []string
	for _, f := range l.sheet.Facts {
		text := f.Text
		if room := l.area.Dx() / 3; f.Label != l.sheet.Uncut {
			text = atMost(wrap(l.small, text, room), 1, l.small, room)[0]
		}
		parts = append(parts, f.Label+" "+text)
	}
	return wrap(l.small, strings.Join(parts, " · "), l.area.Dx())
}

func (l *layout) stampHeight() int {
	if l.sheet.Stamp == "" {
		return 0
	}
	return l.px(24)
}

// stamp draws the bar that says what the sheet is not.
func (l *layout) stamp(s *render.Scene, y int) {
	if l.sheet.Stamp == "" {
		return
	}
	bar := image.Rect(l.area.Min.X, y, l.area.Max.X, y+l.stampHeight())
	s.Rect(bar, render.InkText)
	s.TextCut(bar.Inset(l.px(4)), render.TypeStrong, render.InkLane, l.sheet.Stamp)
}

func (l *layout) facts(s *render.Scene, y int) {
	for _, r := range l.factGrid() {
		for i, c := range r.cells {
			x, top := l.area.Min.X+i*r.width, y+l.px(15)
			if r.beside {
				s.Text(image.Pt(x, y+l.strong.Ascent()-l.small.Ascent()), render.TypeSmall, render.InkFaint, c.label)
				x, top = x+l.small.Measure(c.label)+l.px(columnGap), y
			} else {
				s.Text(image.Pt(x, y), render.TypeSmall, render.InkFaint, c.label)
			}
			for j, text := range c.lines {
				s.Text(image.Pt(x, top+j*l.px(17)), render.TypeStrong, render.InkText, text)
			}
		}
		y += l.factRowHeight(r)
	}
	s.Rect(image.Rect(l.area.Min.X, y, l.area.Max.X, y+l.px(1)), render.InkEdge)
}

// running draws the title block of a page that is not the first.
func (l *layout) running(s *render.Scene, y int) {
	for _, text := range l.headLines() {
		s.Text(image.Pt(l.area.Min.X, y), render.TypeSmall, render.InkSecondary, text)
		y += l.line()
	}
	s.Rect(image.Rect(l.area.Min.X, y, l.area.Max.X, y+l.px(1)), render.InkEdge)
}

func (l *layout) footLines() []string { return wrap(l.small, l.sheet.Foot, l.area.Dx()) }

func (l *layout) footHeight() int {
	if l.sheet.Foot == "" {
		return 0
	}
	return l.px(16) + len(l.footLines())*l.line()
}

func (l *layout) foot(s *render.Scene) {
	if l.sheet.Foot == "" {
		return
	}
	y := l.area.Max.Y - l.footHeight() + l.px(10)
	s.Rect(image.Rect(l.area.Min.X, y, l.area.Max.X, y+l.px(1)), render.InkEdge)
	for i, text := range l.footLines() {
		s.Text(image.Pt(l.area.Min.X, y+l.px(6)+i*l.line()), render.TypeSmall, render.InkSecondary, text)
	}
}
