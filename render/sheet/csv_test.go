package sheet

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// Cells that a spreadsheet would compute (OWASP, "CSV Injection": a cell that
// begins with = + - @, tab or carriage return) get an apostrophe; others stay.
func TestPlainCell(t *testing.T) {
	for _, c := range [][2]string{
		{"", ""}, {"flame 1", "flame 1"}, {"17.3+1/2", "17.3+1/2"}, {"a=b", "a=b"}, {"2031-05-09", "2031-05-09"},
		{"=1+1", "'=1+1"}, {"+49", "'+49"}, {"-1.2", "'-1.2"}, {"@sum", "'@sum"}, {"\t=1", "'\t=1"}, {" =1", "' =1"},
		{"＝1", "'＝1"}, {"'", "'"},
	} {
		require.Equal(t, c[1], wording.PlainCell(c[0]), "%q", c[0])
	}
}

func TestSignlessCells(t *testing.T) {
	ms := timeline.FromMillis
	require.Equal(t, "before 0.4500", secondsCell(ms(-450)))
	require.Equal(t, "12.5000", secondsCell(ms(12500)))
	require.Equal(t, "late 10.00", residualCell(ms(10)))
	require.Equal(t, "early 6.67", residualCell(-timeline.Second/150))
	require.Equal(t, "0.00", residualCell(0))
	require.Equal(t, "0.00", residualCell(-timeline.Millisecond/1000))
}

// Whatever a user wrote, a line reads back as the same cells after RFC 4180,
// ends in CRLF, is as wide as the sheet, and starts no formula.
func TestCSVLines(t *testing.T) {
	cell := rapid.StringOf(rapid.RuneFrom([]rune("=+-@\t \",;'aß＝0\n")))
	rapid.Check(t, func(t *rapid.T) {
		cells := rapid.SliceOfN(cell, 1, 5).Draw(t, "cells")
		var b bytes.Buffer
		c := newCSV(&b, 5)
		c.line(cells...)
		require.NoError(t, c.done())
		require.True(t, strings.HasSuffix(b.String(), "\r\n"))
		back, err := csv.NewReader(&b).Read()
		require.NoError(t, err)
		require.Len(t, back, 5)
		for i, got := range back {
			want := ""
			if i < len(cells) {
				want = cells[i]
			}
			require.Equal(t, want, strings.TrimPrefix(got, got[:len(got)-len(want)]))
			first, _ := utf8.DecodeRuneInString(strings.TrimLeft(got, " "))
			require.NotContains(t, "=+-@\t＝", string(first))
		}
	})
}
