package report

import (
	"emberbeat/timeline/rule"
)

// RuleLine is a rule for other programs. Its JSON keys are relied on: they only
// grow.
type RuleLine struct {
	Rule     string        `json:"rule"`
	Summary  string        `json:"summary"`
	Reason   string        `json:"reason"`
	Scope    rule.Scope    `json:"scope"`
	Severity rule.Severity `json:"severity"`
	Settings []SettingLine `json:"settings"`
	Sheet    bool          `json:"sheet,omitempty"` // numbers that a sheet goes by; it finds nothing
}

// SettingLine is one number a rule compares with.
type SettingLine struct {
	Name    string `json:"name"`
	Default string `json:"default"`
	Unit    string `json:"unit,omitempty"`
	Mark    string `json:"mark"`
	Source  string `json:"source"`
	Help    string `json:"help"`
	Field   string `json:"field,omitempty"` // of the record where it stands
}

// RuleLines gives the rules in the order of their names, and after them the
// sheets that have numbers of their own.
func RuleLines() []RuleLine {
	var all []RuleLine
	for _, r := range rule.Tunable() {
		line := RuleLine{r.Name, r.Summary, r.Reason, r.Scope, r.Severity, []SettingLine{}, r.OfSheet()}
		for _, s := range r.Settings {
			line.Settings = append(line.Settings, SettingLine{s.Name, s.Default, s.Unit, string(s.Mark), s.Source, s.Help, s.Field})
		}
		all = append(all, line)
	}
	return all
}
