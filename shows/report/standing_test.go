package report_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// The head of a sheet counts what is open, not what is accepted, and tells every
// rule that the show has otherwise, by whom and why.
func TestStanding(t *testing.T) {
	p := testshow.CutNight(t, func(*timeline.Night) {})
	found := rule.Check(p, rule.Facts{})
	open, of := 0, map[string]bool{}
	for _, f := range found {
		if f.Severity == rule.Error && f.Accepted == nil {
			open++
			of[f.Rule] = true
		}
	}
	require.Positive(t, open)
	s := report.StandingOf(p, rule.Facts{}, found)
	require.Equal(t, open, s.Errors)
	require.Len(t, s.Of, len(of))
	require.Contains(t, s.Text(), "errors open: "+s.Of[0])
	require.Len(t, rule.Rules(), s.Rules)

	for i := range found {
		found[i].Accepted = &timeline.Acceptance{By: "M. Sorrel", Reason: "seen"}
	}
	s = report.StandingOf(p, rule.Facts{}, found)
	require.Zero(t, s.Errors)
	require.Contains(t, s.Text(), "no error open with ")
	require.Contains(t, s.Text(), "recordings not looked at")

	show, err := p.Show.Edit(rule.Tune(rule.Tuning{Rule: "recovery", Off: true, Reason: new("new valves"), By: new("A. Tern")}),
		rule.Tune(rule.Tuning{Rule: "separation", Off: true, Scope: new([]string{"family=co2-jet"}), Reason: new("cold")}),
		rule.Tune(rule.Tuning{Rule: "roof", Severity: new("note")}))
	require.NoError(t, err)
	p = timeline.Compile(show, p.Night)
	s = report.StandingOf(p, rule.Facts{}, nil)
	require.Equal(t, len(rule.Rules())-1, s.Rules)
	require.ElementsMatch(t, []report.RuleOtherwise{{"recovery", "off", "A. Tern", "new valves"}, {"separation", "off only for family=co2-jet", "", "cold"}, {"roof", "note in place of error", "", ""}}, s.Otherwise)
	require.Contains(t, s.Text(), ", 1 off, 1 off in part")
	require.Contains(t, s.Lines(), [2]string{"rule separation", "off only for family=co2-jet; by not given: cold"})
}

// A plan stands with the rule set of its venue: which edition, read on which
// day, what took its place, and what our numbers leave out of it.
func TestStandingWithRuleSet(t *testing.T) {
	p := testshow.CutNight(t, func(*timeline.Night) {})
	show, err := p.Show.Edit(func(d *timeline.Draft) error {
		v := *p.Venue
		v.RuleSet = "bye-law"
		d.Put("", &v, &timeline.RuleSet{Base: timeline.Base{ID: "bye-law"}, Name: "Harbour bye-law", Edition: "2031", Read: "2032-01-09", Newer: "that of 2034", LeftOut: []string{"boats"}})
		return nil
	})
	require.NoError(t, err)
	lines := report.StandingOf(timeline.Compile(show, show.Night(p.Night.ID)), rule.Facts{}, nil).Lines()
	for _, want := range [][2]string{{"which applies", "rule set Harbour bye-law, edition 2031, of not given, day it was read 2032-01-09"}, {"its place taken by", "that of 2034"}, {"left out of it here", "boats"}} {
		require.Contains(t, lines, want)
	}
	show, err = p.Show.Edit(func(d *timeline.Draft) error {
		v := *p.Venue
		v.RuleSet = ""
		d.Put("", &v)
		return nil
	})
	require.NoError(t, err)
	require.Contains(t, report.StandingOf(timeline.Compile(show, show.Night(p.Night.ID)), rule.Facts{}, nil).Lines(), [2]string{"which applies", "no rule set"})
}
