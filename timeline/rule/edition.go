package rule

import (
	"cmp"
	"fmt"
	"strings"

	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:    "old-edition",
	Summary: "a venue names a rule set of which there is a newer edition",
	Reason: "The edition in force is what an authority goes by. Numbers of an older one may still be the same, and may not be: somebody must read the newer. Which edition took whose place " +
		"stands with the rule set, as far as it was known on the day it was written down.",
	Scope:    WholeSet,
	Severity: Warning,
	Settings: []Setting{{Name: "superseded-by", Field: "ruleset superseded-by", Mark: timeline.Typed, Source: "the rule set's own, as somebody typed it", Help: "the edition that took its place; empty = none that is known"}},
	set:      checkEdition,
})

func checkEdition(r *setRun) {
	v := r.plan.Venue
	set := RuleSetOf(r.plan.Show, v)
	if set == nil || Unsaid(set.Newer) {
		return
	}
	ref := rigRef("ruleset", set.ID)
	f := Finding{Ref: rigRef("venue", v.ID), Others: []timeline.Ref{ref}}
	f.Text = fmt.Sprintf("%s names %s, and its place has been taken by: %s", r.name(v), EditionOf(set), set.Newer)
	f.Values = []Value{word("rule set", string(set.ID)), word("superseded by", set.Newer)}
	f.Grounds = []Ground{{ref, "superseded-by", set.Newer, "", ""}}
	f.Help = "read the newer edition, copy the rule set into the show and enter what it asks for (ruleset copy)" + deferral
	r.add(r.settings.at(nil, nil, nil), -1, "", f)
}

// Unsaid reports whether a text of a rule set says nothing.
func Unsaid(text string) bool { return text == "" || text == "not given" }

// EditionOf names a rule set with its edition and with the day on which it was
// read. What nobody has written down is said to be not given.
func EditionOf(set *timeline.RuleSet) string {
	given := func(text string) string {
		if Unsaid(text) {
			return "not given"
		}
		return text
	}
	text := []string{"rule set " + cmp.Or(set.Name, "without a name"), "edition " + given(set.Edition)}
	if set.Date != set.Edition {
		text = append(text, "of "+given(set.Date))
	}
	return strings.Join(append(text, "day it was read "+given(set.Read)), ", ")
}
