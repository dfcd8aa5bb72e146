package sheet

import (
	"cmp"
	"fmt"
	"io"
	"strconv"
	"strings"

	"emberbeat/render/paper"
	"emberbeat/shows/report"
	"emberbeat/shows/report/load"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// loadPlan makes pages of a LoadPlan.
type loadPlan struct{ *load.Plan }

// Printed gives the load plan as pages: a table for each bank, one for all DMX heads,
// what is not wired, what stands at each position, and the totals.
func (p loadPlan) Printed() *paper.Sheet {
	sh := titled(&p.Head, "Load plan")
	for _, kind := range []func(*load.Group) bool{isBank, isHead, isLoose} {
		var heads []*load.Group
		for i := range p.Groups {
			switch g := &p.Groups[i]; {
			case !kind(g):
			case isHead(g):
				heads = append(heads, g)
			default:
				sh.Parts = append(sh.Parts, loadGroupPart(g))
			}
		}
		if len(heads) > 0 {
			sh.Parts = append(sh.Parts, loadHeadsPart(heads))
		}
	}
	if len(p.Positions) > 0 {
		sh.Parts = append(sh.Parts, p.positionsPart())
	}
	totals := totalsPart(&p.Used)
	totals.Notes = append(totals.Notes, p.Celsius+" "+p.Circuits)
	sh.Parts = append(sh.Parts, totals, signPart([]report.Signer{{Role: "loader", For: "loaded and wired as listed"}, {Role: "assistant", For: "counted a second time"}}))
	return sh
}

func isHead(g *load.Group) bool  { return g.Kind == "device" }
func isLoose(g *load.Group) bool { return g.Kind == "not wired" }
func isBank(g *load.Group) bool  { return !isHead(g) && !isLoose(g) }

// loadGroupPart is the table of a bank, or of what is not wired.
func loadGroupPart(g *load.Group) paper.Part {
	p := paper.Part{Heading: loadGroupTitle(g), Dense: true}
	if g.Kind != "not wired" {
		p.Notes = []string{loadGroupSpare(g)}
	}
	if len(g.Lines) == 0 {
		return p
	}
	heads := loadColumns.pageHeads()
	p.Columns = columns(heads...)
	for i := range g.Lines {
		p.Rows = append(p.Rows, paper.Row{Cells: loadColumns.pageCells(loadRow{g, &g.Lines[i]})})
	}
	p.Rows = append(p.Rows, paper.Row{Strong: true, Cells: cellsUnder(heads, map[string]string{"placed effect": "all", "fired": strconv.Itoa(g.Used.Commands),
		"pieces": strconv.Itoa(g.Used.Pieces), "NEC g": wording.Grams(g.Used.NEC)})})
	meaning(&p)
	if isLoose(g) {
		without(&p, "output", "–")
		without(&p, "loaded", "")
	}
	return p
}

// loadHeadsPart is the table of all DMX heads.
func loadHeadsPart(groups []*load.Group) paper.Part {
	p := paper.Part{Heading: "DMX heads", Dense: true}
	heads := append([]string{"device"}, loadColumns.pageHeads()...)
	heads[1] = ">head"
	p.Columns = columns(heads...)
	add := func(g *load.Group, cells map[string]string) {
		cells["device"] = g.Name
		p.Rows = append(p.Rows, paper.Row{Cells: cellsUnder(heads, cells)})
	}
	commands, pieces, nec, several := 0, 0, 0.0, false
	for _, g := range groups {
		commands, pieces, nec = commands+g.Used.Commands, pieces+g.Used.Pieces, nec+g.Used.NEC
		several = several || g.Outputs > 1
		for i := range g.Lines {
			line := g.Lines[i]
			if g.Dead {
				line.State = append([]string{"OUT OF SERVICE"}, line.State...)
			}
			p.Rows = append(p.Rows, paper.Row{Cells: append([]string{g.Name}, loadColumns.pageCells(loadRow{g, &line})...)})
		}
		switch {
		case g.Outputs == 0:
			add(g, map[string]string{"state": loadGroupSpare(g)})
		case len(g.Spare) > 0 && len(g.Lines) == 0:
			add(g, map[string]string{"head": wording.Runs(g.Spare), "state": "spare"})
		case len(g.Spare) > 0:
			add(g, map[string]string{"head": wording.Runs(g.Spare), "state": "spare head"})
		}
	}
	p.Rows = append(p.Rows, paper.Row{Strong: true, Cells: cellsUnder(heads, map[string]string{"device": "all", "fired": strconv.Itoa(commands), "pieces": strconv.Itoa(pieces), "NEC g": wording.Grams(nec)})})
	meaning(&p)
	if !several {
		without(&p, "head", "", "1")
	}
	return p
}

// meaning drops the columns that mean nothing in a table: of masses where nothing is
// used up, of circuits where there is no igniter.
func meaning(p *paper.Part) {
	if without(p, "points", "upright", "") {
		if len(p.Notes) > 0 {
			p.Notes[0] += " · all upright"
		} else {
			p.Notes = []string{"all upright"}
		}
	}
	if without(p, "pieces", "") {
		without(p, "NEC g", "", "–")
		without(p, "division", "")
	}
	if without(p, "measured ohm", "–") {
		without(p, "expected ohm", "")
	}
	without(p, "circuit", "")
	without(p, "state", "")
}

// loadRow is a line of the load plan with the bank or device that it stands on.
type loadRow struct {
	on   *load.Group
	line *load.Line
}

// loadColumns are the columns of the load plan by bank and device, in CSV and on
// paper.
var loadColumns = listTable[loadRow]{
	{csv: "unit", cell: func(r loadRow) string { return r.on.Name }},
	{csv: "kind", cell: func(r loadRow) string { return r.on.Kind }},
	{csv: "output", number: true, page: ">output", cell: func(r loadRow) string { return wording.BlankZero(r.line.Output) }, print: func(r loadRow) string { return cmp.Or(wording.BlankZero(r.line.Output), "–") }},
	{page: "☐loaded", cell: func(r loadRow) string { return "" }},
	{csv: "position", cell: func(r loadRow) string { return r.line.Position }},
	{csv: "placed effect", page: "placed effect", cell: func(r loadRow) string { return r.line.PlacedName }},
	{page: "position", cell: func(r loadRow) string { return wording.Given(r.line.Position) }},
	{csv: "article", page: "article", cell: func(r loadRow) string { return r.line.ArticleName }},
	{page: "points", cell: func(r loadRow) string { return r.line.Points }},
	{csv: "commands", number: true, page: ">fired", cell: func(r loadRow) string { return strconv.Itoa(r.line.Commands) }},
	{csv: "pieces", number: true, page: ">pieces", cell: func(r loadRow) string { return wording.BlankZero(r.line.Pieces) }},
	{csv: "NEC g", number: true, page: ">NEC g", cell: func(r loadRow) string { return r.line.Nec() }},
	{csv: "division", page: "division", cell: func(r loadRow) string { return r.line.Division }},
	{csv: "first song", cell: func(r loadRow) string { return r.line.FirstSong }},
	{csv: "first timecode", cell: func(r loadRow) string { return r.line.FirstAt }},
	{page: ">song", cell: func(r loadRow) string { return songNumber(r.line.FirstSong) }},
	{page: "first use", cell: func(r loadRow) string { return r.line.FirstAt }},
	{csv: "circuit", page: "circuit", cell: func(r loadRow) string { return r.line.Circuit }},
	{csv: "expected ohm", number: true, page: ">expected ohm", cell: func(r loadRow) string { return r.line.ExpectedText() }},
	{csv: "measured ohm", page: "[measured ohm", cell: func(loadRow) string { return "" }, print: func(r loadRow) string { return loadLineMeasured(r.line) }},
	{csv: "state", page: "state", cell: func(r loadRow) string { return strings.Join(r.line.State, ", ") }},
	{csv: "points", cell: func(r loadRow) string { return r.line.Points }},
}

// songNumber gives the number of a song that is told with its title.
func songNumber(song string) string {
	number, _, _ := strings.Cut(song, " ")
	return number
}

// loadLineMeasured is a box for what has no igniter to measure.
func loadLineMeasured(line *load.Line) string {
	if line.Output > 0 && line.Igniter {
		return ""
	}
	return "–"
}

// positionsPart is what stands where, position by position.
func (p loadPlan) positionsPart() paper.Part {
	part := paper.Part{Heading: "By position", Dense: true, Columns: columns("placed effect", "☐in place", "article", "outputs", ">fired", ">pieces", ">NEC g", "division", ">song", "first use", "state")}
	row := func(cells ...string) []string { return append(cells, make([]string, len(part.Columns)-len(cells))...) }
	for i := range p.Positions {
		l := &p.Positions[i]
		name := cmp.Or(l.Name, "no name")
		if l.ID == "" {
			name = "Position not given"
		}
		part.Rows = append(part.Rows, paper.Row{Strong: true, Across: true,
			Cells: row(fmt.Sprintf("%s · %s fired · %s · NEC %s g", name, timeline.Counted(l.Used.Commands, "time"), timeline.Counted(l.Used.Pieces, "piece"), wording.Grams(l.Used.NEC)))})
		for k := range l.Lines {
			line := &l.Lines[k]
			part.Rows = append(part.Rows, paper.Row{With: k == 0, Cells: []string{line.PlacedName, "", line.ArticleName, line.Outputs, strconv.Itoa(line.Commands), wording.BlankZero(line.Pieces), line.Nec(), line.Division,
				songNumber(line.FirstSong), line.FirstAt, strings.Join(line.State, ", ")}})
		}
	}
	meaning(&part)
	return part
}

// WriteCSV writes the load plan after RFC 4180: the head, a line of column
// names, a line for each article at each output, one for each spare output,
// and the totals by division.
func (p loadPlan) WriteCSV(w io.Writer) error {
	heads := loadColumns.csvHeads()
	c := newCSV(w, len(heads))
	c.line("load plan")
	for _, pair := range p.Head.Lines() {
		c.line(pair[0], pair[1])
	}
	c.line(heads...)
	for i := range p.Groups {
		g := &p.Groups[i]
		for k := range g.Lines {
			c.line(loadColumns.csvCells(loadRow{g, &g.Lines[k]})...)
		}
		for _, o := range g.Spare {
			c.line(p.spareCells(g, o)...)
		}
	}
	for _, d := range p.Used.Divisions {
		c.line(cellsUnder(heads, map[string]string{"unit": "total", "pieces": strconv.Itoa(d.Pieces), "NEC g": wording.Grams(d.NEC), "division": wording.Division(d.Division)})...)
	}
	c.line(cellsUnder(heads, map[string]string{"unit": "total", "commands": strconv.Itoa(p.Used.Commands), "pieces": strconv.Itoa(p.Used.Pieces), "NEC g": wording.Grams(p.Used.NEC), "division": "all"})...)
	return c.done()
}

// spareCells says in the plan's columns that nothing hangs on an output.
func (p loadPlan) spareCells(g *load.Group, output int) []string {
	return cellsUnder(loadColumns.csvHeads(), map[string]string{"unit": g.Name, "kind": g.Kind, "output": strconv.Itoa(output), "state": "spare output"})
}

// loadGroupTitle is what the group is called on paper.
func loadGroupTitle(g *load.Group) string {
	if g.Kind == "not wired" {
		return g.Name
	}
	parts := []string{g.Name, g.Kind}
	if g.Outputs > 0 {
		parts = append(parts, timeline.Counted(g.Outputs, loadGroupOutputWord(g)))
	}
	if g.Position != "" {
		parts = append(parts, g.Position)
	}
	text := strings.Join(parts, " · ")
	if g.Dead {
		text += " · OUT OF SERVICE"
	}
	return text
}

func loadGroupOutputWord(g *load.Group) string {
	if g.Kind == "device" {
		return "head"
	}
	return "output"
}

// loadGroupSpare says which outputs nothing hangs on, runs of them as from–to.
func loadGroupSpare(g *load.Group) string {
	if g.Outputs == 0 {
		return "how many outputs it has is not known: its type is lost"
	}
	if len(g.Spare) == 0 {
		return "no spare " + loadGroupOutputWord(g)
	}
	return fmt.Sprintf("spare %ss: %s", loadGroupOutputWord(g), wording.Runs(g.Spare))
}
