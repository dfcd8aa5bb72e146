package workbook

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// Book is a workbook: one worksheet at least.
type Book struct {
	Title  string // at the head of every printed page
	Foot   string // at its foot
	Letter bool   // printed on Letter; else on A4
	Tabs   []Tab
}

// Tab is a worksheet: a line that says what it is, the names of columns, rows. Its
// line and names stay in view while the rows move, and are printed on every page.
type Tab struct {
	Name    string // as a reader wants it; Write makes a name of it that a workbook may have
	Line    string
	Columns []string // none = its rows are lines of text
	Rows    []Row
}

// Row is a row of a worksheet. It may have fewer cells than others.
type Row struct {
	Cells  []Cell
	Strong bool // a total, or a heading
}

// Cell is a text, or a number where it says so and is written as one.
type Cell struct {
	Text   string
	Number bool // a decimal number, with the decimals to show; any other text stays one
	Box    bool // framed, to write in
}

// Limits of a worksheet (Excel specifications and limits, Microsoft; the file format
// itself sets none for text).
const (
	mostRows    = 1 << 20
	mostColumns = 1 << 14
	mostText    = 32767 // UTF-16 units of a cell
	mostName    = 31    // likewise, of a worksheet's name
	mostDigits  = 15    // that a double keeps (IEEE 754)
)

// decimal is a number as a person writes one, without needless zeros before it.
var decimal = regexp.MustCompile(`^[+\-−]?(0|[1-9][0-9]*)(\.[0-9]+)?$`)

// number gives the value and the decimals of a cell that is a number; !ok = it is
// a text.
func (c Cell) number() (value string, decimals int, ok bool) {
	if !c.Number || !decimal.MatchString(c.Text) {
		return "", 0, false
	}
	value = strings.TrimPrefix(strings.Replace(c.Text, "−", "-", 1), "+")
	if strings.Trim(value, "-0.") == "" {
		value = strings.TrimPrefix(value, "-") // a spreadsheet has one nought
	}
	whole, part, _ := strings.Cut(strings.TrimPrefix(value, "-"), ".")
	if len(whole)+len(part) > mostDigits {
		return "", 0, false
	}
	return value, len(part), true
}

// fits says what of a book a workbook cannot hold.
func (b *Book) fits() error {
	if len(b.Tabs) == 0 {
		return fmt.Errorf("a workbook needs a worksheet; none was given")
	}
	for _, t := range b.Tabs {
		if n := len(t.Rows) + 2; n > mostRows {
			return fmt.Errorf("worksheet %q has %d rows, and a workbook holds %d in one; write csv", t.Name, n, mostRows)
		}
		if n := t.width(); n > mostColumns {
			return fmt.Errorf("worksheet %q has %d columns, and a workbook holds %d; write csv", t.Name, n, mostColumns)
		}
		for i, r := range t.Rows {
			for _, c := range r.Cells {
				if n := units(c.Text); n > mostText {
					return fmt.Errorf("worksheet %q, row %d: a text of %d characters, and a cell of a workbook holds %d; write csv", t.Name, i+1, n, mostText)
				}
			}
		}
	}
	return nil
}

func (t *Tab) width() int {
	n := max(1, len(t.Columns))
	for _, r := range t.Rows {
		n = max(n, len(r.Cells))
	}
	return n
}

// names gives the worksheets names that a workbook may have: no two alike, none of
// []:*?/\ in them, no apostrophe at an end, not too long, and not the one that
// spreadsheets keep for themselves.
func (b *Book) names() []string {
	var names []string
	for _, t := range b.Tabs {
		name := strings.Map(func(r rune) rune {
			if strings.ContainsRune(`[]:*?/\`, r) || r < ' ' || r == utf8.RuneError {
				return ' '
			}
			return r
		}, t.Name)
		name = cutName(strings.Join(strings.Fields(name), " "), mostName)
		if name == "" || strings.EqualFold(name, "History") {
			name = "Sheet"
		}
		one := name
		for n := 2; slices.ContainsFunc(names, func(o string) bool { return strings.EqualFold(o, name) }); n++ {
			end := " " + strconv.Itoa(n)
			name = cutName(one, mostName-len(end)) + end
		}
		names = append(names, name)
	}
	return names
}

// cutName cuts a name to some UTF-16 units, and what may not stand at its ends.
func cutName(name string, most int) string {
	for units(name) > most {
		_, n := utf8.DecodeLastRuneInString(name)
		name = name[:len(name)-n]
	}
	return strings.Trim(name, " '")
}

func units(s string) int { return len(utf16.Encode([]rune(s))) }

// ref names a cell, counted from 0: "A1".
func ref(column, row int) string { return letters(column) + strconv.Itoa(row+1) }

func letters(column int) string {
	text := ""
	for n := column + 1; n > 0; n = (n - 1) / 26 {
		text = string(rune('A'+(n-1)%26)) + text
	}
	return text
}
