package tonight

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"

	"emberbeat/shows/report"
	"emberbeat/shows/report/night"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// Todo is a line of what there is to do on a night: a heading, or a line that leads somewhere.
type Todo struct {
	Head   bool
	Text   string
	Detail string
	Badge  rule.Severity // "" for none
	Lead   func()        // nil where there is nothing to mend
}

// todoList gathers lines under headings.
type todoList []Todo

func (l *todoList) heading(text string) { *l = append(*l, Todo{Head: true, Text: text}) }

func (l *todoList) line(text, detail string, lead func()) {
	*l = append(*l, Todo{Text: text, Detail: detail, Lead: lead})
}

// none says that there is nothing below the last heading, if so.
func (l *todoList) none(text string) {
	if n := len(*l); n > 0 && (*l)[n-1].Head {
		l.line(text, "", nil)
	}
}

// toPage leads to a page of the book.
func (p *Tonight) toPage(id string) func() { return func() { p.h.Turn(id) } }

// toRecord leads to a record.
func (p *Tonight) toRecord(kind string, id string) func() {
	return func() { p.h.Go(timeline.Ref{Kind: kind, ID: timeline.ID(id)}) }
}

// Todos lists what there is to do on a night, in the order of the day.
func (p *Tonight) Todos(t *night.Tonight) []Todo {
	var l todoList
	p.findingTodos(&l, t)
	p.printTodos(&l)
	p.changeTodos(&l, t)
	p.loadTodos(&l, t)
	p.supplyTodos(&l, t)
	p.openTodos(&l, t)
	p.signTodos(&l, t)
	return l
}

// findingTodos says of each rule how often it has found something that nobody has accepted.
func (p *Tonight) findingTodos(l *todoList, t *night.Tonight) {
	l.heading("Findings: " + p.h.Summary())
	for _, c := range t.Rules {
		name := c.Rule
		at := slices.IndexFunc(p.h.Findings(), func(f rule.Finding) bool { return f.Rule == name && f.Accepted == nil })
		if at < 0 {
			continue
		}
		detail := fmt.Sprintf("%d found", c.Found)
		if c.Accepted > 0 {
			detail += fmt.Sprintf(", %d accepted", c.Accepted)
		}
		l.line(name, detail, func() {
			if at < len(p.h.Findings()) && p.h.Findings()[at].Rule == name {
				p.h.GoFinding(at)
			}
		})
		(*l)[len(*l)-1].Badge = p.h.Findings()[at].Severity
	}
	l.none("none is open")
}

func (p *Tonight) changeTodos(l *todoList, t *night.Tonight) {
	l.heading("Changes from the tour")
	for _, c := range t.Changes {
		l.line(c.Text, timeline.Counted(c.Cues, "cue")+reasonText(c.Reason), p.toPage("nights"))
	}
	for _, n := range t.NotPlayed {
		l.line("not played: "+n.Title, n.Why, p.toPage("sets"))
	}
	for _, c := range t.Conditions {
		l.line("condition: "+c.Text, "of the "+c.From, p.toPage(c.From+"s"))
	}
	l.none("nothing")
}

func reasonText(reason string) string {
	if reason == "" {
		return ", no reason given"
	}
	return ": " + reason
}

// loadTodos lists the outputs to load, bank by bank.
func (p *Tonight) loadTodos(l *todoList, t *night.Tonight) {
	l.heading(fmt.Sprintf("To load: %s, NEC %s g", timeline.Counted(t.Used.Pieces, "piece"), strconv.FormatFloat(t.Used.NEC, 'f', -1, 64)))
	for i := range t.Load {
		b := &t.Load[i]
		name := b.Name
		if b.Dead {
			name += ", out of service"
		}
		lead := p.toPage("outputs")
		if b.ID != "" {
			lead = p.toRecord("bank", b.ID)
		}
		l.line(name, fmt.Sprintf("%s, NEC %s g", timeline.Counted(b.Used.Pieces, "piece"), strconv.FormatFloat(b.Used.NEC, 'f', -1, 64)), lead)
		for k := range b.Units {
			u := &b.Units[k]
			output := "not wired"
			if u.Output > 0 {
				output = "output " + strconv.Itoa(u.Output)
			}
			l.line("   "+output+": "+u.PlacedName, u.ArticleName, p.toRecord("placed", u.Placed))
		}
	}
	l.none("nothing that is used up is commanded")
}

func (p *Tonight) supplyTodos(l *todoList, t *night.Tonight) {
	l.heading("Supplies (estimates)")
	for i := range t.Supplies {
		s := &t.Supplies[i]
		fill := "as filled, not weighed"
		if s.Weighed {
			fill = "weighed"
		}
		l.line(s.Name, fmt.Sprintf("uses %s of %s, %s", p.kilos(s.Uses), p.kilos(s.Usable), fill), p.toRecord("supply", s.Supply))
		if s.Short {
			l.line("   one hit takes more than a full one holds above its reserve", "", p.toRecord("supply", s.Supply))
		}
		for _, x := range s.Swaps {
			l.line(fmt.Sprintf("   swap after hit %d of song %d %q", x.Hit, x.SongNumber, x.SongTitle), x.Timecode+", "+p.kilos(x.Left)+" left", p.toRecord("supply", s.Supply))
		}
	}
	l.none("none in the rig")
}

func (p *Tonight) kilos(kg float64) string { return p.h.Show().Told().Say("kg", kg, 2) }

// openTodos lists what must be closed by hand.
func (p *Tonight) openTodos(l *todoList, t *night.Tonight) {
	l.heading("Open when the song ends: close by hand")
	for _, o := range t.ByHand {
		song := ""
		if n := o.SongNumber; n >= 1 && n <= len(t.Songs) {
			song = t.Songs[n-1].Song
		}
		cue := o.Cue
		l.line(fmt.Sprintf("%s of song %d", o.What, o.SongNumber), o.Role+", opened "+o.Opened+", closes "+cmp.Or(o.Closes, "never"), func() {
			p.h.Go(timeline.Ref{Kind: "cue", Song: timeline.ID(song), ID: timeline.ID(cue)})
		})
	}
	l.none("nothing")
}

func (p *Tonight) signTodos(l *todoList, t *night.Tonight) {
	l.heading("To sign")
	for _, s := range t.Sign {
		l.line(s.Role+": "+cmp.Or(s.Name, "name not given"), s.For, p.toPage("nights"))
	}
	l.none("nobody")
}

// printTodos says which sheets have changed since they were printed.
func (p *Tonight) printTodos(l *todoList) {
	l.heading("Sheets since the last print")
	never := 0
	for _, s := range p.h.Prints() {
		name, was := s.Sheet, "printed"
		if s.Revision != "" {
			was = "printed as revision " + s.Revision
		}
		lead := func() { p.h.Export(name) }
		switch s.State {
		case report.Changed:
			l.line("print again: "+s.Title, was+", looks otherwise now", lead)
		case report.NotMade:
			l.line(s.Title+" cannot be made any more", was+"; "+s.Why, nil)
		case report.AsPrinted:
			l.line(s.Title, was+", unchanged", lead)
		case report.NeverPrinted:
			never++
		}
	}
	if never > 0 {
		l.line(timeline.Counted(never, "sheet")+" never printed", "all into a folder, marked as printed", func() { p.h.Use("export-all") })
	}
	l.none("all stand as they were printed")
}
