package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/rogpeppe/go-internal/testscript"

	"emberbeat/render/sheet"
	"emberbeat/shows/report"
)

// named REPORT BEFORE AFTER TITLES fails unless the sheets that a change report names
// as otherwise are those whose files differ between two folders with all sheets as CSV,
// and unless those are the named ones: their titles, joined by "; ". How a plan stands
// with the rules stands on every sheet, and is left out.
func named(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 4 {
		ts.Fatalf("usage: named REPORT BEFORE AFTER TITLES")
	}
	var says struct {
		Sheets struct{ Changed, Same []string }
	}
	ts.Check(json.Unmarshal([]byte(ts.ReadFile(args[0])), &says))
	var differ, alike []string
	for _, o := range sheet.Kinds() {
		file := o.Name + ".csv"
		before, there := sheetCells(ts, filepath.Join(ts.MkAbs(args[1]), file))
		after, is := sheetCells(ts, filepath.Join(ts.MkAbs(args[2]), file))
		switch {
		case !there && !is:
		case there && is && bytes.Equal(before, after):
			alike = append(alike, o.Title)
		default:
			differ = append(differ, o.Title)
		}
	}
	if !slices.Equal(says.Sheets.Changed, differ) || !slices.Equal(says.Sheets.Same, alike) {
		ts.Fatalf("named as otherwise: %q\ndiffer in fact: %q\nnamed as alike: %q\nalike in fact:  %q", says.Sheets.Changed, differ, says.Sheets.Same, alike)
	}
	if want := strings.Split(args[3], "; "); !slices.Equal(want, differ) {
		ts.Fatalf("otherwise are %q, and not %q", strings.Join(differ, "; "), args[3])
	}
}

// sheetCells gives a sheet's file without the line that says how its plan was checked, and
// reports whether it is there.
func sheetCells(ts *testscript.TestScript, name string) ([]byte, bool) {
	data, err := os.ReadFile(name)
	if os.IsNotExist(err) {
		return nil, false
	}
	ts.Check(err)
	r := csv.NewReader(bytes.NewReader(data))
	r.FieldsPerRecord, r.LazyQuotes = -1, true // a byte order mark stands before the first quote
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	for {
		cells, err := r.Read()
		if err == io.EOF {
			break
		}
		ts.Check(err)
		if cells[0] != report.CheckedLabel {
			ts.Check(w.Write(cells))
		}
	}
	w.Flush()
	return out.Bytes(), true
}
