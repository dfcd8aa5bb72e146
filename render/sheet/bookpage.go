package sheet

import (
	"io"
	"slices"
	"strings"

	"emberbeat/render/paper"
	"emberbeat/render/workbook"
	"emberbeat/shows/report"
	"emberbeat/shows/report/wording"
)

// oneTable is a sheet that is a list: one table says all of it, with more columns than
// paper has room for. A workbook holds that table.
type oneTable interface {
	list() workbook.Tab
}

// WriteBook writes a sheet as a workbook: a worksheet with its head and what stands
// around its tables, then its tables. Tables with the same columns are one, and say
// in their first column which part of the sheet a row is of.
func WriteBook(w io.Writer, made Sheet, size paper.Size) error {
	sh := made.Printed()
	book := &workbook.Book{Title: strings.Join(wording.NonEmpty(sh.Title, headLine(sh)), " · "), Foot: sh.Foot, Letter: size.Name == paper.Letter.Name}
	tabs := tabsOf(sh)
	if l, ok := made.(oneTable); ok {
		tab := l.list()
		tab.Name = sh.Title
		tabs = []workbook.Tab{tab}
	}
	for i := range tabs {
		tabs[i].Line = strings.Join(wording.NonEmpty(sh.Title, headLine(sh), sh.Stamp, "planning document, not permission to fire"), " · ")
	}
	book.Tabs = append([]workbook.Tab{headTab(sh)}, tabs...)
	return workbook.Write(w, book)
}

// headLine tells a sheet from another's in a line.
func headLine(sh *paper.Sheet) string {
	var parts []string
	for _, f := range sh.Facts {
		switch {
		case f.Text == wording.Given(""):
		case f.Label == "show", f.Label == "night", f.Label == "date", f.Label == "venue":
			parts = append(parts, f.Text)
		case f.Label == "revision", f.Label == "shown":
			parts = append(parts, f.Label+" "+f.Text)
		}
	}
	return strings.Join(parts, " · ")
}

// headTab is the worksheet with all of a sheet that is no table.
func headTab(sh *paper.Sheet) workbook.Tab {
	tab := workbook.Tab{Name: "Head", Line: sh.Title}
	line := func(strong bool, texts ...string) {
		row := workbook.Row{Strong: strong}
		for _, text := range texts {
			row.Cells = append(row.Cells, workbook.Cell{Text: text})
		}
		tab.Rows = append(tab.Rows, row)
	}
	for _, f := range sh.Facts {
		line(false, f.Label, f.Text)
	}
	line(false, "caution", sh.Foot)
	if sh.Stamp != "" {
		line(true, sh.Stamp)
	}
	for _, p := range sh.Parts {
		facts := append(append([]paper.Fact{}, p.Figures...), p.Entries...)
		if len(p.Notes)+len(facts) == 0 && (p.Art == nil || p.Heading == "") {
			continue
		}
		line(false)
		line(true, p.Heading)
		for _, n := range p.Notes {
			line(false, "", n)
		}
		for _, f := range facts {
			line(false, f.Label, f.Text)
		}
		if p.Art != nil {
			line(false, "", "The drawing that stands here is on paper alone: write pdf, svg or png.")
		}
	}
	return tab
}

// tabsOf gives the tables of a sheet, those with the same columns as one.
func tabsOf(sh *paper.Sheet) []workbook.Tab {
	var tabs []workbook.Tab
	at, parts, across := map[string]int{}, map[string]int{}, map[string]bool{}
	key := func(p *paper.Part) string {
		var names []string
		for _, c := range p.Columns {
			names = append(names, c.Name)
		}
		return strings.Join(names, "\x00")
	}
	for i := range sh.Parts {
		if p := &sh.Parts[i]; len(p.Columns) > 0 && len(p.Rows) > 0 {
			parts[key(p)]++
			across[key(p)] = across[key(p)] || slices.ContainsFunc(p.Rows, func(r paper.Row) bool { return r.Across })
		}
	}
	for i := range sh.Parts {
		p := &sh.Parts[i]
		k := key(p)
		several := parts[k] > 1
		if parts[k] == 0 || len(p.Rows) == 0 {
			continue
		}
		if _, known := at[k]; !known {
			at[k] = len(tabs)
			tab := workbook.Tab{Name: p.Heading}
			if several || p.Heading == "" {
				tab.Name = sh.Title
			}
			if several {
				tab.Columns = []string{"part"}
			}
			if across[k] { // a heading within a table is a column here, so that rows can be sorted
				tab.Columns = append(tab.Columns, "under")
			}
			for _, c := range p.Columns {
				tab.Columns = append(tab.Columns, c.Name)
			}
			tabs = append(tabs, tab)
		}
		tab := &tabs[at[k]]
		under := ""
		for _, r := range p.Rows {
			if r.Across {
				under = r.Cells[0]
				continue
			}
			row := workbook.Row{Strong: r.Strong}
			if several {
				row.Cells = []workbook.Cell{{Text: p.Heading}}
			}
			if across[k] {
				row.Cells = append(row.Cells, workbook.Cell{Text: under})
			}
			for j, text := range r.Cells {
				c := p.Columns[j]
				row.Cells = append(row.Cells, workbook.Cell{Text: text, Number: c.Right && !c.Words, Box: c.Box && !r.Strong})
			}
			tab.Rows = append(tab.Rows, row)
		}
	}
	return tabs
}

// list gives a table's lines for a workbook: the columns of its CSV, with numbers as
// numbers.
func (t listTable[L]) list(lines []L) workbook.Tab {
	tab := workbook.Tab{Columns: t.csvHeads()}
	for _, l := range lines {
		var row workbook.Row
		for _, c := range t {
			if c.csv == "" {
				continue
			}
			text := c.cell(l)
			if c.number {
				text = signed(text)
			}
			row.Cells = append(row.Cells, workbook.Cell{Text: text, Number: c.number})
		}
		tab.Rows = append(tab.Rows, row)
	}
	return tab
}

// signed gives a number of secondsCell or residualCell with a sign in the place of
// the word: a workbook's cell says that it is a number and no formula.
func signed(text string) string {
	for _, word := range []string{"before ", "early "} {
		if rest, ok := strings.CutPrefix(text, word); ok {
			return "-" + rest
		}
	}
	return strings.TrimPrefix(text, "late ")
}

func (l cueList) list() workbook.Tab {
	lines := make([]*report.Line, len(l.Lines))
	for i := range l.Lines {
		lines[i] = &l.Lines[i]
	}
	tab := cueColumns.list(lines)
	for _, lost := range l.Lost {
		tab.Rows = append(tab.Rows, textRow(l.lostCells(lost)))
	}
	return tab
}

// list gives the load plan by bank and device.
func (p loadPlan) list() workbook.Tab {
	tab := loadColumns.list(nil)
	for i := range p.Groups {
		g := &p.Groups[i]
		var rows []loadRow
		for k := range g.Lines {
			rows = append(rows, loadRow{g, &g.Lines[k]})
		}
		tab.Rows = append(tab.Rows, loadColumns.list(rows).Rows...)
		for _, o := range g.Spare {
			tab.Rows = append(tab.Rows, textRow(p.spareCells(g, o)))
		}
	}
	return tab
}

func textRow(cells []string) workbook.Row {
	var row workbook.Row
	for _, c := range cells {
		row.Cells = append(row.Cells, workbook.Cell{Text: c})
	}
	return row
}
