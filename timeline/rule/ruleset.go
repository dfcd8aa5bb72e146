package rule

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"emberbeat/timeline"
)

// rulesets.json holds published rule sets as data: for each field of a rule set
// its text, and a list for its distances.
//
//go:embed rulesets.json
var publishedData []byte

// PublishedRuleSets gives the rule sets that come with the program, by id. None
// of them applies until a venue names it; a rule set of the show with the same
// id takes its place. The records must not be changed.
func PublishedRuleSets() []*timeline.RuleSet { return slices.Clone(published) }

// published is read once, before anything else runs.
var published = mustReadRuleSets(publishedData)

func mustReadRuleSets(data []byte) []*timeline.RuleSet {
	sets, err := readRuleSets(data)
	if err != nil {
		panic("rule: rulesets.json: " + err.Error())
	}
	return sets
}

// readRuleSets reads rule sets through the table of their fields.
func readRuleSets(data []byte) ([]*timeline.RuleSet, error) {
	var rows []map[string]any
	if err := json.Unmarshal(data, &rows); err != nil {
		return nil, err
	}
	var sets []*timeline.RuleSet
	kind := timeline.KindOf("ruleset")
	for _, row := range rows {
		id, _ := row["id"].(string)
		set := kind.New(timeline.ID(id)).(*timeline.RuleSet)
		for name, v := range row {
			if name == "id" {
				continue
			}
			field := kind.Field(name)
			if field == nil {
				return nil, fmt.Errorf("%s: %q is no field of a rule set", id, name)
			}
			if err := field.Set(set, fieldValue(v)); err != nil {
				return nil, fmt.Errorf("%s: %w", id, err)
			}
		}
		sets = append(sets, set)
	}
	slices.SortFunc(sets, func(a, b *timeline.RuleSet) int { return strings.Compare(string(a.ID), string(b.ID)) })
	return sets, nil
}

func fieldValue(v any) timeline.Value {
	list, ok := v.([]any)
	if !ok {
		return timeline.Value{Text: fmt.Sprint(v)}
	}
	items := make([]string, len(list))
	for i, item := range list {
		items[i] = fmt.Sprint(item)
	}
	return timeline.Value{Items: items}
}

// RuleSets gives every rule set that a venue of the show can name: those of the
// show, and the published ones whose ids it does not use. Sorted by id.
func RuleSets(s *timeline.Show) []*timeline.RuleSet {
	all := slices.Clone(s.RuleSets)
	for _, p := range published {
		if s.RuleSet(p.ID) == nil {
			all = append(all, p)
		}
	}
	slices.SortFunc(all, func(a, b *timeline.RuleSet) int { return strings.Compare(string(a.ID), string(b.ID)) })
	return all
}

// RuleSetOf gives the rule set that a venue names by id or by name, or nil.
func RuleSetOf(s *timeline.Show, v *timeline.Venue) *timeline.RuleSet {
	if v == nil || v.RuleSet == "" {
		return nil
	}
	if own := s.RuleSet(timeline.ID(v.RuleSet)); own != nil {
		return own
	}
	for _, set := range RuleSets(s) {
		if string(set.ID) == v.RuleSet || strings.EqualFold(set.Name, v.RuleSet) {
			return set
		}
	}
	return nil
}
