package intake

import (
	"bytes"
	"encoding/binary"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// MaxTableBytes is the largest table that is read.
const MaxTableBytes = 64 << 20

// Table is a file of lines and columns.
type Table struct {
	Columns []string // of the line with the names
	Rows    []Row
	Comma   rune // what parts the columns
}

// Row is one line of a table below the names.
type Row struct {
	Line  int // in the file, from 1
	Cells []string
}

// Cell gives the text in a column, without the spaces around it; "" where the
// row ends before.
func (r Row) Cell(column int) string {
	if column < 0 || column >= len(r.Cells) {
		return ""
	}
	return strings.TrimSpace(r.Cells[column])
}

// TableOptions say what cannot be seen in the file itself.
type TableOptions struct {
	Comma rune // 0 = the one of , ; tab and | that the line with the names has most
	Names int  // the line with the names of the columns, from 1; 0 = the first that has the names in Look
	Look  []string
	// Any are names of which one tells the line where Look is empty; a table
	// that has none of them begins with the names.
	Any []string
}

// NamesError says that a table has not the names that were asked for: the table
// may be as it should, and the options not.
type NamesError struct{ text string }

func (e *NamesError) Error() string { return e.text }

// ReadTable reads comma-separated values as RFC 4180 has them, or with another
// separator, as UTF-8 or UTF-16. Lines before the one with the names are passed
// over. Rows may be shorter than that line; a longer one is an error. A table
// without the names that were asked for is a *NamesError.
func ReadTable(data []byte, o TableOptions) (*Table, error) {
	text, err := plainText(data)
	if err != nil {
		return nil, err
	}
	t := &Table{Comma: o.Comma}
	if t.Comma == 0 {
		t.Comma = commaOf(text, o.Names)
	}
	lines, err := t.lines(text)
	if err != nil {
		return nil, err
	}
	at := namesAt(lines, o)
	if at < 0 {
		if len(lines) == 0 {
			return nil, errors.New("the table is empty")
		}
		if o.Names > 0 {
			return nil, &NamesError{fmt.Sprintf("line %d, which should name the columns, is empty or not there", o.Names)}
		}
		return nil, &NamesError{"no line names the columns " + strings.Join(o.Look, ", ") + "; say which line does, or how the columns are called"}
	}
	for _, name := range lines[at].Cells {
		t.Columns = append(t.Columns, strings.TrimSpace(name))
	}
	for len(t.Columns) > 0 && t.Columns[len(t.Columns)-1] == "" {
		t.Columns = t.Columns[:len(t.Columns)-1]
	}
	for _, r := range lines[at+1:] {
		for len(r.Cells) > len(t.Columns) {
			if last := strings.TrimSpace(r.Cells[len(r.Cells)-1]); last != "" {
				return nil, fmt.Errorf("line %d has %d columns, and line %d names %d: %q has no name", r.Line, len(r.Cells), lines[at].Line, len(t.Columns), last)
			}
			r.Cells = r.Cells[:len(r.Cells)-1]
		}
		t.Rows = append(t.Rows, r)
	}
	return t, nil
}

// lines reads all lines that hold anything.
func (t *Table) lines(text string) (lines []Row, err error) {
	r := csv.NewReader(strings.NewReader(text))
	r.Comma, r.FieldsPerRecord = t.Comma, -1
	for {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			return lines, nil
		}
		var bad *csv.ParseError
		if errors.As(err, &bad) {
			return nil, fmt.Errorf("line %d, character %d: %w; a text with quotes or separators in it stands in quotes, and each quote in it is written twice", bad.Line, bad.Column, bad.Err)
		}
		if err != nil {
			return nil, err
		}
		line, _ := r.FieldPos(0)
		if slices.ContainsFunc(cells, func(c string) bool { return strings.TrimSpace(c) != "" }) {
			lines = append(lines, Row{line, cells})
		}
	}
}

// namesAt finds the line with the names of the columns.
func namesAt(lines []Row, o TableOptions) int {
	if o.Names == 0 && len(o.Look) == 0 {
		i := slices.IndexFunc(lines, func(r Row) bool {
			return len(r.Cells) > 1 && slices.ContainsFunc(o.Any, func(name string) bool { return columnNamed(r.Cells, name) >= 0 })
		})
		return max(i, min(0, len(lines)-1))
	}
	return slices.IndexFunc(lines, func(r Row) bool {
		if o.Names > 0 {
			return r.Line == o.Names
		}
		for _, name := range o.Look {
			if columnNamed(r.Cells, name) < 0 {
				return false
			}
		}
		return true
	})
}

// ParseSeparator reads what parts the columns of a table: one character, or tab.
func ParseSeparator(s string) (rune, error) {
	if s == `\t` || s == "tab" {
		return '\t', nil
	}
	r, n := utf8.DecodeRuneInString(s)
	if n != len(s) || r == '"' || r == '\n' || r == '\r' || r == utf8.RuneError {
		return 0, fmt.Errorf("separator %q must be one character, or tab", s)
	}
	return r, nil
}

// Column gives the number of a column by its name, without regard to case; -1 is
// none.
func (t *Table) Column(name string) int { return columnNamed(t.Columns, name) }

// columnNamed finds a column by name, without regard to case; -1 is none.
func columnNamed(columns []string, name string) int {
	return slices.IndexFunc(columns, func(c string) bool { return strings.EqualFold(strings.TrimSpace(c), strings.TrimSpace(name)) })
}

// commas are what may part columns.
const commas = ",;\t|"

// commaOf guesses the separator: the one that the line with the names has most,
// or all lines where that line is not known.
func commaOf(text string, names int) rune {
	if names > 0 {
		lines := strings.SplitN(text, "\n", names+1)
		if len(lines) >= names {
			text = lines[names-1]
		}
	}
	best, most := ',', 0
	for _, c := range commas {
		if n := strings.Count(text, string(c)); n > most {
			best, most = c, n
		}
	}
	return best
}

// plainText decodes UTF-8, or UTF-16 with its mark at the start.
func plainText(data []byte) (string, error) {
	switch {
	case len(data) > MaxTableBytes:
		return "", fmt.Errorf("the table has %d bytes; up to %d are read", len(data), MaxTableBytes)
	case bytes.HasPrefix(data, []byte{0xFF, 0xFE}):
		return utf16Text(data[2:], binary.LittleEndian)
	case bytes.HasPrefix(data, []byte{0xFE, 0xFF}):
		return utf16Text(data[2:], binary.BigEndian)
	}
	data = bytes.TrimPrefix(data, []byte("\xEF\xBB\xBF"))
	for i := 0; i < len(data); {
		r, n := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && n == 1 || r == 0 {
			line := 1 + bytes.Count(data[:i], []byte("\n"))
			return "", fmt.Errorf("line %d holds the byte %#02x, which is no UTF-8 text; save the table as UTF-8", line, data[i])
		}
		i += n
	}
	return string(data), nil
}

func utf16Text(data []byte, order binary.ByteOrder) (string, error) {
	if len(data)%2 != 0 {
		return "", errors.New("the table is UTF-16 and ends in half a character; it was cut off")
	}
	units := make([]uint16, len(data)/2)
	for i := range units {
		units[i] = order.Uint16(data[2*i:])
	}
	return string(utf16.Decode(units)), nil
}
