package rule

import (
	"fmt"

	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:     "unknown-setting",
	Summary:  "a setting of the show names no rule, or a value or scope that the rule does not have",
	Reason:   "A setting that means nothing changes nothing: the rule works as if it were not there, which may not be what was meant.",
	Scope:    WholeSet,
	Severity: Note,
	set:      checkSettings,
})

var staleAcceptanceRule = enter(Rule{
	Name:     "stale-acceptance",
	Summary:  "something accepted for the night is no longer found as it was",
	Reason:   "An acceptance holds for the numbers that were looked at. When they change, the finding comes back and must be looked at again; when it is gone, the acceptance is left over.",
	Scope:    WholeSet,
	Severity: Note,
})

func checkSettings(r *setRun) {
	for _, s := range r.plan.Show.Settings {
		ref := rigRef("setting", s.ID)
		rule, known := Lookup(string(s.ID))
		if !known {
			f := Finding{Ref: ref, Text: fmt.Sprintf("there is no rule %q", s.ID), Values: []Value{word("rule", string(s.ID))}}
			f.Help = "correct its name, or take the setting out"
			f.Fix = &Fix{Label: "take the setting out", On: ref, Edits: []timeline.Edit{func(d *timeline.Draft) error { return d.Remove(ref) }}}
			r.add(r.settings.at(nil, nil, nil), -1, "", f)
			continue
		}
		var good []string
		var bad []error
		for _, pair := range s.Values {
			if _, _, err := rule.readValue(pair); err != nil {
				bad = append(bad, err)
			} else {
				good = append(good, pair)
			}
		}
		for _, err := range bad {
			r.badSetting(s, err, fixList("take the value out", ref, "values", good))
		}
		_, errs := timeline.ParseScope(s.Scope)
		for _, err := range errs {
			r.badSetting(s, fmt.Errorf("%w; the whole setting is left out", err), nil)
		}
	}
}

func (r *setRun) badSetting(s *timeline.Setting, err error, fix *Fix) {
	f := Finding{Ref: rigRef("setting", s.ID), Text: fmt.Sprintf("setting of %s: %v", s.ID, err), Values: []Value{word("problem", err.Error())}, Fix: fix}
	f.Help = "correct it, or take it out"
	r.add(r.settings.at(nil, nil, nil), -1, "", f)
}
