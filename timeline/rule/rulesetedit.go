package rule

import (
	"fmt"
	"slices"
	"strings"

	"emberbeat/timeline"
)

// FindRuleSet finds a rule set that a venue of the show can name, by id or by
// name without regard to case. The error lists what there is.
func FindRuleSet(s *timeline.Show, text string) (*timeline.RuleSet, error) {
	var names []string
	for _, set := range RuleSets(s) {
		if string(set.ID) == text || strings.EqualFold(set.Name, text) {
			return set, nil
		}
		names = append(names, fmt.Sprintf("%s (%q)", set.ID, set.Name))
	}
	return nil, fmt.Errorf("rule set %q is not there: there is %s", text, strings.Join(names, ", "))
}

// ChooseRuleSet gives the edit that lets a rule set apply at a venue, by id or
// name; "" lets none apply.
func ChooseRuleSet(venue timeline.ID, text string) timeline.Edit {
	return timeline.EditVenue(venue, func(s *timeline.Show, v *timeline.Venue) error {
		if v.RuleSet = ""; text == "" {
			return nil
		}
		set, err := FindRuleSet(s, text)
		if err != nil {
			return err
		}
		v.RuleSet = string(set.ID)
		return nil
	})
}

// AddRuleSet gives the edit that adds a rule set of the show's own. One with the
// id of a published set takes that one's place in this show.
func AddRuleSet(set timeline.RuleSet) timeline.Edit {
	return func(d *timeline.Draft) error {
		switch {
		case d.Show().RuleSet(set.ID) != nil:
			return fmt.Errorf("ruleset:%s is there already; choose another id, or change that record", set.ID)
		case strings.TrimSpace(set.Name) == "":
			return &timeline.ValueError{Kind: "ruleset", Field: "name", Want: "is empty; a new rule set needs a name"}
		}
		return putRuleSet(d, set)
	}
}

// AskInRuleSet gives the edit that enters a distance into a rule set of the
// show's own. The published ones are not changed: the error says how to own one.
func AskInRuleSet(id timeline.ID, asked timeline.Distance) timeline.Edit {
	return func(d *timeline.Draft) error {
		own := d.Show().RuleSet(id)
		if own == nil {
			return fmt.Errorf("ruleset:%s is no rule set of the show's own; copy it into the show first", id)
		}
		set := *own
		set.Distances = append(slices.Clone(own.Distances), asked)
		return putRuleSet(d, set)
	}
}

// putRuleSet puts a rule set that has been through the table of its fields.
func putRuleSet(d *timeline.Draft, set timeline.RuleSet) error {
	k := timeline.KindOf("ruleset")
	for i := range k.Fields {
		f := &k.Fields[i]
		if err := f.Set(&set, f.Get(&set)); err != nil {
			return err
		}
	}
	d.Put("", &set)
	return nil
}
