package sheet

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"io"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/shows/report"
	"emberbeat/shows/report/load"
	"emberbeat/shows/report/permit"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
)

// csvParts reads a sheet that writeParts wrote as a reader would: its tables by
// heading, each row by its columns' names. The caller names the headings.
func csvParts(t require.TestingT, made Sheet, headings ...string) map[string][]map[string]string {
	var b bytes.Buffer
	require.NoError(t, made.WriteCSV(&b))
	lines, err := csv.NewReader(&b).ReadAll()
	require.NoError(t, err)
	parts := map[string][]map[string]string{}
	for _, h := range headings {
		parts[h] = tableUnder(lines, h)
	}
	return parts
}

// tableUnder gives the rows of the table under a heading, up to the next line
// with one cell.
func tableUnder(lines [][]string, heading string) (rows []map[string]string) {
	var names []string
	in := false
	for _, line := range lines {
		alone := strings.Join(line[1:], "") == ""
		switch {
		case line[0] == heading && alone:
			in = true
		case !in || line[0] == "note":
		case alone:
			return rows
		case names == nil:
			names = line
		default:
			row := map[string]string{}
			for i, cell := range line {
				row[names[i]] += cell
			}
			rows = append(rows, row)
		}
	}
	return rows
}

// figures is what every sheet must agree about.
type figures struct {
	commands, pieces int
	nec              string // g
}

func readFigures(t require.TestingT, row map[string]string, commands, pieces, nec string) (f figures) {
	var err error
	if commands != "" {
		f.commands, err = strconv.Atoi(row[commands])
		require.NoError(t, err, "%s of %v", commands, row)
	}
	f.pieces, err = strconv.Atoi(row[pieces])
	require.NoError(t, err, "%s of %v", pieces, row)
	f.nec = row[nec]
	return f
}

// sum adds up the rows but the last, which is their total.
func sum(rows []map[string]string, column string) float64 {
	all := 0.0
	for _, r := range rows[:len(rows)-1] {
		x, _ := strconv.ParseFloat(r[column], 64) // an empty cell is none
		all += x
	}
	return all
}

// altered puts both songs of the small show into one choice of alternatives.
func altered(t *rapid.T, s *timeline.Show) *timeline.Show {
	out, err := s.Edit(func(d *timeline.Draft) error {
		set := *d.Show().Set("main")
		alt := rapid.SampledFrom([]string{"", "closer"}).Draw(t, "alternatives")
		set.Entries = []timeline.Entry{{Song: "ember", Alt: alt}, {Song: "tide", Alt: alt}}
		jet := *d.Show().Stock.Article("jet")
		jet.Medium, jet.UseRate, jet.UseEach = "CO2", float64(rapid.IntRange(0, 9).Draw(t, "rate"))/10, float64(rapid.IntRange(0, 9).Draw(t, "each"))/10
		d.Put("", &set, &jet, &timeline.Supply{Base: timeline.Base{ID: "cyl"}, Name: "cylinder", Medium: "CO2", Fill: 22.7, Units: 2, Usable: 0.8, Reserve: 0.15, Feeds: []timeline.ID{"j1"}})
		return nil
	})
	require.NoError(t, err)
	return out
}

// Commands, pieces, NEC and use are the same on cue list, load plan, permit pack,
// order list and return sheet, read from their CSV and JSON, and every total is the sum of
// its lines.
func TestSheetsAgreeAsTheyAreRead(t *testing.T) {
	plain := testshow.Charged(t)
	rapid.Check(t, func(rt *rapid.T) {
		s, err := altered(rt, testshow.Random(rt, plain)).Edit(func(d *timeline.Draft) error {
			for _, h := range d.Show().HandCues { // no line of a cue list says what keys use
				if err := d.Remove(timeline.Ref{Kind: "handcue", ID: h.ID}); err != nil {
					return err
				}
			}
			return nil
		})
		require.NoError(rt, err)
		p := timeline.Compile(s, s.Night("n1"))
		order, err := load.NewOrderList(p)
		require.NoError(rt, err)
		permit, err := permit.NewPack(p)
		require.NoError(rt, err)
		standing, err := load.NewPlan(p, report.Filter{})
		require.NoError(rt, err)
		list, err := report.NewCueList(p, report.Filter{})
		require.NoError(rt, err)

		o := csvParts(rt, orderList{order}, "Articles", "Consumption song by song", "Gases, fluids and paper")
		k := csvParts(rt, permitPack{Pack: permit}, "Articles", "Net explosive content by day and hazard division", "Gases, fluids and paper")
		last := func(rows []map[string]string) map[string]string { return rows[len(rows)-1] }
		want := readFigures(rt, last(o["Articles"]), "commands", "pieces", "NEC g")
		require.Equal(rt, want, readFigures(rt, last(k["Articles"]), "commands", "pieces", "NEC all g"), "permit pack")
		for name, rows := range map[string][]map[string]string{"NEC g": o["Articles"], "NEC all g": k["Articles"]} {
			require.Equal(rt, float64(want.pieces), sum(rows, "pieces"))
			require.Equal(rt, float64(want.commands), sum(rows, "commands"))
			require.InDelta(rt, number(rt, want.nec), sum(rows, name), 1e-6)
		}
		days := k["Net explosive content by day and hazard division"]
		require.Equal(rt, figures{pieces: want.pieces, nec: want.nec}, readFigures(rt, last(days), "", "pieces", "NEC g"), "by day")
		require.InDelta(rt, number(rt, want.nec), sum(days, "NEC g"), 1e-6)

		// The load plan's own form: a total line, and a line for each output.
		var b bytes.Buffer
		require.NoError(rt, loadPlan{standing}.WriteCSV(&b))
		lines, err := csv.NewReader(&b).ReadAll()
		require.NoError(rt, err)
		total := lines[len(lines)-1]
		heads := lines[slices.IndexFunc(lines, func(l []string) bool { return slices.Contains(l, "pieces") })]
		cell := func(head string) string { return total[slices.Index(heads, head)] }
		require.Equal(rt, want, figures{int(number(rt, cell("commands"))), int(number(rt, cell("pieces"))), cell("NEC g")}, "load plan")

		// The return sheet, article by article.
		var returned struct {
			Articles []struct {
				OnSite int     `json:"on_site"`
				NEC    float64 `json:"nec_grams"`
			}
		}
		read(rt, returnSheet{load.NewReturnSheet(p)}, &returned)
		onSite, mass := 0, 0.0
		for _, a := range returned.Articles {
			onSite, mass = onSite+a.OnSite, mass+a.NEC
		}
		require.Equal(rt, want.pieces, onSite, "return sheet")
		require.InDelta(rt, number(rt, want.nec), mass, 1e-6, "return sheet")

		// The cue list, line by line.
		var cues struct {
			Lines []struct {
				Action, Article string
				Song            int     `json:"song_number"`
				Open            float64 `json:"open"`
			} `json:"commands"`
		}
		read(rt, cueList{CueList: list}, &cues)
		commands, kg := 0, map[int]float64{}
		for _, line := range cues.Lines {
			if line.Action == "hit" {
				commands++
				if a := s.Stock.Article(timeline.ID(line.Article)); a.Medium == "CO2" {
					kg[line.Song] += a.UseEach + a.UseRate*line.Open
				}
			}
		}
		require.Equal(rt, want.commands, commands, "cue list")
		uses := kg[1] + kg[2]
		if p.Choices()[0] != "" {
			uses = max(kg[1], kg[2])
		}
		if uses == 0 {
			return
		}
		require.InDelta(rt, uses, number(rt, co2(rt, o["Gases, fluids and paper"])["plan uses kg"]), 1e-5, "order list")
		require.InDelta(rt, uses, number(rt, co2(rt, k["Gases, fluids and paper"])["plan uses kg"]), 1e-5, "permit pack")
		songs := o["Consumption song by song"]
		require.InDelta(rt, uses, number(rt, last(songs)["CO2 kg"]), 1e-5)
		for i := range 2 {
			require.InDelta(rt, kg[i+1], number(rt, songs[i]["CO2 kg"]), 1e-5, "song %d", i+1)
		}
	})
}

func number(t require.TestingT, cell string) float64 {
	x, err := strconv.ParseFloat(cell, 64)
	require.NoError(t, err)
	return x
}

func co2(t require.TestingT, rows []map[string]string) map[string]string {
	for _, r := range rows {
		if r["medium"] == "CO2" {
			return r
		}
	}
	require.Fail(t, "no line for CO2")
	return nil
}

func read(t require.TestingT, made Sheet, into any) {
	var b bytes.Buffer
	require.NoError(t, made.WriteJSON(&b))
	require.NoError(t, json.Unmarshal(b.Bytes(), into))
}

// Every sheet of any show can be made, for the tour where it needs no night, and
// written in every form.
func TestEverySheetOfAnyShow(t *testing.T) {
	plain := testshow.Charged(t)
	rapid.Check(t, func(rt *rapid.T) {
		s := altered(rt, testshow.Random(rt, plain))
		for _, night := range []*timeline.Night{nil, s.Night("n1")} {
			p := timeline.Compile(s, night)
			for _, o := range Kinds() {
				made, err := o.Make(p, report.Filter{})
				if night == nil && o.Night {
					require.Error(rt, err, o.Name)
					continue
				}
				require.NoError(rt, err, o.Name)
				require.NoError(rt, made.WriteJSON(io.Discard), o.Name)
				require.NoError(rt, made.WriteCSV(io.Discard), o.Name)
				require.NotEmpty(rt, made.Printed().Parts, o.Name)
			}
		}
	})
}

// Every sheet that gives totals gives the same.
func TestAllTotalsAreOne(t *testing.T) {
	plain := testshow.Charged(t)
	rapid.Check(t, func(rt *rapid.T) {
		s := altered(rt, testshow.Random(rt, plain))
		p := timeline.Compile(s, s.Night("n1"))
		var want string
		n := 0
		for _, o := range Kinds() {
			made, err := o.Make(p, report.Filter{})
			require.NoError(rt, err, o.Name)
			var got struct{ Totals json.RawMessage }
			read(rt, made, &got)
			if got.Totals == nil {
				continue
			}
			if n++; n == 1 {
				want = string(got.Totals)
			}
			require.JSONEq(rt, want, string(got.Totals), o.Name)
		}
		require.GreaterOrEqual(rt, n, 5, "sheets with totals")
	})
}
