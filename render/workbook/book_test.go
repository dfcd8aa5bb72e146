package workbook

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"
	"pgregory.net/rapid"

	"emberbeat/timeline/testtool"
)

// bent are texts that spreadsheets like to make something else of.
var bent = []string{"=1+1", "+1", "-1", "@SUM(A1)", "=cmd|' /C calc'!A0", "01:02:03:04", "10:15", "1.10", "17.1", "0431", "1-2", "3/4", "2031-05-09", "1e5", "TRUE", "#REF!", "'quoted", " before",
	"after ", "two\nlines", "tab\there", "<&>\"'", "_x0041_", "_x005F_x0041_", "\x01\x1f", "12345678901234567890", "ěščř 火 é", "", "%", "=", "\t=1"}

func written(t require.TestingT, b *Book) []byte {
	var file bytes.Buffer
	require.NoError(t, Write(&file, b))
	return file.Bytes()
}

// excelize reads every text as it was given, as a text, and every number as a number
// that is shown as it was written.
func TestExcelizeReadsWhatIsWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(rapid.SampledFrom(bent), rapid.StringOfN(rapid.RuneFrom([]rune("ab0129=+-@._x <&\n\té火")), 0, 20, -1))
		cell := rapid.Custom(func(t *rapid.T) Cell {
			if rapid.Bool().Draw(t, "number") {
				return Cell{Text: strconv.FormatFloat(float64(rapid.Int32().Draw(t, "n"))/1000, 'f', rapid.IntRange(0, 4).Draw(t, "decimals"), 64), Number: true}
			}
			return Cell{Text: text.Draw(t, "text"), Number: rapid.Bool().Draw(t, "meant")}
		})
		row := rapid.Custom(func(t *rapid.T) Row {
			return Row{Cells: rapid.SliceOfN(cell, 0, 5).Draw(t, "cells"), Strong: rapid.Bool().Draw(t, "strong")}
		})
		tab := Tab{Name: text.Draw(t, "name"), Line: text.Draw(t, "line"), Columns: rapid.SliceOfN(text, 0, 5).Draw(t, "columns"), Rows: rapid.SliceOfN(row, 0, 5).Draw(t, "rows")}
		f, err := excelize.OpenReader(bytes.NewReader(written(t, &Book{Tabs: []Tab{tab}})))
		require.NoError(t, err)
		defer f.Close()
		name := f.GetSheetList()[0]
		for i, r := range tab.Rows {
			for k, c := range r.Cells {
				at := ref(k, i+tab.top())
				formula, err := f.GetCellFormula(name, at)
				require.NoError(t, err)
				require.Empty(t, formula)
				kind, err := f.GetCellType(name, at)
				require.NoError(t, err)
				shown, err := f.GetCellValue(name, at)
				require.NoError(t, err)
				if value, _, ok := c.number(); ok {
					require.Contains(t, []excelize.CellType{excelize.CellTypeNumber, excelize.CellTypeUnset}, kind) // a number has no need to say its type
					require.Equal(t, value, shown)
				} else if c.Text != "" {
					require.Equal(t, excelize.CellTypeInlineString, kind)
					require.Equal(t, c.Text, shown)
				}
			}
		}
	})
}

// openpyxl reads the same, and what is frozen, printed, filtered and said on every
// page.
func TestOpenpyxlReadsWhatIsWritten(t *testing.T) {
	b := &Book{Title: "List of A & B", Foot: strings.Repeat("no permission & ", 30), Letter: true, Tabs: []Tab{
		{Name: "it's [all] of: it", Line: "first", Rows: []Row{{Cells: []Cell{{Text: "label"}, {Text: "text"}}}}},
		{Name: "History", Line: "second", Columns: []string{"text", "number"}}}}
	for i, text := range bent {
		b.Tabs[1].Rows = append(b.Tabs[1].Rows, Row{Cells: []Cell{{Text: text}, {Text: strconv.Itoa(i) + ".250", Number: true}}})
	}
	file := filepath.Join(t.TempDir(), "book.xlsx")
	require.NoError(t, os.WriteFile(file, written(t, b), 0o644))
	out, err := exec.Command(testtool.Python(t, "openpyxl"), "-W", "error", "-c", `import json, sys, openpyxl
from openpyxl.utils.escape import unescape
book = openpyxl.load_workbook(sys.argv[1])
first, s = book.worksheets
print(json.dumps({
    "names": book.sheetnames,
    "text": [[r[0].data_type, unescape(r[0].value or ""), r[0].number_format] for r in s.iter_rows(min_row=3)],
    "number": [[r[1].data_type, r[1].value, r[1].number_format] for r in s.iter_rows(min_row=3)],
    "heads": [c.value for c in s[2]], "frozen": [first.freeze_panes, s.freeze_panes], "area": s.print_area, "titles": s.print_title_rows,
    "filter": s.auto_filter.ref, "paper": [s.page_setup.paperSize, s.page_setup.orientation, s.page_setup.fitToHeight, s.sheet_properties.pageSetUpPr.fitToPage],
    "top": s.oddHeader.left.text, "foot": s.oddFooter.left.text, "wide": s.column_dimensions["A"].width}))`, file).Output()
	require.NoError(t, err)
	var got struct {
		Names, Heads, Frozen []string
		Text, Number         [][]any
		Area                 []string
		Titles, Filter       string
		Paper                []any
		Top, Foot            string
		Wide                 float64
	}
	require.NoError(t, json.Unmarshal(out, &got))
	require.Equal(t, []string{"it's all of it", "Sheet"}, got.Names)
	require.Equal(t, []string{"text", "number"}, got.Heads)
	require.Equal(t, []string{"A2", "A3"}, got.Frozen)
	last := strconv.Itoa(len(bent) + 2)
	require.Equal(t, []string{"$A$1:$B$" + last}, got.Area)
	require.Equal(t, "$1:$2", got.Titles)
	require.Equal(t, "A2:B"+last, got.Filter)
	require.Equal(t, []any{1.0, "landscape", 0.0, true}, got.Paper)
	require.Equal(t, "List of A && B", got.Top)
	require.True(t, strings.HasPrefix(got.Foot, "no permission && no permission"), got.Foot)
	require.Less(t, len("&L&8 "+got.Foot), 256)
	require.Greater(t, got.Wide, 20.0)
	for i, text := range bent {
		require.Equal(t, []any{"n", float64(i) + 0.25, "0.000"}, got.Number[i])
		if text != "" {
			require.Equal(t, []any{"s", text, "@"}, got.Text[i])
		}
	}
}

func TestNumbersAreWrittenAsNumbers(t *testing.T) {
	for text, want := range map[string]string{"0": "0", "12": "12", "0.50": "0.50", "-3.2": "-3.2", "−3.2": "-3.2", "+4": "4", "-0.0": "0.0", "007": "", "1.": "", ".5": "", "1,5": "", "1e3": "", "–": "", "": "", "3 of 4": "", "2.5 m": "",
		"123456789012345": "123456789012345", "1234567890123456": ""} {
		value, _, ok := Cell{Text: text, Number: true}.number()
		require.Equal(t, want != "", ok, text)
		require.Equal(t, want, value)
		_, _, ok = Cell{Text: text}.number()
		require.False(t, ok)
	}
}

// No two worksheets have one name, and each has one that is allowed.
func TestNamesOfWorksheets(t *testing.T) {
	long := strings.Repeat("a", 40)
	b := &Book{Tabs: []Tab{{Name: long}, {Name: long}, {Name: strings.ToUpper(long)}, {Name: "''"}, {Name: "a/b\\c"}, {Name: "history"}, {Name: strings.Repeat("😀", 20)}}}
	require.Equal(t, []string{long[:31], long[:29] + " 2", strings.ToUpper(long[:29]) + " 3", "Sheet", "a b c", "Sheet 2", strings.Repeat("😀", 15)}, b.names())
	require.Equal(t, []string{"A1", "Z2", "AA3", "AMJ1", "XFD1"}, []string{ref(0, 0), ref(25, 1), ref(26, 2), ref(1023, 0), ref(16383, 0)})
}

// What a workbook cannot hold is said, and nothing is written.
func TestWhatDoesNotFit(t *testing.T) {
	for _, c := range []struct {
		book Book
		want string
	}{
		{Book{}, "a workbook needs a worksheet"},
		{Book{Tabs: []Tab{{Name: "x", Rows: []Row{{Cells: []Cell{{Text: strings.Repeat("a", 32768)}}}}}}}, `worksheet "x", row 1: a text of 32768 characters, and a cell of a workbook holds 32767; write csv`},
		{Book{Tabs: []Tab{{Name: "x", Columns: make([]string, 16385)}}}, `worksheet "x" has 16385 columns`},
		{Book{Tabs: []Tab{{Name: "x", Rows: make([]Row, 1<<20)}}}, `worksheet "x" has 1048578 rows`},
	} {
		var file bytes.Buffer
		require.ErrorContains(t, Write(&file, &c.book), c.want)
		require.Zero(t, file.Len())
	}
	require.NotEmpty(t, written(t, &Book{Tabs: []Tab{{Rows: []Row{{Cells: []Cell{{Text: strings.Repeat("a", 32767)}}}}}}}))
}

func TestSameBookSameBytes(t *testing.T) {
	b := &Book{Title: "t", Tabs: []Tab{{Name: "a", Columns: []string{"x"}, Rows: []Row{{Cells: []Cell{{Text: "1", Number: true}}}, {Strong: true, Cells: []Cell{{Box: true}}}}}}}
	require.Equal(t, written(t, b), written(t, b))
}
