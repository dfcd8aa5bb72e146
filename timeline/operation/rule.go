package operation

import (
	"fmt"
	"slices"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/field"
	"emberbeat/timeline/rule"
)

// ruleOperations have a rule work otherwise in a show.
func ruleOperations() []*Operation { return []*Operation{tune()} }

// OwnSeverity is written where a rule's findings are as grave as they come.
const OwnSeverity = "own"

func tune() *Operation {
	type A = rule.Tuning
	name := Argument{Field: field.Text("rule", "the rule", func(t *A) *string { return &t.Rule }), Word: "NAME", NoForm: true, offer: offerRules}
	numbers := field.TextList("numbers", "number=value; number= gives the rule's own back", func(t *A) *[]string { return &t.Numbers })
	// A form has one box for what are two flags.
	checked := field.Of("checked", "a rule that is not checked needs a reason", field.FlagType,
		func(t *A) field.Value { return field.Value{Text: fmt.Sprint(t.On)} },
		func(t *A, v field.Value) error {
			t.On = v.Text == "true"
			t.Off = !t.On
			return nil
		})
	severity := field.Of("severity", "error, warning, note, or own for the rule's own", field.TextType,
		func(t *A) field.Value {
			switch {
			case t.Severity == nil:
				return field.Value{}
			case *t.Severity == "":
				return field.Value{Text: OwnSeverity}
			}
			return field.Value{Text: *t.Severity}
		},
		func(t *A, v field.Value) error {
			if t.Severity = &v.Text; v.Text == OwnSeverity {
				t.Severity = new("")
			}
			return nil
		})
	severity.Choices = []string{string(rule.Error), string(rule.Warning), string(rule.Note), OwnSeverity}
	scope := field.Of("scope", "only for song=NAME, family=NAME or placed=ID; everywhere takes it away", field.ListType,
		func(t *A) field.Value {
			if t.Scope == nil {
				return field.Value{}
			}
			return field.Value{Items: *t.Scope}
		},
		func(t *A, v field.Value) error {
			if t.Scope = new(slices.Clone(v.Items)); len(v.Items) == 1 && v.Items[0] == "everywhere" {
				t.Scope = new([]string(nil))
			}
			return nil
		})
	return does(Operation{Verb: "rule", Menu: "Tune rule…", Title: "Tune", Button: "Tune",
		Tip:  "turns the chosen rule off or on, changes its severity and numbers, and says which findings are new and which are cleared",
		Help: "finds a rule, shows its numbers, sets them",
		Args: []Argument{
			name,
			{Field: checked, Label: "Checked", Hint: "the rule is checked", NoVerb: true},
			{Field: severity, Label: "Severity", Empty: true},
			{Field: numbers, Word: "number=value…", Optional: true, Label: "Numbers"},
			{Field: field.Flag("off", "do not check the rule in this show", func(t *A) *bool { return &t.Off }), NoForm: true},
			{Field: field.Flag("on", "check it again", func(t *A) *bool { return &t.On }), NoForm: true},
			{Field: scope, Label: "Only where", Hint: "everywhere", Empty: true, Commas: true},
			{Field: maybeText("reason", "why the show has it so", func(t *A) **string { return &t.Reason }), Label: "Reason", Hint: "why it is otherwise here", Empty: true},
			{Field: maybeText("by", "who says so", func(t *A) **string { return &t.By }), Label: "By", Hint: "who says so", Empty: true},
		}},
		func(_ At, t *A) (timeline.Edit, error) {
			if t.Off && t.On {
				return nil, fmt.Errorf("{off} and {on} exclude each other")
			}
			for _, pair := range t.Numbers {
				if !strings.Contains(pair, "=") {
					return nil, fmt.Errorf("%q sets nothing; write number=value", pair)
				}
			}
			return rule.Tune(*t), nil
		},
		func(_ *timeline.Show, t *A) string { return "tune " + t.Rule })
}

func offerRules(*timeline.Show) []Offer {
	var list []Offer
	for _, r := range rule.Tunable() {
		list = append(list, Offer{r.Name, r.Name})
	}
	return list
}
