package render

import (
	"image"
	"strconv"
)

// findings draws the line on which findings stand at their times and, where asked for, the list below it.
func (p *SongDrawer) findings() {
	if p.Findings.Empty() {
		return
	}
	p.caption(p.Findings, "Findings")
	row := p.axis(p.Findings)
	p.s.Rect(row, InkLane)
	p.s.Ground(HitFindings, "", p.Findings)
	p.s.PushClip(row)
	if p.v.Marks == nil || len(p.v.Marks.List) == 0 {
		p.s.TextCut(inset(row, p.px(8), 0), TypeSmall, InkSecondary, p.v.Marks.nothing())
	} else {
		p.findingBadges(row)
	}
	p.s.PopClip()
	p.rule(p.Findings, InkBar)
	p.findingList()
}

// nothing says why there are no findings.
func (m *Marks) nothing() string {
	switch {
	case m == nil:
		return "not checked yet"
	case m.Checked == "":
		return "no findings"
	}
	return "no open findings: " + m.Checked
}

// findingBadges draws a badge for each time at which something was found. Where badges would overlap, one stands for all: the worst, with
// their number where it fits.
func (p *SongDrawer) findingBadges(row image.Rectangle) {
	list := p.v.Marks.List
	step := p.px(BadgeSize + 2)
	for i := 0; i < len(list) && list[i].At.On; {
		x, first, worst := p.X(list[i].At.At), i, list[i].Severity
		for ; i < len(list) && list[i].At.On && p.X(list[i].At.At) < x+step; i++ {
			worst = min(worst, list[i].Severity)
		}
		p.upright(x, row, p.px(1), InkText)
		p.badge(x+p.px(2), row, worst)
		p.s.Hit(HitFinding, p.id(first), image.Rect(x, row.Min.Y, x+step, row.Max.Y))
		p.manyFindings(row, x+step+p.px(4), i, i-first)
	}
}

// manyFindings sets the number that a badge stands for, if it fits before the next badge.
func (p *SongDrawer) manyFindings(row image.Rectangle, x, next, n int) {
	if n < 2 {
		return
	}
	end := row.Max.X
	if next < len(p.v.Marks.List) && p.v.Marks.List[next].At.On {
		end = p.X(p.v.Marks.List[next].At.At)
	}
	p.text = strconv.AppendInt(append(p.text[:0], "×"...), int64(n), 10)
	p.s.BytesIn(image.Rect(x, row.Min.Y, end, row.Max.Y), Left, TypeSmall, InkText, p.text)
}

// listRows gives the number of rows of the list of findings.
func listRows(v *SongView) int {
	if v.Marks == nil || len(v.Marks.List) == 0 {
		return 0
	}
	return len(v.Marks.List)
}

// findingList writes each finding in a row: badge, word, where it is, what it is.
func (p *SongDrawer) findingList() {
	if p.List.Empty() {
		return
	}
	p.s.Rect(p.List, InkLane)
	h := p.px(listRowHeight)
	for i := range p.v.Marks.List {
		m := &p.v.Marks.List[i]
		row := image.Rect(p.List.Min.X, p.List.Min.Y+i*h, p.List.Max.X, p.List.Min.Y+(i+1)*h).Intersect(p.List)
		x := row.Min.X + p.px(12)
		p.badge(x, row, m.Severity)
		p.s.TextIn(image.Rect(x+p.px(24), row.Min.Y, p.Left, row.Max.Y), Left, TypeSmall, InkSecondary, m.Severity.Word())
		box := image.Rect(x+p.px(88), row.Min.Y, p.Right, row.Max.Y)
		if m.Where != "" {
			box.Min.X = max(p.s.TextCut(box, TypeSmall, InkSecondary, m.Where)+p.px(14), p.Left+p.px(140))
		}
		p.s.TextCut(box, TypeLabel, InkText, m.Text)
		p.s.Hit(HitFinding, p.id(i), row)
	}
	p.rule(p.List, InkBar)
}
