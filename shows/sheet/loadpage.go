package sheet

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"emberbeat/render/paper"
)

// Sheet gives the load plan as pages: by bank and device, by position, and the
// totals.
func (p *LoadPlan) Sheet() *paper.Sheet {
	sh := p.Head.sheet("Load plan")
	for i := range p.Groups {
		sh.Parts = append(sh.Parts, p.Groups[i].part())
	}
	for i := range p.Positions {
		sh.Parts = append(sh.Parts, p.Positions[i].part())
	}
	totals := p.Used.part()
	totals.Notes = append(totals.Notes, p.celsius+" "+p.Circuits)
	sh.Parts = append(sh.Parts, totals)
	return sh
}

func (g *LoadGroup) part() paper.Part {
	p := paper.Part{Heading: g.title()}
	if g.Kind != "not wired" {
		p.Notes = []string{g.spare()}
	}
	if len(g.Lines) == 0 {
		return p
	}
	p.Columns = columns(">"+g.outputWord(), "placed effect", "position", "article", ">fired", ">pieces", ">NEC g", "division", "first use", "circuit", ">expected ohm", "[measured ohm", "state")
	for i := range g.Lines {
		p.Rows = append(p.Rows, paper.Row{Cells: g.Lines[i].printed()})
	}
	p.Rows = append(p.Rows, paper.Row{Cells: []string{"", "all", "", "", strconv.Itoa(g.Used.Commands), strconv.Itoa(g.Used.Pieces), grams(g.Used.NEC), "", "", "", "", "", ""}, Strong: true})
	return p
}

func (line *LoadLine) printed() []string {
	output, measured := "–", "–"
	if line.Output > 0 {
		output = strconv.Itoa(line.Output)
		if line.Igniter {
			measured = ""
		}
	}
	pieces, nec := line.pieces()
	return []string{output, line.PlacedName, line.Position, line.ArticleName, strconv.Itoa(line.Commands), pieces, nec, line.Division,
		strings.TrimSpace(line.FirstAt + "  " + line.FirstSong), line.Circuit, line.expected(), measured, strings.Join(line.State, ", ")}
}

func (l *LoadPosition) part() paper.Part {
	name := l.Name
	if l.ID == "" {
		name = "not given"
	}
	p := paper.Part{Heading: "Position: " + name, Columns: columns("placed effect", "article", "outputs", ">fired", ">pieces", ">NEC g", "division", "first use", "state")}
	for i := range l.Lines {
		line := &l.Lines[i]
		pieces, nec := line.pieces()
		p.Rows = append(p.Rows, paper.Row{Cells: []string{line.PlacedName, line.ArticleName, line.Outputs, strconv.Itoa(line.Commands), pieces, nec, line.Division,
			strings.TrimSpace(line.FirstAt + "  " + line.FirstSong), strings.Join(line.State, ", ")}})
	}
	p.Rows = append(p.Rows, paper.Row{Cells: []string{"all", "", "", strconv.Itoa(l.Used.Commands), strconv.Itoa(l.Used.Pieces), grams(l.Used.NEC), "", "", ""}, Strong: true})
	return p
}

var loadColumns = []string{"unit", "kind", "output", "position", "placed effect", "article", "commands", "pieces", "NEC g", "division",
	"first song", "first timecode", "circuit", "expected ohm", "measured ohm", "state"}

// WriteCSV writes the load plan after RFC 4180: the head, a line of column
// names, a line for each article at each output, one for each spare output,
// and the totals by division.
func (p *LoadPlan) WriteCSV(w io.Writer) error {
	c := newCSV(w, len(loadColumns))
	c.line("load plan")
	for _, pair := range p.Head.lines() {
		c.line(pair[0], pair[1])
	}
	c.line(loadColumns...)
	for i := range p.Groups {
		p.Groups[i].csv(c)
	}
	for _, d := range p.Used.Divisions {
		c.line("total", "", "", "", "", "", "", strconv.Itoa(d.Pieces), grams(d.NEC), division(d.Division))
	}
	c.line("total", "", "", "", "", "", strconv.Itoa(p.Used.Commands), strconv.Itoa(p.Used.Pieces), grams(p.Used.NEC), "all")
	return c.done()
}

func (g *LoadGroup) csv(c *csvSheet) {
	for i := range g.Lines {
		line := &g.Lines[i]
		output := ""
		if line.Output > 0 {
			output = strconv.Itoa(line.Output)
		}
		pieces, nec := line.pieces()
		c.line(g.Name, g.Kind, output, line.Position, line.PlacedName, line.ArticleName, strconv.Itoa(line.Commands), pieces, nec, line.Division,
			line.FirstSong, line.FirstAt, line.Circuit, line.expected(), "", strings.Join(line.State, ", "))
	}
	for _, o := range g.Spare {
		c.line(g.Name, g.Kind, strconv.Itoa(o), "", "", "", "", "", "", "", "", "", "", "", "", "spare output")
	}
}

// title is what the group is called on paper.
func (g *LoadGroup) title() string {
	if g.Kind == "not wired" {
		return g.Name
	}
	parts := []string{g.Name, g.Kind}
	if g.Outputs > 0 {
		parts = append(parts, counted(g.Outputs, g.outputWord()))
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

func (g *LoadGroup) outputWord() string {
	if g.Kind == "device" {
		return "head"
	}
	return "output"
}

// spare says which outputs nothing hangs on, runs of them as from–to.
func (g *LoadGroup) spare() string {
	if g.Outputs == 0 {
		return "how many outputs it has is not known: its type is lost"
	}
	if len(g.Spare) == 0 {
		return "no spare " + g.outputWord()
	}
	return fmt.Sprintf("spare %ss: %s", g.outputWord(), runs(g.Spare))
}
