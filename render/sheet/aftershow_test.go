package sheet

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/render"
	"emberbeat/render/paper"
	"emberbeat/shows/report"
	"emberbeat/shows/report/load"
	"emberbeat/shows/report/night"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// toured is the staged show with hand cues, a refill, and two nights of which
// the first was played: one comet misfired, one was not fired.
func toured(t require.TestingT, s *timeline.Show) *timeline.Show {
	s, err := s.Edit(func(d *timeline.Draft) error {
		v := *d.Show().Stock.Article("comet")
		v.Stock, v.Clear = 9, 3
		set := *d.Show().Set("main")
		set.Refills = []timeline.Refill{{Supply: "cyl", After: "ember", Minutes: 2, By: "rigger 2"}, {Supply: "cyl", After: "gone"}}
		later := timeline.Night{Base: timeline.Base{ID: "n2"}, Name: "second night", Slug: "second", Date: "2031-05-10", Set: "main", Venue: "v1"}
		d.Put("", &v, &set, &later, &timeline.Wire{Base: timeline.Base{ID: "w9"}, Placed: "c2", Driver: "b2", Output: 7},
			&timeline.Supply{Base: timeline.Base{ID: "cyl"}, Name: "cylinder", Medium: "CO2", Fill: 10, Units: 1, Usable: 0.8, Reserve: 0.15, Spare: 2, Feeds: []timeline.ID{"j1"}},
			&timeline.HandCue{Base: timeline.Base{ID: "h1"}, Key: 7, Name: "walk-on", Targets: []timeline.ID{"j1"}, Presses: 3, Open: timeline.Second, When: "first step on the riser", Caller: "stage manager", Note: "=watch the cable"},
			&timeline.HandCue{Base: timeline.Base{ID: "h2"}, Key: 8, Name: "finale", Targets: []timeline.ID{"c2", "f1"}, Presses: 1, Song: "tide", Caller: "show caller", ArmBy: "pyro lead"},
			&timeline.HandCue{Base: timeline.Base{ID: "h3"}, Key: 9, Name: "left out", Presses: 1, Song: "coda"})
		d.Put("", &timeline.SongHead{Base: timeline.Base{ID: "coda"}, Title: "Coda", Slug: "coda", Length: timeline.Second})
		return nil
	})
	require.NoError(t, err)
	s, err = s.Edit(func(d *timeline.Draft) error { // after all else: what is kept of the night is the show before it
		night := *d.Show().Night("n1")
		night.Outcomes = []timeline.Outcome{{Driver: "b2", Output: 1, State: timeline.Misfired, Placed: "c1", Article: "comet", Pieces: 1}, {Driver: "b2", Output: 7, State: timeline.Unfired, Placed: "c2", Article: "comet", Pieces: 1}}
		night.Weights = []timeline.Fill{{Supply: "cyl", Kg: 6.5}}
		d.Put("", &night)
		return nil
	})
	require.NoError(t, err)
	return s
}

func TestAfterShowSheetsRead(t *testing.T) {
	s := toured(t, testshow.Staged(t))
	for _, night := range []timeline.ID{"n1", "n2"} {
		for _, name := range []string{"operators-plan", "return-sheet", "misfire-log"} {
			o, ok := KindNamed(name)
			require.True(t, ok)
			made, err := o.Make(timeline.Compile(s, s.Night(night)), report.Filter{})
			require.NoError(t, err)
			var text strings.Builder
			for _, page := range made.Printed().Pages(render.NewFaces(), paper.A4) {
				text.WriteString(paper.Plain(page))
			}
			testshow.Golden(t, fmt.Sprintf("%s.%s.txt", name, night), []byte(text.String()))
		}
	}
}

// The next night knows what the one before has left: on the load plan, on
// tonight's page and on the misfire log.
func TestNextNightKnows(t *testing.T) {
	s := toured(t, testshow.Staged(t))
	p := timeline.Compile(s, s.Night("n2"))
	plan, err := load.NewPlan(p, report.Filter{})
	require.NoError(t, err)
	var states []string
	for _, g := range plan.Groups {
		for _, l := range g.Lines {
			if l.Placed == "c1" || l.Placed == "c2" {
				states = append(states, l.PlacedName+": "+strings.Join(l.State, ", "))
			}
		}
	}
	require.Contains(t, strings.Join(states, "\n"), "comet 2: spare, output dead, by hand: key 8 \"finale\", still loaded: not fired on 2031-05-09")
	require.Contains(t, strings.Join(states, "\n"), "OPEN MISFIRE of 2031-05-09: do not load before it is cleared")
	log := load.NewMisfireLog(p)
	require.Len(t, log.Lines, 1)
	require.True(t, log.Lines[0].Open)
	var page bytes.Buffer
	tonight, err := night.NewTonight(p, report.NewFindings(p, rule.Facts{}, nil, nil, report.Filter{}), night.ThinShare, nil)
	require.NoError(t, err)
	require.NoError(t, tonight.WriteText(&page))
	for _, want := range []string{"OPEN MISFIRE at bank 2 output 1, comet 1 (comet), of 2031-05-09", "still loaded at bank 2 output 7, comet 2: comet, not fired on 2031-05-09",
		"left 2031-05-09", "refill cylinder to 10 kg after song 1 \"Ember, slowly\", 2 min, by rigger 2", "key 7 \"walk-on\": 1 unit, first step on the riser", "key 9 \"left out\": not tonight, its song is not played"} {
		require.Contains(t, page.String(), want)
	}
}

// The paper says that it is paper, in every form.
func TestOperatorsPlanIsPaper(t *testing.T) {
	s := toured(t, testshow.Staged(t))
	o := report.NewOperatorsPlan(timeline.Compile(s, s.Night("n1")))
	var asCSV, asJSON bytes.Buffer
	require.NoError(t, operatorsPlan{o}.WriteCSV(&asCSV))
	require.NoError(t, o.WriteJSON(&asJSON))
	require.Contains(t, asCSV.String(), "PAPER ONLY")
	require.Contains(t, asJSON.String(), "PAPER ONLY")
	require.NotContains(t, asJSON.String(), "timecode\"", "no key has a time")
	for _, page := range (operatorsPlan{o}).Printed().Pages(render.NewFaces(), paper.Letter) {
		require.Contains(t, strings.Join(strings.Fields(paper.Plain(page)), " "), "no key fires, arms or drives an effect")
	}
}

// On the return sheet every piece is somewhere: on site = fired + misfired +
// still loaded + taken out + not entered, its totals are those of the load plan,
// and the stock after is the stock before less what is gone.
func TestReturnSheetAddsUp(t *testing.T) {
	plain := toured(t, testshow.Staged(t))
	rapid.Check(t, func(r *rapid.T) {
		s := plain
		for range rapid.IntRange(0, 4).Draw(r, "entries") {
			night := rapid.SampledFrom([]timeline.ID{"n1", "n2"}).Draw(r, "night")
			in := timeline.AfterShow{AllFired: rapid.Bool().Draw(r, "all"), Forget: rapid.Bool().Draw(r, "forget"), Outputs: map[timeline.OutcomeState][]timeline.OutputRef{}}
			state := rapid.SampledFrom([]timeline.OutcomeState{timeline.Fired, timeline.Unfired, timeline.Misfired, timeline.TakenOut}).Draw(r, "state")
			in.Outputs[state] = []timeline.OutputRef{{Driver: "b2", Output: rapid.SampledFrom([]int{1, 2, 7}).Draw(r, "output")}}
			edit, err := timeline.Compile(s, s.Night(night)).AfterShow(in)
			require.NoError(r, err)
			s, err = s.Edit(edit)
			require.NoError(r, err)
		}
		for _, night := range []timeline.ID{"", "n1", "n2"} {
			p := timeline.Compile(s, s.Night(night))
			sheet, load := load.NewReturnSheet(p), mustLoad(r, p)
			require.Equal(r, load.Used, sheet.Used)
			pieces, nec := 0, 0.0
			for _, a := range sheet.Articles {
				require.Equal(r, a.OnSite, a.Fired+a.Misfired+a.Loaded+a.TakenOut+a.NotEntered)
				require.Equal(r, a.Back, a.TakenOut+a.NotEntered)
				pieces, nec = pieces+a.OnSite, nec+a.NEC
				if a.Stock != nil {
					before, _ := s.OnHand(s.Stock.Article(timeline.ID(a.Article)), p.Night)
					require.Equal(r, before-a.Fired-a.Misfired, *a.Stock)
				}
			}
			require.Equal(r, sheet.Used.Pieces, pieces)
			require.InDelta(r, sheet.Used.NEC, nec, 1e-6)
		}
	})
}

func mustLoad(t require.TestingT, p *timeline.Plan) *load.Plan {
	plan, err := load.NewPlan(p, report.Filter{})
	require.NoError(t, err)
	return plan
}
