package rule

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

// wordsAndDays are fields that a rule looks at and that hold no number.
var wordsAndDays = []string{"category", "banned", "expires", "permits", "insurance", "date", "hazardous", "outcomes", "division", "medium"}

// explainedGaps gives what findings rest on and their rules do not explain: a
// setting that the rule does not have, or a field of a record that it does not
// name among its numbers. Words and dates are no numbers.
func explainedGaps(all []Finding) map[string]bool {
	gaps := map[string]bool{}
	for i := range all {
		f := &all[i]
		r, _ := Lookup(f.Rule)
		for _, g := range f.Grounds {
			if g.Ref.Kind == "setting" {
				if of, ok := Lookup(string(g.Ref.ID)); !ok || of.place(g.Field) < 0 {
					gaps[fmt.Sprintf("%s: setting %s", f.Rule, g.Field)] = true
				}
				continue
			}
			if !slices.Contains(wordsAndDays, g.Field) && !r.names(g.Ref.Kind, g.Field) {
				gaps[fmt.Sprintf("%s: %s %s", f.Rule, g.Ref.Kind, g.Field)] = true
			}
		}
	}
	return gaps
}

// names reports whether a rule names a field of a kind of record among its
// numbers.
func (r *Rule) names(kind, field string) bool {
	for _, s := range r.Settings {
		if slices.Contains(strings.Split(s.Field, ", or "), kind+" "+field) {
			return true
		}
	}
	return false
}

// Whatever a finding of any rule rests on is among the numbers that explain
// names for it, and a number that is compared is among what the finding rests
// on: the current of a circuit's bank, too.
func TestEveryNumberIsExplained(t *testing.T) {
	gaps := map[string]bool{}
	for seed := range uint64(3) {
		s := bigShow(t, 2, 60, seed)
		for gap := range explainedGaps(Check(timeline.Compile(s, s.Night("n")), Facts{Today: "2031-05-01"})) {
			gaps[gap] = true
		}
	}
	require.Empty(t, gaps)
	require.NotEmpty(t, explainedGaps([]Finding{{Rule: "circuit", Grounds: []Ground{{Ref: rigRef("banktype", "b"), Field: "outputs"}}}}))
	require.NotEmpty(t, explainedGaps([]Finding{{Rule: "circuit", Grounds: []Ground{{Ref: rigRef("setting", "circuit"), Field: "extra"}}}}))
}
