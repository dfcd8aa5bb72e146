package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// Standing is how a plan stood with the rules when a sheet was made of it: what
// was asked, what was not, and which errors are open. It is no clearance.
type Standing struct {
	Errors    int             `json:"errors_open"` // that nobody has accepted
	Of        []string        `json:"errors_of"`   // the rules that found them, in alphabetical order
	Rules     int             `json:"rules_asked"`
	Otherwise []RuleOtherwise `json:"rules_otherwise"` // off in part or wholly, or of another severity
	NoData    []string        `json:"not_compared"`    // what is not given, and so was compared with nothing
	Audio     bool            `json:"recordings_looked_at"`
	RuleSet   string          `json:"rule_set"` // that the venue names, its edition and the day it was read; "" = none
	Newer     string          `json:"rule_set_superseded_by"`
	LeftOut   []string        `json:"rule_set_left_out"` // what it says, and its numbers here do not
}

// RuleOtherwise is a rule that the show does not have as it comes.
type RuleOtherwise struct {
	Rule   string `json:"rule"`
	How    string `json:"how"`
	By     string `json:"by"` // "" = not given
	Reason string `json:"reason"`
}

// StandingOf says how a plan stands, with what its rules found from facts.
func StandingOf(p *timeline.Plan, facts rule.Facts, found []rule.Finding) *Standing {
	s := &Standing{Of: []string{}, Otherwise: []RuleOtherwise{}, NoData: []string{}, LeftOut: []string{}, Audio: facts.Audio != nil}
	if set := rule.RuleSetOf(p.Show, p.Venue); set != nil {
		s.RuleSet, s.LeftOut = rule.EditionOf(set), append(s.LeftOut, set.LeftOut...)
		if !rule.Unsaid(set.Newer) {
			s.Newer = set.Newer
		}
	}
	s.Rules, _ = rule.AskedOf(p.Show)
	for _, r := range rule.Rules() {
		set := p.Show.Setting(r.Name)
		if how := otherwise(p.Show, r, set); how != "" {
			s.Otherwise = append(s.Otherwise, RuleOtherwise{r.Name, how, set.By, set.Reason})
		}
	}
	for i := range found {
		f := &found[i]
		if rule.TellsNoData(f.Rule) {
			s.NoData = append(s.NoData, f.Text)
		}
		if f.Severity == rule.Error && f.Accepted == nil {
			s.Errors++
			if !slices.Contains(s.Of, f.Rule) {
				s.Of = append(s.Of, f.Rule)
			}
		}
	}
	slices.Sort(s.Of)
	return s
}

// otherwise says in words how a show has a rule otherwise than it comes; other
// numbers are told with the rule.
func otherwise(show *timeline.Show, r rule.Rule, s *timeline.Setting) string {
	var parts []string
	switch {
	case s == nil:
		return ""
	case s.Off && len(s.Scope) > 0:
		return "off only for " + scopeText(show, s)
	case s.Off:
		return "off"
	}
	if s.Severity != "" && s.Severity != string(r.Severity) {
		parts = append(parts, s.Severity+" in place of "+string(r.Severity))
	}
	if len(s.Values) > 0 {
		parts = append(parts, strings.Join(s.Values, ", "))
	}
	if len(parts) > 0 && len(s.Scope) > 0 {
		parts = append(parts, "only for "+scopeText(show, s))
	}
	return strings.Join(parts, "; ")
}

// scopeText says where a setting counts, with records called by their names.
func scopeText(show *timeline.Show, s *timeline.Setting) string {
	names, f := show.Names(), timeline.KindOf("setting").Field("scope")
	list := make([]string, len(s.Scope))
	for i, item := range s.Scope {
		list[i] = names.SaidItem(f, "", item)
	}
	return strings.Join(list, ", ")
}

// Text says it in a line, as it stands in the head of every sheet: which errors
// are open, and where there is none, of how many rules.
func (s *Standing) Text() string {
	if s.Errors > 0 {
		return timeline.Counted(s.Errors, "error") + " open: " + strings.Join(s.Of, ", ")
	}
	text := fmt.Sprintf("no error open with %d rules asked%s", s.Rules, s.offText())
	if !s.Audio {
		text += "; recordings not looked at"
	}
	return text
}

func (s *Standing) offText() string {
	off, part := 0, 0
	for _, o := range s.Otherwise {
		switch {
		case o.How == "off":
			off++
		case strings.HasPrefix(o.How, "off "):
			part++
		}
	}
	text := ""
	if off > 0 {
		text += fmt.Sprintf(", %d off", off)
	}
	if part > 0 {
		text += fmt.Sprintf(", %d off in part", part)
	}
	return text
}

// Lines tells all of it, as pairs of what and how.
func (s *Standing) Lines() [][2]string {
	list := [][2]string{{"rules asked", fmt.Sprint(s.Rules)}}
	if s.Errors > 0 {
		list = append(list, [2]string{"errors open", fmt.Sprintf("%d: %s", s.Errors, strings.Join(s.Of, ", "))})
	} else {
		list = append(list, [2]string{"errors open", "none that a rule asked for; what no rule looks at is not told"})
	}
	for _, o := range s.Otherwise {
		list = append(list, [2]string{"rule " + o.Rule, fmt.Sprintf("%s; by %s: %s", o.How, wording.Given(o.By), cmp.Or(o.Reason, "no reason given"))})
	}
	list = append(list, [2]string{"which applies", cmp.Or(s.RuleSet, "no rule set")})
	if s.Newer != "" {
		list = append(list, [2]string{"its place taken by", s.Newer})
	}
	for _, text := range s.LeftOut {
		list = append(list, [2]string{"left out of it here", text})
	}
	for _, text := range s.NoData {
		list = append(list, [2]string{"not compared", text})
	}
	recordings := "not looked at"
	if s.Audio {
		recordings = "looked at"
	}
	return append(list, [2]string{"recordings", recordings})
}
