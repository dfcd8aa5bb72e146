package report

import (
	"fmt"
	"strings"

	"emberbeat/shows/report/wording"
	"emberbeat/timeline/rule"
	"emberbeat/timeline/units"
)

// Explain tells what a rule looks for, why, and with which numbers. The error
// names the rules there are.
func Explain(told units.System, name string) (string, error) {
	r, ok := rule.Lookup(name)
	if !ok {
		return "", fmt.Errorf("there is no rule %q; the rules are:\n%s", name, RuleList())
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s\n\n%s\n\n", r.Name, r.Summary, wording.Wrap(r.Reason, explainWidth))
	if r.OfSheet() {
		b.WriteString("a sheet: these are the numbers that it goes by; it finds nothing\n")
	} else {
		fmt.Fprintf(&b, "severity: %s\nlooks at: %s\n", r.Severity, scopeName(r.Scope))
	}
	for _, s := range r.Settings {
		b.WriteString("\n" + explainSetting(told, &r, s))
	}
	if r.OfSheet() {
		fmt.Fprintf(&b, "\nTo change them in a show, give the show a setting %q: values and scope are its fields, and reason says why.\n", r.Name)
		return b.String(), nil
	}
	fmt.Fprintf(&b, "\nTo change how it works in a show, give the show a setting %q: severity, off, values and scope are its\nfields, and reason says why.\n", r.Name)
	return b.String(), nil
}

const explainWidth = 100

// explainSetting tells one number of a rule: what it is, where it stands, and
// how well it is known.
func explainSetting(told units.System, r *rule.Rule, s rule.Setting) string {
	var b strings.Builder
	if s.Field != "" {
		fmt.Fprintf(&b, "%s: %s\n  stands in: %s\n", s.Name, s.Help, s.Field)
	} else {
		value := s.Said(told, s.Default)
		fmt.Fprintf(&b, "%s: %s\n  default: %s\n  change with: setting %s, values %s=…\n", s.Name, s.Help, value, r.Name, s.Name)
	}
	fmt.Fprintf(&b, "  known by: %s (%s)\n", markName(string(s.Mark)), s.Source)
	return b.String()
}

func scopeName(s rule.Scope) string {
	switch s {
	case rule.InSong:
		return "each song by itself"
	case rule.Neighbours:
		return "each song, and it with the songs before it"
	}
	return "the whole set"
}

// graveness is a rule's severity, or that it is none.
func graveness(r *rule.Rule) string {
	if r.OfSheet() {
		return "sheet"
	}
	return string(r.Severity)
}

// RuleList lists all rules with what they find, one line each.
func RuleList() string {
	t := &wording.Table{Columns: []wording.Column{{Name: "rule", Right: false}, {Name: "severity", Right: false}, {Name: "finds", Right: false}}}
	for _, r := range rule.Tunable() {
		t.Rows = append(t.Rows, []string{r.Name, graveness(&r), r.Summary})
	}
	var b strings.Builder
	_ = t.Write(&b) // a Builder takes everything
	return b.String()
}
