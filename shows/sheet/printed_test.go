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
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"emberbeat/render"
	"emberbeat/render/paper"
	"emberbeat/timeline"
)

// makers are all sheets that can be printed.
var makers = []struct {
	name string
	of   func(*timeline.Plan, Filter) (Printed, error)
}{
	{"cue-list", func(p *timeline.Plan, f Filter) (Printed, error) { return NewCueList(p, f) }},
	{"load-plan", func(p *timeline.Plan, f Filter) (Printed, error) { return NewLoadPlan(p, f) }},
	{"patch-sheet", func(p *timeline.Plan, _ Filter) (Printed, error) { return NewPatchSheet(p), nil }},
	{"running-sheet", func(p *timeline.Plan, f Filter) (Printed, error) { return NewRunningSheet(p, f) }},
}

// charged is the small show with explosives, a circuit, a spare comet on two
// outputs, and an effect that nothing is wired to.
func charged(t testing.TB) *timeline.Show {
	t.Helper()
	s, err := small(t).Edit(func(d *timeline.Draft) error {
		d.Put("", &timeline.Article{Base: base{ID: "comet"}, Name: "comet", Family: timeline.Comet, HitPoint: timeline.FirstLight,
			Control: timeline.IgniterControl, Lead: timeline.FromMillis(40), Open: timeline.FromMillis(1500), SingleUse: true, NEC: 12.1, Division: "1.4G"},
			&timeline.Circuit{Base: base{ID: "k1"}, Name: "circuit 1", Joining: timeline.InSeries, Igniters: 2, Ohms: 1.6, AllFire: 0.5, Cable: 50, Section: 1.5},
			&timeline.Wire{Base: base{ID: "w2"}, Placed: "c1", Unit: "b2", Output: 1, Circuit: "k1"},
			&timeline.Wire{Base: base{ID: "w4"}, Placed: "c1", Unit: "b2", Output: 2},
			&timeline.Placed{Base: base{ID: "c2"}, Name: "comet 2", Article: "comet", Position: "left", Spare: true})
		return nil
	})
	require.NoError(t, err)
	return s
}

func TestPrintedPagesRead(t *testing.T) {
	s := charged(t)
	p := timeline.Compile(s, s.Night("n1"))
	for _, m := range makers {
		made, err := m.of(p, Filter{})
		require.NoError(t, err)
		var text strings.Builder
		for _, page := range made.Sheet().Pages(render.NewFaces(), paper.A4) {
			text.WriteString(paper.Plain(page))
		}
		golden(t, m.name+".page.txt", []byte(text.String()))
	}
}

// Every page carries what tells it from another revision's, and the caution; a
// tour without a night says "not given".
func TestEveryPageCarriesItsHead(t *testing.T) {
	s := charged(t)
	for _, night := range []string{"n1", ""} {
		p := timeline.Compile(s, s.Night(timeline.ID(night)))
		for _, m := range makers {
			made, err := m.of(p, Filter{})
			require.NoError(t, err)
			pages := made.Sheet().Pages(render.NewFaces(), paper.Letter)
			for i, page := range pages {
				text := paper.Plain(page)
				require.Contains(t, text, fmt.Sprintf("page %d of %d", i+1, len(pages)))
				for _, want := range []string{"Test Tour", "revision", "venue", "not permission to fire", "Label, instructions, permit and authority come first",
					"only licensed and competent persons", "marked C, M or J are unverified"} {
					require.Contains(t, strings.Join(strings.Fields(text), " "), want, m.name)
				}
				if night == "" {
					require.Contains(t, text, "not given")
				} else {
					require.Contains(t, text, "2031-05-09")
					require.Contains(t, text, "Lantern Hall")
				}
			}
		}
	}
}

func TestPrintedIsTheSameEachTime(t *testing.T) {
	p := timeline.Compile(charged(t), nil)
	for _, m := range makers {
		write := func(of func(*bytes.Buffer, Printed) error) string {
			made, err := m.of(p, Filter{})
			require.NoError(t, err)
			var b bytes.Buffer
			require.NoError(t, of(&b, made))
			return b.String()
		}
		for _, of := range []func(*bytes.Buffer, Printed) error{
			func(b *bytes.Buffer, s Printed) error { return s.WriteCSV(b) },
			func(b *bytes.Buffer, s Printed) error { return s.WriteJSON(b) },
			func(b *bytes.Buffer, s Printed) error { return WritePDF(b, s, paper.A4) },
			func(b *bytes.Buffer, s Printed) error { return WritePage(b, s, paper.A4, 1) },
		} {
			require.Equal(t, write(of), write(of), m.name)
		}
		made, err := m.of(p, Filter{})
		require.NoError(t, err)
		require.ErrorContains(t, WritePage(&bytes.Buffer{}, made, paper.A4, 99), "there is no page 99")
	}
}

// Cells of every sheet start no formula, and all lines are equally wide.
func TestPrintedCSV(t *testing.T) {
	p := timeline.Compile(charged(t), nil)
	for _, m := range makers {
		made, err := m.of(p, Filter{})
		require.NoError(t, err)
		var b bytes.Buffer
		require.NoError(t, made.WriteCSV(&b))
		lines, err := csv.NewReader(&b).ReadAll()
		require.NoError(t, err, m.name)
		for _, line := range lines {
			for _, cell := range line {
				if r, _ := utf8.DecodeRuneInString(strings.TrimLeft(cell, " ")); cell != "" {
					require.NotContains(t, formulaStarts, string(r), "%s %q", m.name, cell)
				}
			}
		}
	}
}

// No text of any sheet leaves the margins of its page, and none is written over
// another.
func TestPrintedTextsStandApart(t *testing.T) {
	p := timeline.Compile(charged(t), nil)
	for _, m := range makers {
		made, err := m.of(p, Filter{})
		require.NoError(t, err)
		for _, size := range paper.Sizes() {
			for _, page := range made.Sheet().Pages(render.NewFaces(), size) {
				inner := page.Bounds().Inset(page.Px(45))
				var boxes []image.Rectangle
				for i := range page.Shapes {
					if sh := &page.Shapes[i]; sh.Kind == render.KindText {
						require.True(t, sh.Box.In(inner), "%s: %s", m.name, page.Label(sh))
						boxes = append(boxes, sh.Box.Inset(page.Px(2)))
					}
				}
				for i, a := range boxes {
					for _, b := range boxes[:i] {
						require.False(t, a.Overlaps(b), "%s: %v %v", m.name, a, b)
					}
				}
			}
		}
	}
}

// Python's csv module reads what Go's does, in its strict mode.
func TestPythonReadsTheCSV(t *testing.T) {
	if _, err := exec.LookPath("python3"); err != nil {
		if os.Getenv("EMBERBEAT_REQUIRE_TOOLS") == "1" {
			t.Fatal("python3 is missing")
		}
		t.Skip("python3 is missing")
	}
	p := timeline.Compile(charged(t), nil)
	for _, m := range makers {
		made, err := m.of(p, Filter{})
		require.NoError(t, err)
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
		require.JSONEq(t, string(want), string(out), m.name)
	}
}

// All sheets of a set of 25 songs and 25,000 cues, as PDF, JSON and CSV.
func BenchmarkAllSheets25000(b *testing.B) {
	p := timeline.Compile(bigShow(b), nil)
	for b.Loop() {
		for _, m := range makers {
			made, err := m.of(p, Filter{})
			require.NoError(b, err)
			require.NoError(b, WritePDF(&bytes.Buffer{}, made, paper.A4))
			require.NoError(b, made.WriteJSON(&bytes.Buffer{}))
			require.NoError(b, made.WriteCSV(&bytes.Buffer{}))
		}
	}
}

// bigShow has 25 songs of 1,000 cues.
func bigShow(t testing.TB) *timeline.Show {
	s, err := charged(t).Edit(func(d *timeline.Draft) error {
		set := &timeline.Set{Base: base{ID: "main"}, Name: "main"}
		for i := range 25 {
			id := timeline.ID(fmt.Sprintf("s%02d", i))
			d.Put("", &timeline.SongHead{Base: base{ID: id}, Title: "Song " + string(id), Slug: string(id), Start: timeline.Timecode{H: uint8(i / 3), M: uint8(i % 3 * 20)}, Length: 4 * timeline.Minute})
			d.Put(id, &timeline.Lane{Base: base{ID: "ljet"}, Name: "jets", Target: "j1", Role: timeline.EffectSlot})
			for j := range 1000 {
				d.Put(id, &timeline.Cue{Base: base{ID: timeline.ID(fmt.Sprintf("c%04d", j))}, Lane: "ljet", At: timeline.AtTime(timeline.Time(j) * 240 * timeline.Millisecond)})
			}
			set.Entries = append(set.Entries, timeline.Entry{Song: id})
		}
		d.Put("", set)
		return nil
	})
	require.NoError(t, err)
	return s
}
