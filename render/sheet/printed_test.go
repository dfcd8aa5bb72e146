package sheet

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"image"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"emberbeat/render"
	"emberbeat/render/paper"
	"emberbeat/shows/report"
	"emberbeat/shows/report/carried"
	"emberbeat/shows/report/changed"
	"emberbeat/shows/report/evening"
	"emberbeat/shows/report/held"
	"emberbeat/shows/report/testshow"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
	"emberbeat/timeline/carry"
	"emberbeat/timeline/testtool"
)

// each makes every sheet that can be printed of a plan: those about one night
// where the plan is a night's.
func each(t require.TestingT, p *timeline.Plan, do func(name string, made Sheet)) {
	for _, o := range Forms() {
		if o.Night && p.Night == nil {
			continue
		}
		made, err := o.Make(p, report.Filter{})
		require.NoError(t, err, o.Name)
		do(o.Name, made)
	}
	if p.Night != nil {
		changes := changed.NewReport(timeline.Compile(p.Show, nil), p, nil)
		changes.Prints = nil // the list of all sheets grows with the program
		do("change-report", Changes(changes))
	}
	if len(p.Songs) > 0 {
		do("carry-list", Carried(carriedOf(t, p)))
		do("list-against-plan", Held(heldOf(t, p)))
	}
}

// carriedOf is what carrying the first song of a plan over to an edit of it comes to:
// its middle is cut, and its end is only like the old one.
func carriedOf(t require.TestingT, p *timeline.Plan) *carried.Report {
	g := p.Songs[0].Song
	old := max(g.Duration(), 8*timeline.Second)
	run := func(from, to, is timeline.Time, sure int) timeline.TimeRun {
		return timeline.TimeRun{Old: from, OldEnd: to, New: is, NewEnd: is + to - from, Exact: sure == 1000, Sure: sure}
	}
	m := &timeline.TimeMap{Old: old, New: old, Runs: []timeline.TimeRun{run(0, old/4, 0, 1000), run(old/2, old*3/4, old/4, 1000), run(old*3/4, old, old/2, 700)}}
	made, err := carry.Propose(p.Show, g.ID, m, carry.Recording{}, carry.Recording{}, carry.Options{Audio: timeline.Audio{Path: "audio/new mix.wav", FileHash: "bb"}})
	require.NoError(t, err)
	free := timeline.Timecode{H: 23}
	r := carried.New(p, []carried.Arrived{{File: "new mix.wav", Verdict: "carries", Song: g.ID, Alike: 0.9, Proposal: made}, {File: "other.wav", Verdict: "no song", Why: "it is of no song of the show", Free: &free}})
	r.Dry = true
	is, err := p.Show.Edit(made.Edit())
	require.NoError(t, err)
	r.Evening = evening.Compare(p, timeline.Compile(is, p.Night))
	return r
}

// heldOf is a list that lacks nearly all of a plan, and has what cannot be read.
func heldOf(t require.TestingT, p *timeline.Plan) *held.Report {
	reading, err := held.NewReading(nil)
	require.NoError(t, err)
	r, err := held.Compare(p, report.Filter{}, reading, "=desk.csv", []byte("timecode,address,action\n01:00:03:20,bank 1:3,hit\n01:00:19:21,A-7,hit\n01:00:30:00,bank 1:4,\n01:99,=1+1,hit\n,,\n"))
	require.NoError(t, err)
	return r
}

// ruleCount is a number that grows with the program.
var ruleCount = regexp.MustCompile(`\b\d+ rules\b`)

func TestPrintedPagesRead(t *testing.T) {
	s := testshow.Staged(t)
	each(t, timeline.Compile(s, s.Night("n1")), func(name string, made Sheet) {
		var text strings.Builder
		for _, page := range made.Printed().Pages(render.NewFaces(), paper.A4) {
			text.WriteString(paper.Plain(page))
		}
		testshow.Golden(t, name+".page.txt", ruleCount.ReplaceAll([]byte(text.String()), []byte("N rules")))
	})
}

// Every page carries what tells it from another revision's, and the caution; a
// tour without a night says "not given".
func TestEveryPageCarriesItsHead(t *testing.T) {
	s := testshow.Staged(t)
	for _, night := range []string{"n1", ""} {
		each(t, timeline.Compile(s, s.Night(timeline.ID(night))), func(name string, made Sheet) {
			pages := made.Printed().Pages(render.NewFaces(), paper.Letter)
			for i, page := range pages {
				text := strings.Join(strings.Fields(paper.Plain(page)), " ")
				require.Contains(t, text, fmt.Sprintf("page %d of %d", i+1, len(pages)))
				for _, want := range []string{"Test Tour", "revision", "venue", "not permission to fire", "Label, instructions, permit and authority come first",
					"only licensed and competent persons", "marked C, M or J are unverified"} {
					require.Contains(t, text, want, name)
				}
				if night == "" {
					require.Contains(t, text, "not given", name)
				} else {
					require.Contains(t, text, "2031-05-09", name)
					require.Contains(t, text, "Lantern Hall", name)
				}
			}
		})
	}
}

func TestPrintedIsTheSameEachTime(t *testing.T) {
	s := testshow.Staged(t)
	first, second := map[string]string{}, map[string]string{}
	for _, into := range []map[string]string{first, second} {
		each(t, timeline.Compile(s, s.Night("n1")), func(name string, made Sheet) {
			for _, format := range Formats() {
				var b bytes.Buffer
				require.NoError(t, Write(&b, made, format, paper.A4, 1))
				into[name+" "+format] = b.String()
			}
			require.ErrorContains(t, WritePage(&bytes.Buffer{}, made, paper.A4, 99), "there is no page 99")
		})
	}
	require.Equal(t, first, second)
}

// Cells of every sheet start no formula, and all lines are equally wide.
func TestPrintedCSV(t *testing.T) {
	for seed := range 3 {
		each(t, testshow.Hostile(t, seed*1000), func(name string, made Sheet) {
			var b bytes.Buffer
			require.NoError(t, made.WriteCSV(&b))
			lines, err := csv.NewReader(&b).ReadAll()
			require.NoError(t, err, name)
			for _, line := range lines {
				for _, cell := range line {
					if r, _ := utf8.DecodeRuneInString(strings.TrimLeft(cell, " ")); cell != "" {
						require.NotContains(t, wording.FormulaStarts, string(r), "%s %q", name, cell)
					}
				}
			}
		})
	}
}

// No text of any sheet leaves the margins of its page, and none is written over
// another.
func TestPrintedTextsStandApart(t *testing.T) {
	faces := render.NewFaces()
	for seed := range 3 {
		each(t, testshow.Hostile(t, seed*1000), func(name string, made Sheet) {
			for _, size := range paper.Sizes() {
				for _, page := range made.Printed().Pages(faces, size) {
					standApart(t, name, page)
				}
			}
		})
	}
}

func standApart(t *testing.T, name string, page *render.Scene) {
	t.Helper()
	inner := page.Bounds().Inset(page.Px(45))
	var boxes []image.Rectangle
	for i := range page.Shapes {
		if sh := &page.Shapes[i]; sh.Kind == render.KindText {
			require.True(t, sh.Box.In(inner), "%s: %s", name, page.Label(sh))
			boxes = append(boxes, sh.Box.Inset(page.Px(2)))
		}
	}
	for i, a := range boxes {
		for _, b := range boxes[:i] {
			require.False(t, a.Overlaps(b), "%s: %v %v", name, a, b)
		}
	}
}

// Python's csv module reads what Go's does, in its strict mode.
func TestPythonReadsTheCSV(t *testing.T) {
	testtool.Need(t, "python3")
	each(t, testshow.Hostile(t, 0), func(name string, made Sheet) {
		var b bytes.Buffer
		require.NoError(t, made.WriteCSV(&b))
		file := filepath.Join(t.TempDir(), "sheet.csv")
		require.NoError(t, os.WriteFile(file, b.Bytes(), 0o644))
		out, err := exec.Command("python3", "-c", `import csv, json, sys
print(json.dumps(list(csv.reader(open(sys.argv[1], newline="", encoding="utf-8"), strict=True))))`, file).Output()
		require.NoError(t, err)
		ours, err := csv.NewReader(&b).ReadAll()
		require.NoError(t, err)
		want, err := json.Marshal(ours)
		require.NoError(t, err)
		require.JSONEq(t, string(want), string(out), name)
	})
}

// All sheets of a set of 25 songs and 25,000 cues, as PDF, JSON and CSV.
func BenchmarkAllSheets25000(b *testing.B) {
	s := testshow.Big(b)
	p := timeline.Compile(s, s.Night("n1"))
	for b.Loop() {
		each(b, p, func(name string, made Sheet) {
			for _, format := range []string{"pdf", "json", "csv"} {
				require.NoError(b, Write(&bytes.Buffer{}, made, format, paper.A4, 1), name)
			}
		})
	}
}
