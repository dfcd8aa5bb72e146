package sheet

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/render"
	"emberbeat/render/paper"
	"emberbeat/shows/report/permit"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
	"emberbeat/timeline/units"
)

// inFeet gives a show whose own units are feet.
func inFeet(t *testing.T, s *timeline.Show) *timeline.Show {
	return testshow.Edited(t, s, func(d *timeline.Draft) error {
		return d.Set(timeline.Ref{Kind: "show", ID: s.Head.ID}, "units", timeline.Value{Text: "feet"})
	})
}

// metricFigure is a figure in a unit that a show in feet does not print.
var metricFigure = regexp.MustCompile(`(?:[0-9] ?|> ?)(?:m|cm|kg|°C|m/s|m²|m³|kg/s)(?:[^\pL/²³]|$)`)

// metricHead is a column in such a unit.
var metricHead = regexp.MustCompile(`(?:^| )(?:m|kg|kg/s|m/s)(?:$|,)`)

// No sheet of a show in feet holds a figure in metres, kilograms or °C; ADR counts its points from kilograms, and says so.
func TestSheetsInFeet(t *testing.T) {
	s := inFeet(t, testshow.Staged(t))
	seen := 0
	for _, night := range []timeline.ID{"n1", ""} {
		each(t, timeline.Compile(s, s.Night(night)), func(name string, made Sheet) {
			for _, p := range made.Printed().Parts {
				if p.Heading == "Transport points" {
					continue
				}
				var texts []string
				for _, c := range p.Columns {
					require.NotRegexp(t, metricHead, c.Name, name)
					texts = append(texts, c.Name)
				}
				for _, f := range append(append([]paper.Fact{}, p.Figures...), p.Entries...) {
					texts = append(texts, f.Label, f.Text)
				}
				for _, r := range p.Rows {
					texts = append(texts, r.Cells...)
				}
				for _, text := range append(append(texts, p.Heading), p.Notes...) {
					require.NotRegexp(t, metricFigure, text, "%s, %s", name, p.Heading)
					if strings.Contains(text, " ft") || strings.Contains(text, " lb") {
						seen++
					}
				}
			}
		})
	}
	require.Greater(t, seen, 20)
	require.Equal(t, paper.Letter, PaperOf(s))
	require.Equal(t, paper.A4, PaperOf(testshow.Staged(t)))
}

// The units change words and nothing else: the same findings with the same numbers, accepted alike, and the same rows on every sheet.
func TestUnitsChangeNoFinding(t *testing.T) {
	metres := testshow.Staged(t)
	feet := inFeet(t, metres)
	for _, night := range []timeline.ID{"n1", "n2", ""} {
		a, b := timeline.Compile(metres, metres.Night(night)), timeline.Compile(feet, feet.Night(night))
		was, is := rule.Check(a, rule.Facts{}), rule.Check(b, rule.Facts{})
		require.Len(t, is, len(was))
		otherwise := 0
		for i := range was {
			require.Equal(t, was[i].Digest(), is[i].Digest())
			require.Equal(t, was[i].Ref, is[i].Ref)
			require.Equal(t, was[i].Severity, is[i].Severity)
			require.Equal(t, was[i].Accepted, is[i].Accepted)
			if was[i].Text != is[i].Text {
				otherwise++
			}
			require.NotRegexp(t, metricFigure, is[i].Text)
			require.NotRegexp(t, metricFigure, is[i].Help)
		}
		if night == "n1" {
			require.NotZero(t, otherwise)
		}
		rows := map[string][]int{}
		each(t, a, func(name string, made Sheet) {
			for _, p := range made.Printed().Parts {
				rows[name] = append(rows[name], len(p.Rows))
			}
		})
		each(t, b, func(name string, made Sheet) {
			for i, p := range made.Printed().Parts {
				require.Equal(t, rows[name][i], len(p.Rows), "%s, %s", name, p.Heading)
			}
		})
	}
}

// Whoever prints and whatever that person reads on the screen, a sheet is the show's; what programs read is in metres.
func TestPaperIsTheShows(t *testing.T) {
	s := inFeet(t, testshow.Staged(t))
	for _, reads := range units.Systems() {
		told := s.ToldIn(reads)
		require.Equal(t, units.Feet, Told(told, "pdf").Told())
		require.Equal(t, units.Feet, Told(told, "csv").Told())
		require.Equal(t, units.Metres, Told(told, "json").Told())
		require.Equal(t, paper.Letter, PaperOf(told))
		marked := PrintStates(timeline.Compile(told, told.Night("n1")), true)
		require.Equal(t, PrintStates(timeline.Compile(s, s.Night("n1")), true), marked, "what was printed has not changed")
	}
}

// The inspector's sheet and the permit pack in feet, as they are read.
func TestPagesReadInFeet(t *testing.T) {
	s := inFeet(t, testshow.Staged(t))
	each(t, timeline.Compile(s, s.Night("n1")), func(name string, made Sheet) {
		if name != "inspector-sheet" && name != "permit-pack" {
			return
		}
		var text strings.Builder
		for _, page := range made.Printed().Pages(render.NewFaces(), paper.Letter) {
			text.WriteString(paper.Plain(page))
		}
		testshow.Golden(t, name+".feet.txt", ruleCount.ReplaceAll([]byte(text.String()), []byte("N rules")))
	})
}

// Of any show: both systems find the same, and what a sheet in feet prints of the distances that were judged is never more lenient than the
// metres that they were judged by.
func TestJudgedDistancesInFeet(t *testing.T) {
	base := testshow.Staged(t)
	rapid.Check(t, func(rt *rapid.T) {
		s := testshow.Random(rt, base)
		feet := s.ToldIn(units.Feet)
		a, b := timeline.Compile(s, s.Night("n1")), timeline.Compile(feet, feet.Night("n1"))
		was, is := rule.Check(a, rule.Facts{}), rule.Check(b, rule.Facts{})
		require.Len(rt, is, len(was))
		for i := range was {
			require.Equal(rt, was[i].Digest(), is[i].Digest())
		}
		number := func(text string) float64 {
			x, err := strconv.ParseFloat(text, 64)
			require.NoError(rt, err)
			return x * 0.3048
		}
		k, err := permit.NewPack(b)
		require.NoError(rt, err)
		for _, d := range k.Distances {
			for i := range d.Rows {
				r := &d.Rows[i]
				if r.Required != nil {
					require.GreaterOrEqual(rt, number(judged(units.Feet.UpNumber, r.Required, "")), *r.Required-1e-6)
				}
				if r.Planned != nil {
					require.LessOrEqual(rt, number(judged(units.Feet.DownNumber, r.Planned, "")), *r.Planned+1e-6)
				}
				if r.Verdict == "short" {
					require.Contains(rt, []string{"SHORT", "REACH"}, r.State(units.Feet)[:5])
				}
			}
		}
	})
}
