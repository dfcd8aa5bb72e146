package paper

import (
	"fmt"
	"image"

	"emberbeat/render"
)

// margin is what printers leave free and binders take, in logical pixels.
const margin = 45

// layout lays one sheet out on one paper. All lengths are device pixels.
type layout struct {
	sheet  *Sheet
	faces  *render.Faces
	size   image.Point
	area   image.Rectangle // inside the margins
	body   image.Rectangle // between title block and foot
	widths map[string][]int
	pages  [][]block
	heads  []Place // of parts
	before int     // pages that stand before the first in one file with others
	all    int     // pages of that file; 0 = the sheet is a file of its own
	y      int     // where the next block stands on the last page
	after  int     // height of what must stand on one page with the last row of the part that is put

	small, mark, strong, title *render.Face
}

// block is something drawn on a page with its top at a height.
type block struct {
	top    int
	height int
	last   bool   // a total that stays with the row above
	with   bool   // it stands on one page with the row before
	under  *block // the heading within the table that it stands under, as it is said again on another page
	draw   func(s *render.Scene, top int)
}

func newLayout(sh *Sheet, faces *render.Faces, size Size) *layout {
	l := &layout{sheet: sh, faces: faces, size: size.pixels(pageScale)}
	l.small, l.mark = faces.Face(render.TypeSmall, pageScale), faces.Face(render.TypeMark, pageScale)
	l.strong, l.title = faces.Face(render.TypeStrong, pageScale), faces.Face(render.TypeTitle, pageScale)
	l.area = image.Rectangle{Max: l.size}.Inset(l.px(margin))
	l.body = image.Rect(l.area.Min.X, l.area.Min.Y+l.headHeight(1), l.area.Max.X, l.area.Max.Y-l.footHeight())
	l.widths = l.columnWidths()
	l.newPage()
	return l
}

func (l *layout) px(n int) int { return pageScale.Px(n) }

// line is the height of a line of small lettering.
func (l *layout) line() int { return l.px(15) }

func (l *layout) newPage() {
	l.pages = append(l.pages, nil)
	l.body.Min.Y = l.area.Min.Y + l.headHeight(len(l.pages))
	l.y = l.body.Min.Y
}

// left is what is free below on the page.
func (l *layout) left() int { return l.body.Max.Y - l.y }

func (l *layout) put(b block) {
	b.top = l.y
	last := len(l.pages) - 1
	l.pages[last] = append(l.pages[last], b)
	l.y += b.height
}

// flow puts all parts on pages.
func (l *layout) flow() {
	for i := range l.sheet.Parts {
		if i > 0 && l.y > l.body.Min.Y {
			l.y += l.px(14)
		}
		l.after = 0
		if i+1 < len(l.sheet.Parts) && l.sheet.Parts[i+1].With {
			l.after = l.px(14) + l.wholeHeight(&l.sheet.Parts[i+1])
		}
		l.part(&l.sheet.Parts[i])
	}
}

// wholeHeight is the height of a part with a heading, notes and a table.
func (l *layout) wholeHeight(p *Part) int {
	head := l.tableHead(p)
	return height(l.opening(p)) + head.height + height(l.rows(p, l.body.Dy()))
}

// part puts a heading with all that stands below it. A heading stays with what
// follows it, and is said again where the table goes on on another page.
func (l *layout) part(p *Part) {
	opening, form := l.opening(p), append(l.figures(p), l.entries(p)...)
	if len(form) > 0 && len(p.Notes) > 0 {
		opening = append(opening, block{height: l.px(6), draw: func(*render.Scene, int) {}})
	}
	head := l.tableHead(p)
	rows := l.rows(p, l.body.Dy()-height(l.again(p))-head.height)
	needed := height(opening) + l.follows(p, form, head, rows)
	if all := height(opening) + height(form) + head.height + height(rows); p.Whole && all+l.after <= l.body.Dy() {
		needed, l.after = all+l.after, 0
	}
	if l.y > l.body.Min.Y && (p.NewPage || needed > l.left()) {
		l.newPage()
	}
	if p.Heading != "" {
		l.heads = append(l.heads, Place{p.Heading, len(l.pages)})
	}
	for _, b := range append(opening, form...) {
		if b.height > l.left() {
			l.newPage()
		}
		l.put(b)
	}
	l.art(p)
	l.table(p, head, rows)
}

// follows is the height of what a heading must not be parted from.
func (l *layout) follows(p *Part, form []block, head block, rows []block) int {
	switch {
	case len(form) > 0:
		return form[0].height
	case p.Art != nil:
		return min(l.px(p.Art.Least), l.body.Dy()/2)
	}
	needed := head.height
	if len(rows) > 0 {
		needed += rows[0].height
	}
	if len(rows) > 1 && rows[1].last {
		needed += rows[1].height
	}
	if len(rows) > 1 {
		if all := head.height + rows[0].height + height(withs(rows[1:])); all <= l.body.Dy()/2 {
			needed = max(needed, all)
		}
	}
	if all := needed + l.after; (len(rows) == 1 || len(rows) == 2 && rows[1].last) && all <= l.body.Dy()/2 {
		needed = all
	}
	return needed
}

// art puts the drawing of a part into what is left of the page.
func (l *layout) art(p *Part) {
	if p.Art == nil {
		return
	}
	if l.px(p.Art.Least) > l.left() {
		l.newPage()
	}
	high := l.left()
	l.put(block{height: high, draw: func(s *render.Scene, top int) {
		p.Art.Draw(s, image.Rect(l.body.Min.X, top, l.body.Max.X, top+high))
	}})
}

// table puts the rows of a part.
func (l *layout) table(p *Part, head block, rows []block) {
	if len(p.Columns) == 0 {
		return
	}
	if head.height > l.left() {
		l.newPage()
	}
	if p.Beside > 1 {
		l.beside(p, head, rows)
		return
	}
	l.put(head)
	for i, b := range rows {
		needed := b.height
		if i+1 < len(rows) && rows[i+1].last { // a total does not stand alone
			needed += rows[i+1].height
		}
		if all := b.height + height(withs(rows[i+1:])); !b.with && all <= l.body.Dy()-height(l.again(p))-head.height {
			needed = max(needed, all)
		}
		if i == len(rows)-1 || i == len(rows)-2 && rows[i+1].last {
			if all := needed + l.after; all <= l.body.Dy()-height(l.again(p))-head.height {
				needed = all
			}
		}
		if needed > l.left() && (b.height > l.left() || i > 0 && !b.last) {
			l.newPage()
			for _, a := range l.again(p) {
				l.put(a)
			}
			l.put(head)
			if b.under != nil && b.under.height+needed <= l.left() {
				l.put(*b.under)
			}
		}
		l.put(b)
	}
}

// withs gives the rows at the beginning of some that stand with the one before.
func withs(rows []block) []block {
	n := 0
	for n < len(rows) && rows[n].with {
		n++
	}
	return rows[:n]
}

// opening gives the heading and the notes of a part, line by line.
func (l *layout) opening(p *Part) []block {
	var list []block
	if p.Heading != "" {
		for _, text := range wrap(l.strong, p.Heading, l.body.Dx()) {
			list = append(list, l.textLine(text, render.TypeStrong, render.InkText, l.px(20)))
		}
	}
	for _, note := range p.Notes {
		for _, text := range wrap(l.small, note, l.body.Dx()) {
			list = append(list, l.textLine(text, render.TypeSmall, render.InkSecondary, l.line()))
		}
	}
	return list
}

// more stands behind what is said again on another page.
const more = " (continued)"

// again gives the heading of a part that goes on on another page.
func (l *layout) again(p *Part) []block {
	if p.Heading == "" {
		return nil
	}
	width := l.body.Dx() - l.strong.Measure(more)
	heading := atMost(wrap(l.strong, p.Heading, width), 1, l.strong, width)[0]
	return []block{l.textLine(heading+more, render.TypeStrong, render.InkText, l.px(20))}
}

func (l *layout) textLine(text string, t render.Type, ink render.Ink, height int) block {
	return block{height: height, draw: func(s *render.Scene, top int) { s.Text(image.Pt(l.body.Min.X, top), t, ink, text) }}
}

func height(list []block) int {
	n := 0
	for _, b := range list {
		n += b.height
	}
	return n
}

// pageOf says which page it is, and which of a file of several sheets.
func (l *layout) pageOf(n int) string {
	text := fmt.Sprintf("page %d of %d", n, len(l.pages))
	if l.all > 0 {
		text += fmt.Sprintf(" · %d of all %d", l.before+n, l.all)
	}
	return text
}
