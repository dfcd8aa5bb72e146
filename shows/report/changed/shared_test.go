package changed

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/shows/report"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
	_ "emberbeat/timeline/testtool" // the seed of random walks
)

// What comes and goes is what a comparison of every line with every line finds,
// however much both lists share and wherever.
func TestSharedFindingsAreNotCompared(t *testing.T) {
	plan := timeline.Compile(timeline.NewShow("demo", "Lanterns over Water", timeline.Rate25), nil)
	one := rapid.Custom(func(rt *rapid.T) rule.Finding {
		f := rule.Finding{Rule: rapid.SampledFrom([]string{"recovery", "wind"}).Draw(rt, "rule"), Severity: rapid.SampledFrom([]rule.Severity{rule.Error, rule.Note}).Draw(rt, "severity"),
			Text: fmt.Sprintf("song %d \"Ember\": %d", rapid.IntRange(1, 2).Draw(rt, "song"), rapid.IntRange(0, 2).Draw(rt, "text"))}
		if rapid.IntRange(0, 4).Draw(rt, "accepted") == 0 {
			f.Accepted = &timeline.Acceptance{By: "somebody"}
		}
		return f
	})
	said := func(list []report.FindingLine) (texts []string) {
		for i := range list {
			texts = append(texts, sameFinding(&list[i]))
		}
		slices.Sort(texts)
		return texts
	}
	rapid.Check(t, func(rt *rapid.T) {
		head, tail := rapid.SliceOfN(one, 0, 4).Draw(rt, "head"), rapid.SliceOfN(one, 0, 4).Draw(rt, "tail")
		before := slices.Concat(head, rapid.SliceOfN(one, 0, 6).Draw(rt, "before"), tail)
		after := slices.Concat(head, rapid.SliceOfN(one, 0, 6).Draw(rt, "after"), tail)
		d := NewFindingsDiff(plan, plan, before, after)
		old := report.NewFindings(plan, rule.Facts{}, before, nil, report.Filter{}).List
		now := report.NewFindings(plan, rule.Facts{}, after, nil, report.Filter{}).List
		require.Equal(rt, said(unmatched(now, old)), said(d.New))
		require.Equal(rt, said(unmatched(old, now)), said(d.Gone))
		require.Equal(rt, len(now)-len(d.New), d.Stay)
	})
}
