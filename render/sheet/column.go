package sheet

import "strings"

// listColumn is one column of a list that is printed and written as CSV: heading
// and cell in both, so that one more column is one more row of a listTable. What
// stands in another place on paper has a row for either.
type listColumn[L any] struct {
	csv   string // heading; "" = not in CSV
	page  string // heading on paper, with the signs of columns; "" = not on paper
	cell  func(L) string
	print func(L) string // the cell on paper; nil = as in CSV

	number bool // in a workbook its cells are numbers, where they are written as one
}

type listTable[L any] []listColumn[L]

// csvHeads gives the headings of the CSV.
func (t listTable[L]) csvHeads() []string {
	var heads []string
	for _, c := range t {
		if c.csv != "" {
			heads = append(heads, c.csv)
		}
	}
	return heads
}

// pageHeads gives the headings on paper, with their signs.
func (t listTable[L]) pageHeads() []string {
	var heads []string
	for _, c := range t {
		if c.page != "" {
			heads = append(heads, c.page)
		}
	}
	return heads
}

// csvCells gives the cells of a line in CSV.
func (t listTable[L]) csvCells(line L) []string {
	var cells []string
	for _, c := range t {
		if c.csv != "" {
			cells = append(cells, c.cell(line))
		}
	}
	return cells
}

// pageCells gives the cells of a line on paper.
func (t listTable[L]) pageCells(line L) []string {
	var cells []string
	for _, c := range t {
		switch {
		case c.page == "":
		case c.print != nil:
			cells = append(cells, c.print(line))
		default:
			cells = append(cells, c.cell(line))
		}
	}
	return cells
}

// cellsUnder gives the cells of a line of another kind, such as totals: texts by
// their heading, without its sign. A heading that is not there is a mistake in the
// program, and panics.
func cellsUnder(heads []string, texts map[string]string) []string {
	cells := make([]string, len(heads))
	used := 0
	for i, h := range heads {
		if text, ok := texts[strings.TrimLeft(h, columnSigns)]; ok {
			cells[i] = text
			used++
		}
	}
	if used != len(texts) {
		panic("sheet: a text for a column that is not there")
	}
	return cells
}
