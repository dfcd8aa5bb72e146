package rule

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

// A published rule set applies where a venue names it; a copy of it in the show
// takes its place, and can be changed there.
func TestRuleSetEdits(t *testing.T) {
	s, err := stage(t).Edit(timeline.AddVenue(timeline.NewVenue("hall", "Hall")), ChooseRuleSet("hall", "Victoria, explosives regulations 2011, r.152"))
	require.NoError(t, err)
	require.Equal(t, "victoria-2011", s.Venue("hall").RuleSet)
	published := RuleSetOf(s, s.Venue("hall"))
	ask := timeline.Distance{To: timeline.ToPersons, AtLeast: 9, Families: []timeline.Family{timeline.Mine}, Clause: "local"}
	_, err = s.Edit(AskInRuleSet("victoria-2011", ask))
	require.ErrorContains(t, err, "copy it into the show first")
	own, err := s.Edit(AddRuleSet(*published), AskInRuleSet("victoria-2011", ask))
	require.NoError(t, err)
	require.Len(t, RuleSetOf(own, own.Venue("hall")).Distances, len(published.Distances)+1)
	require.Len(t, RuleSetOf(s, s.Venue("hall")).Distances, len(published.Distances), "the published one is as it was")
	none, err := own.Edit(ChooseRuleSet("hall", ""))
	require.NoError(t, err)
	require.Nil(t, RuleSetOf(none, none.Venue("hall")))
	for want, edit := range map[string]timeline.Edit{
		`rule set "moon" is not there: there is`: ChooseRuleSet("hall", "moon"),
		`ruleset:victoria-2011 is there already`: AddRuleSet(*published),
		`ruleset name: "": is empty`:             AddRuleSet(timeline.RuleSet{Base: base{ID: "x"}}),
		`must be a number from 0 to 100 m/s`:     AddRuleSet(timeline.RuleSet{Base: base{ID: "x"}, Name: "x", Wind: 900}),
		`asks for no distance`:                   AskInRuleSet("victoria-2011", timeline.Distance{To: timeline.ToPersons}),
	} {
		next, err := own.Edit(edit)
		require.ErrorContains(t, err, want)
		require.Nil(t, next)
	}
}
