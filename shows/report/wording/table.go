package wording

import (
	"bufio"
	"io"
	"strings"
	"unicode/utf8"
)

// Table is a list for people: columns as wide as their widest cell, two spaces
// between them, no space at the end of a line.
type Table struct {
	Columns []Column
	Rows    [][]string
}

// Column is the head of a table's column; numbers stand to the right.
type Column struct {
	Name  string
	Right bool
}

// Write writes the table with its head.
func (t *Table) Write(w io.Writer) error {
	out := bufio.NewWriter(w)
	width := t.widths()
	t.row(out, width, t.names())
	for _, row := range t.Rows {
		t.row(out, width, row)
	}
	return out.Flush()
}

func (t *Table) names() []string {
	names := make([]string, len(t.Columns))
	for i, c := range t.Columns {
		names[i] = c.Name
	}
	return names
}

func (t *Table) widths() []int {
	width := make([]int, len(t.Columns))
	for _, row := range append(t.Rows, t.names()) {
		for i, cell := range row {
			width[i] = max(width[i], utf8.RuneCountInString(cell))
		}
	}
	return width
}

func (t *Table) row(out *bufio.Writer, width []int, cells []string) {
	var line strings.Builder
	for i, cell := range cells {
		if i > 0 {
			line.WriteString("  ")
		}
		pad := strings.Repeat(" ", width[i]-utf8.RuneCountInString(cell))
		if t.Columns[i].Right {
			line.WriteString(pad + cell)
		} else {
			line.WriteString(cell + pad)
		}
	}
	out.WriteString(strings.TrimRight(line.String(), " "))
	out.WriteByte('\n')
}

// Shorten cuts a cell that would make a table too wide to read.
func Shorten(s string) string {
	const longest = 48
	if utf8.RuneCountInString(s) <= longest {
		return s
	}
	return string([]rune(s)[:longest-1]) + "…"
}
