package sheet

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"emberbeat/render"
	"emberbeat/render/paper"
	"emberbeat/shows/report"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline/units"
)

// Sheet is a sheet that can be printed, and read by other programs.
type Sheet interface {
	Printed() *paper.Sheet
	WriteCSV(io.Writer) error
	WriteJSON(io.Writer) error
}

// WritePDF writes a sheet as PDF on a paper.
func WritePDF(w io.Writer, p Sheet, size paper.Size) error {
	sh := p.Printed()
	return paper.WritePDF(w, sh.Pages(render.NewFaces(), size), sh.Paper(size), &render.Day, sh.Title)
}

// WritePage writes one page of a sheet, counted from 1, as PNG with 288 dots an
// inch. A page that the sheet does not have is an error that says how many it
// has.
func WritePage(w io.Writer, p Sheet, size paper.Size, page int) error {
	s, err := pageOf(p.Printed(), size, page)
	if err != nil {
		return err
	}
	return paper.WritePNG(w, s, &render.Day)
}

// WriteDrawing writes one page of a sheet as SVG, as WritePage does as PNG.
func WriteDrawing(w io.Writer, p Sheet, size paper.Size, page int) error {
	sh := p.Printed()
	s, err := pageOf(sh, size, page)
	if err != nil {
		return err
	}
	return paper.WriteSVG(w, s, &render.Day, sh.Title)
}

func pageOf(sh *paper.Sheet, size paper.Size, page int) (*render.Scene, error) {
	pages := sh.Pages(render.NewFaces(), size)
	if page < 1 || page > len(pages) {
		return nil, fmt.Errorf("there is no page %d: the sheet has pages 1 to %d", page, len(pages))
	}
	return pages[page-1], nil
}

// titled starts a printed sheet with the title block and the cautions that every
// one has.
func titled(h *report.Head, title string) *paper.Sheet {
	sh := &paper.Sheet{Title: title, Foot: h.Caution, Wide: true, Uncut: report.CheckedLabel}
	for _, f := range [][2]string{{"show", h.Show}, {"night", h.Night}, {"revision", h.Revision}, {"date", h.Date}, {"venue", h.Venue}, {"set", h.Set},
		{"timecode rate", h.Rate}, {"rule set", h.RuleSetSaid}, {"marks used", h.Marks}} {
		sh.Facts = append(sh.Facts, paper.Fact{Label: f[0], Text: wording.Given(f[1])})
	}
	if h.Told != units.Metres {
		sh.Facts = append(sh.Facts, paper.Fact{Label: report.UnitsLabel, Text: h.Told.Said()})
	}
	if h.Played != "" {
		sh.Facts = append(sh.Facts, paper.Fact{Label: report.PlayedLabel, Text: h.Played})
	}
	if h.Shown != "" {
		sh.Facts = append(sh.Facts, paper.Fact{Label: "shown", Text: h.Shown})
	}
	if h.Checked != nil {
		sh.Facts = append(sh.Facts, paper.Fact{Label: report.CheckedLabel, Text: h.Checked.Text()})
	}
	return sh
}

// columnSigns stand before the names of columns and say what they hold.
const columnSigns = ">»[☐"

// columns makes the columns of a printed table: a name that begins with > has
// numbers, which stand to the right, one with » what stands there and is none, as
// bars with their beats; one that begins with [ has boxes to write in, and ☐ boxes to tick.
func columns(names ...string) []paper.Column {
	list := make([]paper.Column, len(names))
	for i, n := range names {
		words, tick := strings.HasPrefix(n, "»"), strings.HasPrefix(n, "☐")
		list[i] = paper.Column{Name: strings.TrimLeft(n, columnSigns), Right: words || n[0] == '>', Words: words, Box: tick || n[0] == '[', Tick: tick}
	}
	return list
}

// without drops the columns of a part in which every row that is no total says one of
// some texts: a column that means nothing takes room from those that do.
func without(p *paper.Part, heading string, texts ...string) (dropped bool) {
	i := slices.IndexFunc(p.Columns, func(c paper.Column) bool { return c.Name == heading })
	if i < 0 || slices.ContainsFunc(p.Rows, func(r paper.Row) bool { return !r.Strong && !slices.Contains(texts, r.Cells[i]) }) {
		return false
	}
	dropColumn(p, heading)
	return true
}

func dropColumn(p *paper.Part, heading string) {
	i := slices.IndexFunc(p.Columns, func(c paper.Column) bool { return c.Name == heading })
	p.Columns = slices.Delete(p.Columns, i, i+1)
	for k := range p.Rows {
		p.Rows[k].Cells = slices.Delete(p.Rows[k].Cells, i, i+1)
	}
}

// writeParts writes the parts of a printed sheet as CSV: its title and head,
// then for each part its heading, notes, column names and rows.
func writeParts(w io.Writer, title string, h report.Head, parts []paper.Part) error {
	width := 2
	for _, p := range parts {
		width = max(width, len(p.Columns))
	}
	c := newCSV(w, width)
	c.line(title)
	for _, pair := range h.Lines() {
		c.line(pair[0], pair[1])
	}
	for _, p := range parts {
		c.line(p.Heading)
		for _, n := range p.Notes {
			c.line("note", n)
		}
		for _, f := range append(slices.Clone(p.Figures), p.Entries...) {
			c.line(f.Label, f.Text)
		}
		names := make([]string, len(p.Columns))
		for i := range p.Columns {
			names[i] = p.Columns[i].Name
		}
		if len(names) > 0 {
			c.line(names...)
		}
		for _, r := range p.Rows {
			c.line(r.Cells...)
		}
	}
	return c.done()
}

// checkedParts say what the rules were asked about a plan and what not; none
// where nobody asked them.
func checkedParts(h *report.Head) []paper.Part {
	if h.Checked == nil {
		return nil
	}
	p := paper.Part{Heading: "What was checked", Columns: columns("what", "how it stood when this was made"),
		Notes: []string{"By rules of this program, which look at what is written down and at nothing else."}}
	for _, l := range h.Checked.Lines() {
		p.Rows = append(p.Rows, paper.Row{Cells: []string{l[0], l[1]}})
	}
	return []paper.Part{p}
}
