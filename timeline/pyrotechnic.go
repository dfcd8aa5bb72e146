package timeline

import (
	"fmt"
	"slices"
	"strings"
)

// Pyrotechnic says what makes an article pyrotechnic: that it gives a net explosive
// content, a UN number or a category, or that the rule set which applies (nil = none)
// counts its family so. "" = nothing says it is. What it looks like says nothing: the
// same fountain is made with a powder and without one.
func (a *Article) Pyrotechnic(r *RuleSet) string {
	var why []string
	if a.NEC > 0 {
		why = append(why, "NEC")
	}
	if a.UN != "" {
		why = append(why, "UN "+a.UN)
	}
	if a.Category != "" {
		why = append(why, "category "+a.Category)
	}
	if r != nil && slices.Contains(r.Pyro, a.Family) {
		why = append(why, "rule set "+r.Name)
	}
	return strings.Join(why, ", ")
}

func parseFamily(s string) (Family, error) {
	f := Family(s)
	if !slices.Contains(Families(), f) {
		return "", fmt.Errorf("%q is no family", s)
	}
	return f, nil
}
