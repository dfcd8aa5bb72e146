package report

import (
	"bufio"
	"fmt"
	"io"
	"slices"
	"strings"

	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// RuleInShow is a rule as it works in a show: each of its numbers with where it
// comes from. Its JSON keys are relied on: they only grow.
type RuleInShow struct {
	RuleLine
	Off    bool        `json:"off"`
	Grave  string      `json:"severity_in_show"`
	Now    []NumberNow `json:"numbers"`
	Scope  []string    `json:"scope_in_show"` // where the show's setting applies; none = everywhere
	Why    string      `json:"reason_in_show"`
	Caveat string      `json:"caution"`
}

// NumberNow is a number of a rule as a show has it.
type NumberNow struct {
	Name    string `json:"name"`
	Value   string `json:"value"` // with its unit; "" where it stands in records
	Own     bool   `json:"own"`   // set by the show
	Default string `json:"default"`
	Mark    string `json:"mark"`
	Source  string `json:"source"`
	Field   string `json:"field,omitempty"` // of the record where it stands
}

// NewRuleInShow looks a rule up in a show. The error names rules that are like
// it, or says how to list all.
func NewRuleInShow(s *timeline.Show, name string) (*RuleInShow, error) {
	lines := RuleLines()
	i := slices.IndexFunc(lines, func(r RuleLine) bool { return r.Rule == name })
	if i < 0 {
		return nil, fmt.Errorf("there is no rule %q", name)
	}
	r := &RuleInShow{RuleLine: lines[i], Grave: string(lines[i].Severity), Now: []NumberNow{}, Scope: []string{}, Caveat: Caution}
	if r.Sheet {
		r.Grave = "sheet"
	}
	set := s.Setting(name)
	if set != nil {
		r.Off, r.Why = set.Off, set.Reason
		r.Scope = append(r.Scope, set.Scope...)
		if set.Severity != "" {
			r.Grave = set.Severity
		}
	}
	for _, x := range lines[i].Settings {
		n := NumberNow{Name: x.Name, Default: x.Default, Value: x.Default, Mark: x.Mark, Source: x.Source, Field: x.Field}
		if value := rule.OwnNumber(set, x.Name); value != "" {
			n.Value, n.Own, n.Mark, n.Source = value, true, "", "set by this show"
		}
		as := rule.Setting{Unit: x.Unit}
		n.Value = as.Said(s.Told(), n.Value)
		if s.Told().Unit(x.Unit) != x.Unit {
			n.Default = as.Said(s.Told(), n.Default)
		}
		r.Now = append(r.Now, n)
	}
	return r, nil
}

// WriteText writes the rule with its numbers and how to change them.
func (r *RuleInShow) WriteText(w io.Writer) error {
	out := bufio.NewWriter(w)
	fmt.Fprintf(out, "%s: %s\n\n%s\n\n", r.Rule, r.Summary, wording.Wrap(r.Reason, explainWidth))
	state := r.Grave
	switch {
	case r.Sheet:
		state = "numbers of a sheet, which finds nothing"
	case r.Off:
		state = "OFF, not checked"
	}
	fmt.Fprintf(out, "in this show: %s", state)
	if len(r.Scope) > 0 {
		fmt.Fprintf(out, ", the show's numbers only for %s", strings.Join(r.Scope, " "))
	}
	if r.Why != "" {
		fmt.Fprintf(out, "; reason: %s", r.Why)
	}
	fmt.Fprintln(out)
	if len(r.Now) == 0 {
		fmt.Fprintln(out, "it compares with no number of its own")
		return out.Flush()
	}
	t := &wording.Table{Columns: []wording.Column{{Name: "number", Right: false}, {Name: "value", Right: true}, {Name: "default", Right: true}, {Name: "mark", Right: false}, {Name: "source", Right: false}, {Name: "changed by", Right: false}}}
	for _, n := range r.Now {
		by := fmt.Sprintf("%s=…", n.Name)
		if n.Field != "" {
			by = "edit: " + n.Field
		}
		t.Rows = append(t.Rows, []string{n.Name, n.Value, n.Default, n.Mark, n.Source, by})
	}
	if err := t.Write(out); err != nil {
		return err
	}
	return out.Flush()
}

// RulesLike lists the rules whose name, sentence or numbers hold a text; all for
// "".
func RulesLike(text string) []RuleLine {
	text = strings.ToLower(text)
	return slices.DeleteFunc(RuleLines(), func(r RuleLine) bool {
		all := r.Rule + " " + r.Summary
		for _, s := range r.Settings {
			all += " " + s.Name + " " + s.Help
		}
		return !strings.Contains(strings.ToLower(all), text)
	})
}

// RuleTable lists rules for people, one line each, with the numbers they have.
func RuleTable(s *timeline.Show, lines []RuleLine) *wording.Table {
	t := &wording.Table{Columns: []wording.Column{{Name: "rule", Right: false}, {Name: "severity", Right: false}, {Name: "numbers", Right: false}, {Name: "finds", Right: false}}}
	for _, r := range lines {
		now, err := NewRuleInShow(s, r.Rule)
		if err != nil {
			continue // the lines are those of rules
		}
		severity := now.Grave
		if now.Off {
			severity = "off"
		}
		var numbers []string
		for _, n := range now.Now {
			if n.Field == "" {
				numbers = append(numbers, n.Name+"="+n.Value)
			}
		}
		t.Rows = append(t.Rows, []string{r.Rule, severity, strings.Join(numbers, ", "), r.Summary})
	}
	return t
}
