package report

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// A rule is shown with its numbers as the show has them: those of the rule keep
// their mark and source, those of the show say that they are.
func TestRuleInShow(t *testing.T) {
	s := testshow.Edited(t, testshow.Small(t), rule.Tune(rule.Tuning{Rule: "timecode-clash", Numbers: []string{"gap=4"}, Severity: new("note"), Reason: new("short changeovers")}))
	r, err := NewRuleInShow(s, "timecode-clash")
	require.NoError(t, err)
	require.Equal(t, NumberNow{Name: "gap", Value: "4 s", Own: true, Default: "0", Source: "set by this show"}, r.Now[0])
	require.Equal(t, "3600 s", r.Now[1].Value)
	require.Equal(t, string(timeline.CommonPractice), r.Now[1].Mark)
	var b strings.Builder
	require.NoError(t, r.WriteText(&b))
	require.Contains(t, b.String(), "in this show: note; reason: short changeovers\n")

	for _, line := range RuleLines() { // every number has a mark and a source, and every rule can be shown
		r, err := NewRuleInShow(s, line.Rule)
		require.NoError(t, err)
		for _, n := range r.Now {
			require.NotEmpty(t, n.Source, "%s %s", line.Rule, n.Name)
			require.True(t, n.Own || n.Mark != "", "%s %s", line.Rule, n.Name)
		}
		require.NoError(t, r.WriteText(&b))
	}
	_, err = NewRuleInShow(s, "gravity")
	require.ErrorContains(t, err, `there is no rule "gravity"`)
	require.Len(t, RulesLike(""), len(RuleLines()))
	require.Equal(t, "timecode-clash", RulesLike("least free timecode")[0].Rule, "found by what a number is for")
	require.Empty(t, RulesLike("gravity"))
}

// Every published rule set is listed with place, edition, date, source and mark;
// one of the show's own says so, and where it applies.
func TestRuleSetList(t *testing.T) {
	s := testshow.Edited(t, testshow.Small(t), timeline.AddVenue(timeline.NewVenue("hall", "Hall")), rule.AddRuleSet(timeline.RuleSet{Base: timeline.Base{ID: "own"}, Name: "Bye-law", Wind: 8}), rule.ChooseRuleSet("hall", "own"))
	l := NewRuleSetList(s)
	require.Len(t, l.RuleSets, len(rule.PublishedRuleSets())+1)
	for _, r := range l.RuleSets {
		if !r.Own {
			require.NotContains(t, []string{r.Place, r.Edition, r.Date, r.Source, r.Mark}, "", r.ID)
		}
	}
	own := l.Find("own")
	require.True(t, own.Own)
	require.Equal(t, []string{"Hall"}, own.Used)
	var b strings.Builder
	require.NoError(t, l.WriteText(&b))
	require.Regexp(t, `(?m)^own +Bye-law .* 8 .* own +Hall$`, b.String())
	require.Contains(t, b.String(), "None applies until a venue names it")
	require.Nil(t, l.Find("moon"))
}
