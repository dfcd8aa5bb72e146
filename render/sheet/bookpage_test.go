package sheet

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"emberbeat/render/paper"
	"emberbeat/shows/report"
	"emberbeat/shows/report/testshow"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// opened writes a sheet as a workbook and reads it with excelize.
func opened(t *testing.T, made Sheet) *excelize.File {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, Write(&b, made, "xlsx", paper.Letter, 1))
	f, err := excelize.OpenReader(&b)
	require.NoError(t, err)
	t.Cleanup(func() { f.Close() })
	return f
}

// Every cell of every table of every sheet is in its workbook, as it is printed, and
// no cell is a formula.
func TestBooksHoldWhatIsPrinted(t *testing.T) {
	each(t, testshow.Hostile(t, 0), func(name string, made Sheet) {
		f, held := opened(t, made), map[string]int{}
		f.Pkg.Range(func(part, text any) bool {
			require.NotContains(t, string(text.([]byte)), "<f>", "%s %s", name, part) // a formula's element
			return true
		})
		for _, tab := range f.GetSheetList() {
			rows, err := f.GetRows(tab)
			require.NoError(t, err)
			for _, row := range rows {
				for _, cell := range row {
					held[cell]++
				}
			}
		}
		if _, ok := made.(oneTable); ok {
			return // its columns are those of its CSV
		}
		for _, p := range made.Printed().Parts {
			for _, r := range p.Rows {
				for _, cell := range r.Cells {
					if cell != "" {
						cell = strings.TrimPrefix(strings.Replace(cell, "−", "-", 1), "+")
						require.True(t, held[cell] > 0 || held["+"+cell] > 0 || held[strings.Replace(cell, "-", "−", 1)] > 0, "%s: %q", name, cell)
					}
				}
			}
		}
	})
}

// The workbook of a list holds what its CSV holds: the same columns, the same lines.
func TestBooksOfListsHoldTheirCSV(t *testing.T) {
	s := testshow.Staged(t)
	p := timeline.Compile(s, s.Night("n1"))
	for _, name := range []string{"cue-list", "load-plan"} {
		o, _ := KindNamed(name)
		made, err := o.Make(p, report.Filter{})
		require.NoError(t, err)
		var b bytes.Buffer
		require.NoError(t, made.WriteCSV(&b))
		lines, err := csv.NewReader(&b).ReadAll()
		require.NoError(t, err)
		f := opened(t, made)
		tab := f.GetSheetList()[1]
		rows, err := f.GetRows(tab)
		require.NoError(t, err)
		from := 0
		for lines[from][0] != rows[1][0] { // the head of a workbook is a worksheet of its own
			from++
		}
		for i, row := range rows[1:] {
			for k, cell := range row {
				require.Equal(t, signed(wording.CellText(lines[from+i][k])), cell, "%s %v", name, row)
			}
		}
		require.Greater(t, len(rows), 8, name)
		if name == "cue-list" {
			require.Len(t, rows[1:], len(lines)-from)
			timecode, err := f.GetCellType(tab, "E3")
			require.NoError(t, err)
			require.Equal(t, excelize.CellTypeInlineString, timecode)
			bar, err := f.GetCellType(tab, "G3")
			require.NoError(t, err)
			require.Equal(t, excelize.CellTypeInlineString, bar, "17.1 and 17.10 are two beats")
			hit, err := f.GetCellType(tab, "I3")
			require.NoError(t, err)
			require.Equal(t, excelize.CellTypeUnset, hit) // a number says no type
		}
	}
}
