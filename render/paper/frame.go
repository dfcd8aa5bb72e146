package paper

import (
	"image"

	"emberbeat/render"
)

// factWidth is the least width of an entry of the title block in logical
// pixels.
const factWidth = 150

// factLines is how many lines an entry of the title block may have.
const factLines = 3

// factGrid gives the lines of each entry of the title block, by row.
func (l *layout) factGrid() (rows [][][]string, width int) {
	across := max(1, l.area.Dx()/l.px(factWidth))
	width = l.area.Dx() / across
	for i, f := range l.sheet.Facts {
		if i%across == 0 {
			rows = append(rows, nil)
		}
		room := width - l.px(columnGap)
		last := len(rows) - 1
		rows[last] = append(rows[last], atMost(wrap(l.strong, f.Text, room), factLines, l.strong, room))
	}
	return rows, width
}

func (l *layout) factRowHeight(cells [][]string) int {
	n := 1
	for _, c := range cells {
		n = max(n, len(c))
	}
	return l.px(15) + n*l.px(17) + l.px(4)
}

func (l *layout) headHeight() int {
	rows, _ := l.factGrid()
	h := l.px(34) + l.stampHeight()
	for _, r := range rows {
		h += l.factRowHeight(r)
	}
	return h + l.px(12)
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
	l.facts(s, y+l.px(34)+l.stampHeight())
	l.foot(s)
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
	rows, width := l.factGrid()
	i := 0
	for _, cells := range rows {
		x := l.area.Min.X
		for _, lines := range cells {
			s.Text(image.Pt(x, y), render.TypeSmall, render.InkFaint, l.sheet.Facts[i].Label)
			for j, text := range lines {
				s.Text(image.Pt(x, y+l.px(15)+j*l.px(17)), render.TypeStrong, render.InkText, text)
			}
			x += width
			i++
		}
		y += l.factRowHeight(cells)
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
