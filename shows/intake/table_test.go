package intake_test

import (
	"bytes"
	"encoding/csv"
	"os/exec"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/shows/intake"
	"emberbeat/timeline/testtool"
)

func cells(t *intake.Table) [][]string {
	all := [][]string{t.Columns}
	for _, r := range t.Rows {
		row := make([]string, len(t.Columns))
		for i := range row {
			row[i] = r.Cell(i)
		}
		all = append(all, row)
	}
	return all
}

func utf16le(s string) []byte {
	b := []byte{0xFF, 0xFE}
	for _, u := range utf16.Encode([]rune(s)) {
		b = append(b, byte(u), byte(u>>8))
	}
	return b
}

func TestReadTable(t *testing.T) {
	for _, c := range []struct {
		name string
		data []byte
		o    intake.TableOptions
		want [][]string
	}{
		{"commas", []byte("time,effect\n1:02.5,Jet\n"), intake.TableOptions{}, [][]string{{"time", "effect"}, {"1:02.5", "Jet"}}},
		{"semicolons and decimal commas", []byte("time;effect\n62,5;Jet\n"), intake.TableOptions{}, [][]string{{"time", "effect"}, {"62,5", "Jet"}}},
		{"tabs, CR LF, spaces around", []byte("time \teffect\r\n 62.5\tJet \r\n"), intake.TableOptions{}, [][]string{{"time", "effect"}, {"62.5", "Jet"}}},
		{"byte order mark", []byte("\xEF\xBB\xBFtime,effect\n1,Jet"), intake.TableOptions{}, [][]string{{"time", "effect"}, {"1", "Jet"}}},
		{"UTF-16", utf16le("time,effect\n1,Größe\n"), intake.TableOptions{}, [][]string{{"time", "effect"}, {"1", "Größe"}}},
		{"quotes", []byte("a,b\n\"x, \"\"y\"\"\",\"two\nlines\"\n"), intake.TableOptions{}, [][]string{{"a", "b"}, {"x, \"y\"", "two\nlines"}}},
		{"a head above the names", []byte("cue list\nshow,Tour\n\nTime code,Effect\n1,Jet\n"), intake.TableOptions{Look: []string{"effect", "TIME CODE"}}, [][]string{{"Time code", "Effect"}, {"1", "Jet"}}},
		{"a head above a known name", []byte("show,Tour\nseconds,target\n1,Jet\n"), intake.TableOptions{Any: []string{"seconds"}}, [][]string{{"seconds", "target"}, {"1", "Jet"}}},
		{"names in a line", []byte("x,y\nfirst,second\n1,2\n"), intake.TableOptions{Names: 2}, [][]string{{"first", "second"}, {"1", "2"}}},
		{"empty columns at the end, short rows", []byte("a,b,,\n1\n2,3,,\n,,,\n"), intake.TableOptions{}, [][]string{{"a", "b"}, {"1", ""}, {"2", "3"}}},
		{"own separator", []byte("a!b,c\n1!2,3\n"), intake.TableOptions{Comma: '!'}, [][]string{{"a", "b,c"}, {"1", "2,3"}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := intake.ReadTable(c.data, c.o)
			require.NoError(t, err)
			require.Equal(t, c.want, cells(got))
		})
	}
}

func TestBadTables(t *testing.T) {
	for _, c := range []struct {
		name string
		data string
		o    intake.TableOptions
		want string
	}{
		{"empty", "", intake.TableOptions{}, "the table is empty"},
		{"only separators", ",,,\n", intake.TableOptions{}, "the table is empty"},
		{"Latin-1", "time,effect\n1,Gr\xF6\xDFe\n", intake.TableOptions{}, "line 2 holds the byte 0xf6, which is no UTF-8 text"},
		{"no text at all", "PK\x00\x01", intake.TableOptions{}, "line 1 holds the byte 0x00"},
		{"half a character", "\xFF\xFEa", intake.TableOptions{}, "ends in half a character"},
		{"open quote", "a,b\n\"1,2\n", intake.TableOptions{}, "line 2, character 6"},
		{"quote in the middle", "a,b\n1,x\"y\n", intake.TableOptions{}, "line 2, character 4"},
		{"too many columns", "a,b\n1,2,3\n", intake.TableOptions{}, `line 2 has 3 columns, and line 1 names 2: "3" has no name`},
		{"no such names", "a,b\n1,2\n", intake.TableOptions{Look: []string{"time"}}, "no line names the columns time"},
		{"no such line", "a,b\n1,2\n", intake.TableOptions{Names: 7}, "line 7, which should name the columns, is empty or not there"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := intake.ReadTable([]byte(c.data), c.o)
			require.ErrorContains(t, err, c.want)
		})
	}
	_, err := intake.ReadTable(make([]byte, intake.MaxTableBytes+1), intake.TableOptions{})
	require.ErrorContains(t, err, "up to 67108864 are read")
}

// drawCells draws a table whose rows all hold something and whose names are set.
func drawCells(t *rapid.T) [][]string {
	width := rapid.IntRange(2, 6).Draw(t, "width")
	text := rapid.StringMatching(`[A-Za-z0-9äß ,;\t|"\n:.+-]{0,12}[a-z]`)
	rows := rapid.SliceOfN(rapid.SliceOfN(text, width, width), 1, 12).Draw(t, "rows")
	for _, r := range rows {
		for i := range r {
			r[i] = strings.TrimSpace(r[i])
		}
	}
	return rows
}

// What a writer of tables wrote is read again, whatever parts the columns.
func TestTableRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows := drawCells(t)
		comma := rapid.SampledFrom([]rune(",;\t|")).Draw(t, "comma")
		var b bytes.Buffer
		w := csv.NewWriter(&b)
		w.Comma, w.UseCRLF = comma, rapid.Bool().Draw(t, "CR LF")
		require.NoError(t, w.WriteAll(rows))
		got, err := intake.ReadTable(b.Bytes(), intake.TableOptions{Comma: comma})
		require.NoError(t, err)
		require.Equal(t, rows, cells(got))
	})
}

// Tables as Python's csv module writes them in its three dialects.
func TestTablesOfPython(t *testing.T) {
	testtool.Need(t, "python3")
	want := [][]string{{"timecode", "effect", "note"}, {"01:00:42:12", "Jet, left", "say \"now\""}, {"01:00:43:00", "Größe", "a; b"}}
	for _, dialect := range []string{"excel", "excel-tab", "unix"} {
		for _, coding := range []string{"utf-8", "utf-8-sig", "utf-16"} {
			out, err := exec.Command("python3", "-c", `
import csv, io, sys
s = io.StringIO(newline="")
csv.writer(s, sys.argv[1]).writerows([["timecode", "effect", "note"], ["01:00:42:12", "Jet, left", 'say "now"'], ["01:00:43:00", "Größe", "a; b"]])
sys.stdout.buffer.write(s.getvalue().encode(sys.argv[2]))`, dialect, coding).Output()
			require.NoError(t, err)
			got, err := intake.ReadTable(out, intake.TableOptions{})
			require.NoError(t, err, "%s %s", dialect, coding)
			require.Equal(t, want, cells(got), "%s %s", dialect, coding)
		}
	}
}

func TestParseMapping(t *testing.T) {
	m, err := intake.ParseMapping([]string{"timecode=Time code", "target = Effect"})
	require.NoError(t, err)
	require.Equal(t, intake.Mapping{"timecode": "Time code", "target": "Effect"}, m)
	for text, want := range map[string]string{
		"timecode":     "names no column",
		"timecode=":    "names no column",
		"colour=Shade": `"colour" is nothing that a cue has; write one of song, at, bar`,
	} {
		_, err := intake.ParseMapping([]string{text})
		require.ErrorContains(t, err, want)
	}
	_, err = intake.ParseMapping([]string{"at=a", "at=b"})
	require.ErrorContains(t, err, `at is given two columns, "a" and "b"`)
}

// FuzzReadTable reads any bytes as a table.
func FuzzReadTable(f *testing.F) {
	f.Add([]byte("a,b\n1,2\n"), uint8(0))
	f.Add(utf16le("a;b\n1;2\n"), uint8(1))
	f.Fuzz(func(t *testing.T, data []byte, names uint8) {
		got, err := intake.ReadTable(data, intake.TableOptions{Names: int(names)})
		if err != nil {
			return
		}
		line := 0
		for _, r := range got.Rows {
			require.Greater(t, r.Line, line)
			require.LessOrEqual(t, len(r.Cells), len(got.Columns))
			line = r.Line
		}
	})
}
