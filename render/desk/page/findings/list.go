package findings

import (
	"fmt"
	"image"
	"slices"

	"emberbeat/render"
	"emberbeat/render/causes"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/shows/report"
	"emberbeat/timeline"
)

// ID is that of the page.
const ID = "findings"

// List is the list with what it remembers: a row for each group, and below those that are open one for each of their findings.
type List struct {
	Sel  widget.Selection // of Rows
	Rows []Row            // as they were drawn last

	h      page.Host
	open   map[string]bool // groups by their key
	wanted int             // 1 + the finding whose row shall be chosen
	board  Board           // the page
	cards  []causes.Card   // on it
}

// Row is a row of the list.
type Row struct {
	Group   int // place among the groups
	Finding int // place among the findings, -1 for the row of the group itself
}

// New gives the list, and its page.
func New(h page.Host) page.Family {
	l := &List{h: h}
	return page.Family{State: l, Pages: []page.Page{{ID: ID, Name: "Findings", Part: "Checks", Keys: []string{"Shift+F7"}, Draw: l.page,
		Help: "what the rules have found, a card for each cause, worst first; → opens it, H leaves a place out of its fix, Enter goes there",
		Acts: map[string]page.Act{"disable": {Off: l.needTick, Run: func() { l.flip(l.finding()) }}}}}}
}

// Show opens the group of a finding, and chooses its row when the list is drawn next.
func (l *List) Show(finding int) {
	groups := l.h.Groups()
	for i := range groups {
		if g := &groups[i]; len(g.Found) > 1 && slices.Contains(g.Found, finding) {
			l.turn(g, true)
			l.board.showAll(g)
		}
	}
	l.wanted = finding + 1
}

// Group gives the group whose own row is chosen, with the fix of those that are ticked, nil where a single finding is, or nothing.
func (l *List) Group() *report.FindingGroup {
	groups := l.h.Groups()
	if i := l.Sel.Cursor; l.Sel.Has(i) && i < len(l.Rows) && l.Rows[i].Finding < 0 && l.Rows[i].Group < len(groups) {
		g := groups[l.Rows[i].Group]
		g.Fix = l.fixOf(&g)
		return &g
	}
	return nil
}

// Board is what the page remembers.
func (l *List) Board() *Board { return &l.board }

// finding gives the finding whose row is chosen, -1 for none.
func (l *List) finding() int {
	if i := l.Sel.Cursor; l.Sel.Has(i) && i < len(l.Rows) {
		return l.Rows[i].Finding
	}
	return -1
}

// turn opens a group or closes it.
func (l *List) turn(g *report.FindingGroup, open bool) {
	if l.open == nil {
		l.open = map[string]bool{}
	}
	l.open[g.Key()] = open
}

// list makes the rows of some groups anew. A group of one finding is that finding; of an open one so many have rows at most, unless all are asked for.
func (l *List) list(groups []report.FindingGroup, order []int, most int) {
	l.Rows = l.Rows[:0]
	for _, i := range order {
		g := &groups[i]
		if len(g.Found) == 1 {
			l.Rows = append(l.Rows, Row{i, g.Found[0]})
			continue
		}
		l.Rows = append(l.Rows, Row{i, -1})
		if l.open[g.Key()] {
			for k, at := range g.Found {
				if k >= most && !l.board.whole[g.Key()] {
					break
				}
				l.Rows = append(l.Rows, Row{i, at})
			}
		}
	}
	if l.wanted > 0 {
		if i := slices.IndexFunc(l.Rows, func(r Row) bool { return r.Finding == l.wanted-1 }); i >= 0 {
			l.Sel.Only(i)
		}
		l.wanted = 0
	}
}

// Draw draws the list as a panel that can be closed.
func (l *List) Draw(r image.Rectangle) {
	u := l.h.UI()
	groups := l.h.Groups()
	order := make([]int, len(groups))
	for i := range order {
		order[i] = i
	}
	l.list(groups, order, len(l.h.Findings()))
	s := u.Scene()
	k := u.Stack(r, 4)
	l.head(k.Top(24))
	found := l.h.Findings()
	spec := widget.TableSpec{
		Columns: []widget.Column{{Title: "", Width: 42}, {Title: "Rule", Width: 130}, {Title: "Song", Width: 150}, {Title: "Where", Width: 190}, {Title: "What"}},
		Rows:    len(l.Rows), Empty: l.h.Summary(),
		Cell: func(b []byte, row, col int) []byte { return l.cell(groups, l.Rows[row], b, col) },
		Draw: func(row, col int, r image.Rectangle) bool {
			if col == 0 {
				l.sign(&groups[l.Rows[row].Group], l.Rows[row], r)
			}
			return col == 0
		},
		Ink: func(row int) render.Ink {
			x := l.Rows[row]
			if x.Finding < 0 && groups[x.Group].Open() == 0 || x.Finding >= 0 && found[x.Finding].Accepted != nil {
				return render.InkFaint
			}
			return render.InkText
		},
	}
	if u.Focused(ID) {
		l.keys(groups)
	}
	e := u.Table(ID, k.Rest(), &l.Sel, &spec)
	if !e.Changed && !e.Used || len(l.Rows) == 0 {
		return
	}
	x := l.Rows[min(l.Sel.Cursor, len(l.Rows)-1)]
	in := u.Input()
	switch onSign := in.Pressed != 0 && in.Pointer.X < r.Min.X+s.Px(42); {
	case x.Finding >= 0:
		l.h.GoFinding(x.Finding)
	case x.Finding < 0 && (e.Used || onSign):
		g := &groups[x.Group]
		l.turn(g, !l.open[g.Key()])
	}
	l.h.Again()
}

// keys opens and closes the group at the cursor.
func (l *List) keys(groups []report.FindingGroup) {
	i := l.Sel.Cursor
	if i >= len(l.Rows) {
		return
	}
	u, g := l.h.UI(), &groups[l.Rows[i].Group]
	switch {
	case len(g.Found) == 1:
	case u.Take(widget.KeyRight, 0):
		l.turn(g, true)
		l.h.Again()
	case u.Take(widget.KeyLeft, 0):
		l.turn(g, false)
		l.Sel.Only(slices.IndexFunc(l.Rows, func(r Row) bool { return r.Group == l.Rows[i].Group }))
		l.h.Again()
	}
}

// head says what can be done about the chosen row.
func (l *List) head(r image.Rectangle) {
	u := l.h.UI()
	head := u.Stack(r, 8)
	button := func(command, label string, width int, main bool) {
		box := head.Right(width)
		u.Off(l.h.Off(command))
		if main && u.MainButton(command, box, label) || !main && u.Button(command, box, label) {
			l.h.Use(command)
		}
	}
	button("findings", "Close", 70, false)
	u.Tip("Closes the list", l.h.Key("findings"))
	button("accept", "Accept…", 90, false)
	u.Tip("Takes the chosen finding for this night, with a reason; it stays counted", l.h.Key("accept"))
	found := l.h.Findings()
	switch g, at := l.Group(), l.finding(); {
	case g != nil && g.Fix != nil:
		label := "Fix all: " + g.Fix.Label
		button("fix-all", label, min(u.ButtonWidth(label), 380), true)
		u.Tip("Makes this change as one step; undo takes it back", l.h.Key("fix-all"))
	case g == nil && at >= 0 && at < len(found) && found[at].Fix != nil:
		label := "Fix: " + found[at].Fix.Label
		button("fix", label, min(u.ButtonWidth(label), 380), true)
		u.Tip("Makes this change; undo takes it back", l.h.Key("fix"))
	}
	u.Label(head.Rest(), render.TypeLabel, render.InkSecondary, l.advice())
}

// advice says of the chosen row what its fix would come to, or what would do; where none is chosen, what was found in all.
func (l *List) advice() string {
	found := l.h.Findings()
	switch g, at := l.Group(), l.finding(); {
	case g != nil && g.Fix != nil:
		if would, known := l.h.Would(l.fixKey(g), g.Fix.Edits...); known {
			return would
		}
		return "Looking what this would change…"
	case g != nil:
		text := page.Upper(found[g.Found[0]].Help)
		if g.Cause != "" {
			text = page.Upper(g.Cause) + ". " + text
		}
		return text
	case at >= 0 && at < len(found) && found[at].Help != "":
		return found[at].Help
	}
	text := l.h.Summary()
	if n := len(l.h.Groups()); n > 0 {
		text += ", from " + timeline.Counted(n, "cause")
	}
	return text
}

// sign draws how grave a group or finding is, and before a group whether it is open.
func (l *List) sign(g *report.FindingGroup, x Row, r image.Rectangle) {
	s := l.h.UI().Scene()
	if x.Finding < 0 {
		mid, at, p := float32(r.Min.Y+r.Max.Y)/2, float32(r.Min.X), s.Scale.Pxf(4)
		points := []render.Point{{X: at, Y: mid - p}, {X: at + p, Y: mid}, {X: at, Y: mid + p}}
		if l.open[g.Key()] {
			points = []render.Point{{X: at - p/2, Y: mid - p/2}, {X: at + p/4, Y: mid + p/2}, {X: at + p, Y: mid - p/2}}
		}
		s.Line(s.Scale.Pxf(1.5), render.InkText, 255, points...)
	}
	if x.Finding < 0 || len(g.Found) == 1 {
		s.Badge(image.Pt(r.Min.X+s.Px(11), (r.Min.Y+r.Max.Y-s.Px(render.BadgeSize))/2), render.SeverityOf(g.Severity))
	}
}

// cell writes a cell of the list.
func (l *List) cell(groups []report.FindingGroup, x Row, b []byte, col int) []byte {
	g := &groups[x.Group]
	if x.Finding < 0 {
		switch col {
		case 1:
			return append(b, g.Rule...)
		case 2:
			return append(b, g.Where...)
		case 3:
			return append(b, g.Cause...)
		case 4:
			if g.Accepted > 0 {
				b = fmt.Appendf(b, "%d accepted: ", g.Accepted)
			}
			return append(b, page.Upper(g.Title)...)
		}
		return b
	}
	f := &l.h.Findings()[x.Finding]
	switch col {
	case 1:
		if len(g.Found) == 1 { // else the group's row says it
			return append(b, f.Rule...)
		}
	case 2:
		if s := l.h.Show().Song(f.Song); s != nil {
			return append(b, s.FullTitle()...)
		}
	case 3:
		return append(b, page.Where(f, l.h.Plan().Rate)...)
	case 4:
		if f.Accepted != nil {
			b = append(b, "accepted: "...)
		}
		return append(b, f.Text...)
	}
	return b
}
