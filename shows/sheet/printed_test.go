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
	"pgregory.net/rapid"

	"emberbeat/render"
	"emberbeat/render/paper"
	"emberbeat/timeline"
	"emberbeat/timeline/witness"
)

// each makes every sheet that can be printed of a plan: those about one night
// where the plan is a night's.
func each(t require.TestingT, p *timeline.Plan, do func(name string, made Printed)) {
	for _, o := range Offers() {
		if o.Night && p.Night == nil {
			continue
		}
		made, err := o.Make(p, Filter{})
		require.NoError(t, err, o.Name)
		do(o.Name, made)
	}
	if p.Night != nil {
		report := NewChangeReport(timeline.Compile(p.Show, nil), p, nil)
		report.Prints = nil // the list of all sheets grows with the program
		do("change-report", report)
	}
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

// staged is the charged show in a venue that gives its lines, marks and numbers.
func staged(t testing.TB) *timeline.Show {
	t.Helper()
	s, err := charged(t).Edit(func(d *timeline.Draft) error {
		v := *d.Show().Venue("v1")
		v.Place, v.Trim, v.Volume, v.RuleSet, v.Conditions = "Northport", 9, 2000, "nyc-fc-2014", []string{"no flames after 22:30"}
		v.Audience = []timeline.PlanLine{{Name: "barrier", From: timeline.Point{X: -12, Y: -4}, To: timeline.Point{X: 12, Y: -4}}}
		v.Performers = []timeline.PlanMark{{Name: "singer", At: timeline.Point{Y: 2}, Radius: 1}}
		v.Clear = []timeline.PlanMark{{Name: "stairs", At: timeline.Point{X: 6, Y: 1}, Radius: 1.5}}
		d.Put("", &v)
		for id, change := range map[timeline.ID]func(*timeline.Article){
			"comet": func(a *timeline.Article) { a.Height, a.Fallout, a.UN, a.Category = 8, 3, "0431", "T1" },
			"jet":   func(a *timeline.Article) { a.Height, a.Clear, a.Medium, a.UseRate = 6, 3, "CO2", 0.8 },
			"flame": func(a *timeline.Article) { a.Height, a.Separation, a.Medium, a.UseRate = 5, 6, "propane", 0.1 },
		} {
			a := *d.Show().Stock.Article(id)
			change(&a)
			d.Put("", &a)
		}
		return nil
	})
	require.NoError(t, err)
	return s
}

// ruleCount is a number that grows with the program.
var ruleCount = regexp.MustCompile(`\b\d+ rules\b`)

func TestPrintedPagesRead(t *testing.T) {
	s := staged(t)
	each(t, timeline.Compile(s, s.Night("n1")), func(name string, made Printed) {
		var text strings.Builder
		for _, page := range made.Sheet().Pages(render.NewFaces(), paper.A4) {
			text.WriteString(paper.Plain(page))
		}
		golden(t, name+".page.txt", ruleCount.ReplaceAll([]byte(text.String()), []byte("N rules")))
	})
}

// Every page carries what tells it from another revision's, and the caution; a
// tour without a night says "not given".
func TestEveryPageCarriesItsHead(t *testing.T) {
	s := staged(t)
	for _, night := range []string{"n1", ""} {
		each(t, timeline.Compile(s, s.Night(timeline.ID(night))), func(name string, made Printed) {
			pages := made.Sheet().Pages(render.NewFaces(), paper.Letter)
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
	s := staged(t)
	first, second := map[string]string{}, map[string]string{}
	for _, into := range []map[string]string{first, second} {
		each(t, timeline.Compile(s, s.Night("n1")), func(name string, made Printed) {
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

// hostile gives the night of the charged show with names that are long, of
// other scripts, broken, or formulas.
func hostile(t testing.TB, seed int) *timeline.Plan {
	t.Helper()
	words := rapid.OneOf(rapid.StringOfN(rapid.RuneFrom([]rune("abcWM .-é火=+@\t\n\"'")), 1, 300, -1), rapid.Just("=1+1"), rapid.Just(strings.Repeat("W", 200)))
	s, named := staged(t), 0
	for _, k := range timeline.Kinds() {
		songs := []timeline.ID{""}
		if k.InSong {
			songs = []timeline.ID{"ember", "tide"}
		}
		for _, song := range songs {
			for _, r := range k.List(s, song) {
				for _, field := range []string{"name", "title", "note", "place", "reason"} {
					if f := k.Field(field); f == nil || f.Type != timeline.TextField {
						continue
					}
					seed++
					next, err := s.Edit(func(d *timeline.Draft) error {
						return d.Set(timeline.Ref{Kind: k.Name, Song: song, ID: r.RecordID()}, field, timeline.Value{Text: words.Example(seed)})
					})
					if err == nil { // some fields take no such text, and say so
						s = next
						named++
					}
				}
			}
		}
	}
	require.Greater(t, named, 30)
	return timeline.Compile(s, s.Night("n1"))
}

// Cells of every sheet start no formula, and all lines are equally wide.
func TestPrintedCSV(t *testing.T) {
	for seed := range 3 {
		each(t, hostile(t, seed*1000), func(name string, made Printed) {
			var b bytes.Buffer
			require.NoError(t, made.WriteCSV(&b))
			lines, err := csv.NewReader(&b).ReadAll()
			require.NoError(t, err, name)
			for _, line := range lines {
				for _, cell := range line {
					if r, _ := utf8.DecodeRuneInString(strings.TrimLeft(cell, " ")); cell != "" {
						require.NotContains(t, formulaStarts, string(r), "%s %q", name, cell)
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
		each(t, hostile(t, seed*1000), func(name string, made Printed) {
			for _, size := range paper.Sizes() {
				for _, page := range made.Sheet().Pages(faces, size) {
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
	witness.Need(t, "python3")
	each(t, hostile(t, 0), func(name string, made Printed) {
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
	s := bigShow(b)
	p := timeline.Compile(s, s.Night("n1"))
	for b.Loop() {
		each(b, p, func(name string, made Printed) {
			for _, format := range []string{"pdf", "json", "csv"} {
				require.NoError(b, Write(&bytes.Buffer{}, made, format, paper.A4, 1), name)
			}
		})
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
