package findings

import (
	"cmp"
	"fmt"
	"image"
	"slices"
	"strconv"
	"strings"

	"emberbeat/render"
	"emberbeat/render/causes"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/shows/report"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// Board is the page: the list as cards, in an order that can be chosen, as far as they are of a severity that is shown.
type Board struct {
	By    int     // of orders
	Hide  [3]bool // severities that are not shown
	Boxes []causes.Box

	left   map[string]bool // findings that fixes leave out, by their words
	whole  map[string]bool // groups all of whose lines are shown, by their key
	scroll int
	heads  []int // of cards, their rows
	shown  int   // row that was last brought into sight, -1 for none
}

// orders are how cards can be ordered.
var orders = []string{"By cause", "By song", "By rule"}

const (
	byCause = iota
	bySong
	byRule
)

// mostLines is how many lines of a group are shown unless all are asked for.
const mostLines = 12

// showAll gives every finding of a group a line.
func (b *Board) showAll(g *report.FindingGroup) {
	if b.whole == nil {
		b.whole = map[string]bool{}
	}
	b.whole[g.Key()] = true
}

// leftOut names a finding as long as it says the same.
func leftOut(f *rule.Finding) string { return f.Rule + "\x00" + f.Ref.String() + "\x00" + f.Text }

// fixOf gives the change for those of a group that are ticked; nil where there is none.
func (l *List) fixOf(g *report.FindingGroup) *rule.Fix {
	if g.Fix == nil || len(l.board.left) == 0 {
		return g.Fix
	}
	found := l.h.Findings()
	some := g.Group
	some.Found = slices.DeleteFunc(slices.Clone(g.Found), func(i int) bool { return l.board.left[leftOut(&found[i])] })
	if len(some.Found) == len(g.Found) {
		return g.Fix
	}
	return some.FixAll(found)
}

// fixKey names what the fix of a group does: it is another one for each choice of what is left out.
func (l *List) fixKey(g *report.FindingGroup) string {
	key := g.Key()
	for _, i := range g.Found {
		if name := leftOut(&l.h.Findings()[i]); l.board.left[name] {
			key += "\x00" + name
		}
	}
	return key
}

// order gives the places of the groups as the page shows them.
func (l *List) order(groups []report.FindingGroup) []int {
	var list []int
	for i := range groups {
		if !l.board.Hide[render.SeverityOf(groups[i].Severity)] {
			list = append(list, i)
		}
	}
	found := l.h.Findings()
	number := func(g *report.FindingGroup) int {
		least := 1 << 20 // what is of no song stands last
		for _, i := range g.Found {
			if n := found[i].Number; n > 0 {
				least = min(least, n)
			}
		}
		return least
	}
	switch l.board.By {
	case bySong:
		slices.SortStableFunc(list, func(a, b int) int { return cmp.Compare(number(&groups[a]), number(&groups[b])) })
	case byRule:
		slices.SortStableFunc(list, func(a, b int) int { return cmp.Compare(groups[a].Rule, groups[b].Rule) })
	}
	return list
}

// page draws the list as a page.
func (l *List) page(r image.Rectangle) {
	u := l.h.UI()
	groups := l.h.Groups()
	l.list(groups, l.order(groups), mostLines)
	k := u.Stack(r, 6)
	l.tools(&k, groups)
	u.Label(k.Top(20), render.TypeLabel, render.InkSecondary, l.advice())
	if l.h.Fresh() {
		u.Focus(ID)
	}
	if len(groups) == 0 {
		l.nothing(&k)
		return
	}
	area := k.Rest()
	c := u.Canvas(ID, area)
	l.boardKeys(c, groups)
	l.gather(groups)
	scale := u.Scene().Scale
	boxes, high := causes.Place(scale, area, l.cards)
	l.sight(boxes, area, high)
	if c.Wheel.Y != 0 {
		l.board.scroll = min(max(l.board.scroll+c.Wheel.Y*u.Px(3*widget.LineHeight), 0), max(high-area.Dy(), 0))
		l.h.Again()
	}
	at := area
	at.Min.Y -= l.board.scroll
	l.board.Boxes, _ = causes.Place(scale, at, l.cards)
	s := u.Scene()
	s.PushClip(area)
	causes.Draw(s, l.cards, l.board.Boxes)
	l.buttons(groups)
	s.PopClip()
	l.point(c, groups)
	if c.Focus && c.Entered {
		s.Frame(area, u.Px(2), render.InkFocus)
	}
}

// tools are the ways of looking at the cards.
func (l *List) tools(k *widget.Stack, groups []report.FindingGroup) {
	u := l.h.UI()
	row := u.Stack(k.Top(widget.RowHeight), 8)
	wide := 0
	for _, name := range orders {
		wide = max(wide, u.ButtonWidth(name))
	}
	box := row.Left(min(wide*len(orders), row.Rest().Dx()*100/int(u.Scene().Scale)*2/5))
	for i, name := range orders {
		if u.Segment(name, widget.Columns(box, len(orders), i, 0), name, l.board.By == i) && l.board.By != i {
			l.board.By = i
			l.h.Again()
		}
	}
	var n [3]int
	for i := range groups {
		n[render.SeverityOf(groups[i].Severity)] += groups[i].Open()
	}
	for v := range n {
		label := timeline.Counted(n[v], render.Severity(v).Word())
		if u.OnButton("show-"+render.Severity(v).Word(), row.Left(u.ButtonWidth(label)), label, !l.board.Hide[v]) {
			l.board.Hide[v] = !l.board.Hide[v]
			l.h.Again()
		}
		u.Tip("Shows or hides the "+render.Severity(v).Word()+"s", "")
	}
	for _, b := range []struct{ id, command, label string }{{"rules", "book-rules", "Rules"}, {"accept", "accept", "Accept…"}} {
		if row.Rest().Dx() < u.Px(u.ButtonWidth(b.label)) {
			continue
		}
		u.Off(l.h.Off(b.command))
		if u.Button(b.id, row.Right(u.ButtonWidth(b.label)), b.label) {
			l.h.Use(b.command)
		}
		u.Tip(b.label, l.h.Key(b.command))
	}
}

// nothing says what was asked where nothing was found, and where to go on.
func (l *List) nothing(k *widget.Stack) {
	u := l.h.UI()
	text := page.Upper(l.h.Summary()) + "."
	h := u.ParagraphHeight(k.Rest().Dx(), render.TypeLabel, text) * 100 / int(u.Scene().Scale)
	u.Paragraph(k.Top(h+4), render.TypeLabel, render.InkText, text)
	label := "See the rules"
	row := u.Stack(k.Top(widget.RowHeight), 8)
	if u.Button("see-rules", row.Left(u.ButtonWidth(label)), label) {
		l.h.Use("book-rules")
	}
	u.Tip("What is asked, with which figures, and what is switched off", l.h.Key("book-rules"))
}

// gather makes the cards of the rows.
func (l *List) gather(groups []report.FindingGroup) {
	found, plan := l.h.Findings(), l.h.Plan()
	starts, end := plan.SetTimes()
	var songs []float64
	first := map[timeline.ID]timeline.Time{}
	for i, at := range starts {
		songs = append(songs, float64(at)/float64(max(end, 1)))
		if id := plan.Songs[i].Song.ID; i == 0 || first[id] == 0 {
			first[id] = at
		}
	}
	l.cards, l.board.heads = l.cards[:0], l.board.heads[:0]
	for i, x := range l.Rows {
		g := &groups[x.Group]
		if len(g.Found) > 1 && x.Finding >= 0 {
			l.line(&l.cards[len(l.cards)-1], g, &found[x.Finding], l.Sel.Has(i))
			continue
		}
		c := causes.Card{Severity: render.SeverityOf(g.Severity), Title: page.Upper(g.Title), Text: g.Where, Cause: page.Upper(g.Cause), Songs: songs, Opens: len(g.Found) > 1, Button: true,
			Chosen: l.Sel.Has(i), Faint: g.Open() == 0}
		c.Open = c.Opens && l.open[g.Key()]
		if l.board.By == byRule {
			c.Cause = strings.TrimSuffix(g.Rule+" · "+c.Cause, " · ")
		}
		for _, at := range g.Found {
			if f := &found[at]; f.HasTime {
				if from, ok := first[f.Song]; ok {
					c.Marks = append(c.Marks, float64(from+f.At)/float64(max(end, 1)))
				}
			}
		}
		if g.Accepted > 0 {
			c.Text += ", " + strconv.Itoa(g.Accepted) + " accepted"
		}
		if !c.Opens {
			f := &found[g.Found[0]]
			if where := page.Where(f, plan.Rate); where != "" {
				c.Text = where
				if s := l.h.Show().Song(f.Song); s != nil {
					c.Text = s.FullTitle() + ", " + where
				}
			}
		}
		c.Note = l.note(g)
		l.cards, l.board.heads = append(l.cards, c), append(l.board.heads, i)
	}
	for i := range l.cards { // what is not listed
		if g := &groups[l.Rows[l.board.heads[i]].Group]; l.cards[i].Open {
			l.cards[i].More = len(g.Found) - len(l.cards[i].Lines)
		}
	}
}

// line adds a place to a card.
func (l *List) line(c *causes.Card, g *report.FindingGroup, f *rule.Finding, chosen bool) {
	x := causes.Line{Where: page.Where(f, l.h.Plan().Rate), Text: f.Text, Chosen: chosen, Faint: f.Accepted != nil}
	if f.Accepted != nil {
		x.Text = "accepted: " + x.Text
	}
	if s := l.h.Show().Song(f.Song); s != nil {
		x.Song = s.FullTitle()
	}
	if g.Fix != nil && f.Accepted == nil {
		if x.Tick = causes.Ticked; l.board.left[leftOut(f)] {
			x.Tick = causes.Left
		}
	}
	c.Lines = append(c.Lines, x)
}

// note says below a card's button how many it takes, or why there is none.
func (l *List) note(g *report.FindingGroup) string {
	switch {
	case g.Open() == 0:
		return "accepted"
	case g.Fix == nil:
		return "you decide"
	case len(g.Found) == 1:
		return "one step"
	}
	n := 0
	found := l.h.Findings()
	for _, i := range g.Found {
		if found[i].Accepted == nil && !l.board.left[leftOut(&found[i])] {
			n++
		}
	}
	return fmt.Sprintf("takes %d of %d", n, g.Open())
}

// buttons draws what can be done about the cards in sight.
func (l *List) buttons(groups []report.FindingGroup) {
	u := l.h.UI()
	for i := range l.board.Boxes {
		b, row := &l.board.Boxes[i], l.board.heads[i]
		if !b.All.Overlaps(u.Scene().Clip()) {
			continue
		}
		g := &groups[l.Rows[row].Group]
		u.Push(g.Key())
		fix := l.fixOf(g)
		label, why := "Go there", ""
		if g.Fix != nil {
			if why = page.NeedEdit(l.h); fix == nil && why == "" {
				why = "no finding of it is ticked"
			}
			if label = page.Upper(g.Fix.Label); fix != nil {
				label = page.Upper(fix.Label)
			}
		}
		press := u.Button
		if l.cards[i].Chosen || l.holds(i) {
			press = u.MainButton
		}
		if u.Off(why); press("way", b.Button, label) {
			l.Sel.Only(row)
			if fix != nil {
				l.h.Do(fix.Label, fix.Edits...)
			} else {
				l.h.GoFinding(g.Found[0])
			}
			l.h.Again()
		}
		if fix != nil {
			u.Tip("Makes this change as one step; undo takes it back", "")
		} else {
			u.Tip("Goes to the first of them; what would do is said there", "")
		}
		if !b.Foot.Empty() {
			l.foot(b.Foot, g, l.cards[i].More)
		}
		u.Pop()
	}
}

// holds reports whether the cursor stands on a line of a card.
func (l *List) holds(card int) bool {
	from, to := l.board.heads[card], len(l.Rows)
	if card+1 < len(l.board.heads) {
		to = l.board.heads[card+1]
	}
	return l.Sel.Cursor >= from && l.Sel.Cursor < to && l.Sel.Has(l.Sel.Cursor)
}

// foot is what can be done about the lines of an open card.
func (l *List) foot(r image.Rectangle, g *report.FindingGroup, more int) {
	u := l.h.UI()
	row := u.Stack(r, 8)
	if u.Button("go", row.Right(u.ButtonWidth("Go there")), "Go there") {
		at := g.Found[0]
		if x := l.finding(); slices.Contains(g.Found, x) {
			at = x
		}
		l.h.GoFinding(at)
	}
	u.Tip("Shows the chosen place, or the first", l.h.Key("finding-on"))
	if more > 0 {
		label := fmt.Sprintf("Show %d more", more)
		if u.Button("more", row.Left(u.ButtonWidth(label)), label) {
			l.board.showAll(g)
			l.h.Again()
		}
	}
}

// boardKeys are what the keys do while the cards have the focus.
func (l *List) boardKeys(c widget.Canvas, groups []report.FindingGroup) {
	if !c.Focus || len(l.Rows) == 0 {
		return
	}
	u := l.h.UI()
	at := min(l.Sel.Cursor, len(l.Rows)-1)
	to := at
	for _, k := range []struct {
		key widget.Key
		by  int
	}{{widget.KeyDown, 1}, {widget.KeyUp, -1}, {widget.KeyPageDown, 6}, {widget.KeyPageUp, -6}, {widget.KeyHome, -len(l.Rows)}, {widget.KeyEnd, len(l.Rows)}} {
		for u.Take(k.key, 0) {
			to += k.by
		}
	}
	if to = min(max(to, 0), len(l.Rows)-1); to != at || !l.Sel.Has(at) {
		l.Sel.Only(to)
		l.h.Again()
	}
	l.keys(groups)
	x := l.Rows[min(l.Sel.Cursor, len(l.Rows)-1)]
	if u.Take(widget.KeyEnter, 0) {
		if x.Finding >= 0 {
			l.h.GoFinding(x.Finding)
		} else {
			l.turn(&groups[x.Group], !l.open[groups[x.Group].Key()])
		}
		l.h.Again()
	}
}

// sight scrolls to the row that the cursor has come to.
func (l *List) sight(boxes []causes.Box, area image.Rectangle, high int) {
	u := l.h.UI()
	b := &l.board
	b.scroll = min(max(b.scroll, 0), max(high-area.Dy(), 0))
	at := l.Sel.Cursor
	if !l.Sel.Has(at) || at == b.shown {
		return
	}
	b.shown = at
	for i, head := range b.heads {
		r := boxes[i].Head
		if k := at - head - 1; k >= 0 && k < len(boxes[i].Lines) {
			r = boxes[i].Lines[k]
		} else if k != -1 {
			continue
		}
		top := r.Min.Y - area.Min.Y
		b.scroll = min(max(b.scroll, top+r.Dy()+u.Px(8)-area.Dy()), max(top-u.Px(8), 0))
	}
}

// point is what the pointer does on the cards.
func (l *List) point(c widget.Canvas, groups []report.FindingGroup) {
	u := l.h.UI()
	in := u.Input()
	if !c.Hot || c.Pressed&widget.Primary == 0 {
		return
	}
	for i := range l.board.Boxes {
		b, row := &l.board.Boxes[i], l.board.heads[i]
		if !in.Pointer.In(b.All) {
			continue
		}
		g := &groups[l.Rows[row].Group]
		switch line := slices.IndexFunc(b.Lines, func(r image.Rectangle) bool { return in.Pointer.In(r) }); {
		case line >= 0:
			l.Sel.Only(row + 1 + line)
			at := l.Rows[row+1+line].Finding
			if t := b.Ticks[line]; !t.Empty() && in.Pointer.In(t.Inset(-u.Px(4))) {
				l.flip(at)
			} else if in.Clicks == 2 {
				l.h.GoFinding(at)
			}
		case !in.Pointer.In(b.Head):
		case l.cards[i].Opens:
			l.Sel.Only(row)
			l.turn(g, !l.open[g.Key()])
		default:
			if l.Sel.Only(row); in.Clicks == 2 {
				l.h.GoFinding(g.Found[0])
			}
		}
		l.board.shown = l.Sel.Cursor // it is in sight
		l.h.Again()
		return
	}
}

// flip leaves a finding out of its group's fix, or takes it in again.
func (l *List) flip(finding int) {
	if l.board.left == nil {
		l.board.left = map[string]bool{}
	}
	if key := leftOut(&l.h.Findings()[finding]); l.board.left[key] {
		delete(l.board.left, key)
	} else {
		l.board.left[key] = true
	}
	l.h.Again()
}

// needTick says why the finding at the cursor can be neither left out nor taken in.
func (l *List) needTick() string {
	if why := page.NeedShow(l.h); why != "" {
		return why
	}
	at, groups := l.finding(), l.h.Groups()
	if at < 0 || at >= len(l.h.Findings()) {
		return "choose a line of an open card first"
	}
	if g := &groups[l.Rows[l.Sel.Cursor].Group]; g.Fix == nil || len(g.Found) == 1 || l.h.Findings()[at].Accepted != nil {
		return "its card has no fix that it could be left out of"
	}
	return ""
}
