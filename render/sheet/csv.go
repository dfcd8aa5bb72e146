package sheet

import (
	"encoding/csv"
	"io"

	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// csvSheet writes lines of equal width after RFC 4180: CRLF, quotes where they
// are needed. No cell can start a formula in a spreadsheet (see wording.PlainCell).
type csvSheet struct {
	w     *csv.Writer
	width int
}

func newCSV(w io.Writer, width int) *csvSheet {
	c := &csvSheet{csv.NewWriter(w), width}
	c.w.UseCRLF = true
	return c
}

// line writes cells and fills the line up to the sheet's width.
func (c *csvSheet) line(cells ...string) {
	full := make([]string, c.width)
	for i, cell := range cells {
		full[i] = wording.PlainCell(cell)
	}
	_ = c.w.Write(full) // done gives the first error
}

func (c *csvSheet) done() error {
	c.w.Flush()
	return c.w.Error()
}

// secondsCell writes a time that may lie before its origin without a sign:
// `12.3456` or `before 0.4500`.
func secondsCell(t timeline.Time) string {
	if t < 0 {
		return "before " + wording.Seconds(-t).String()
	}
	return wording.Seconds(t).String()
}

// residualCell writes what rounding to a frame adds, in milliseconds, without
// a sign: `late 10.00`, `early 6.67` or `0.00`.
func residualCell(t timeline.Time) string {
	switch text := wording.Millis(max(t, -t)); {
	case text == "0.00":
		return text
	case t < 0:
		return "early " + text
	default:
		return "late " + text
	}
}
