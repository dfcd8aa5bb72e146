package operation

import (
	"cmp"
	"errors"
	"strconv"

	"emberbeat/timeline"
	"emberbeat/timeline/field"
	"emberbeat/timeline/rule"
)

// ruleSetOperations choose and write down the rules of places.
func ruleSetOperations() []*Operation {
	return []*Operation{chooseRuleSet(), addRuleSet(), copyRuleSet(), ruleSetDistance()}
}

// ruleSet reads a rule set that a venue can name: the show's own or a published
// one.
func ruleSet[A any](label string, at func(*A) *timeline.ID) Argument {
	f := id("id", "the rule set, by name or id", at)
	return Argument{Field: f, Word: "ID", Label: label, Need: "no rule set is chosen",
		read: func(p *timeline.Plan, text string) (field.Value, error) {
			set, err := rule.FindRuleSet(p.Show, text)
			if err != nil {
				return field.Value{}, err
			}
			return field.Value{Text: string(set.ID)}, nil
		},
		offer: func(s *timeline.Show) []Offer { return offerRuleSets(rule.RuleSets(s)) }}
}

func offerRuleSets(list []*timeline.RuleSet) []Offer {
	var offers []Offer
	for _, set := range list {
		offers = append(offers, Offer{string(set.ID), set.Name})
	}
	return offers
}

// ruleSetNamed names a rule set in quotes, as other records are named.
func ruleSetNamed(s *timeline.Show, id timeline.ID) string {
	set, err := rule.FindRuleSet(s, string(id))
	if err != nil {
		return string(id)
	}
	return strconv.Quote(set.Name)
}

// Chosen are the arguments of an operation on one rule set.
type Chosen struct{ ID timeline.ID }

// noRuleSet is written where none is to apply.
const noRuleSet = "none"

func chooseRuleSet() *Operation {
	type A = Chosen
	set := ruleSet("Rule set", func(a *A) *timeline.ID { return &a.ID })
	read, offer := set.read, set.offer
	set.read = func(p *timeline.Plan, text string) (field.Value, error) {
		if text == noRuleSet {
			return field.Value{}, nil
		}
		return read(p, text)
	}
	set.offer = func(s *timeline.Show) []Offer { return append([]Offer{{noRuleSet, noRuleSet}}, offer(s)...) }
	return does(Operation{Verb: "ruleset", On: "venue", Name: "choose", Menu: "Rule set…", Title: "Rule set", Button: "Choose",
		Tip:  "lets a rule set apply at the venue shown, or none, and says first what that comes to",
		Help: "lets it apply at --venue; choose none takes it away",
		Args: []Argument{set}},
		func(at At, a *A) (timeline.Edit, error) { return rule.ChooseRuleSet(at.On.ID, string(a.ID)), nil },
		func(s *timeline.Show, a *A) string {
			if a.ID == "" {
				return "no rule set applies"
			}
			return "rule set " + ruleSetNamed(s, a.ID) + " applies"
		})
}

// recordField makes an argument of a field of the record that the arguments are.
// What does not fit is told as by the record.
func recordField(kind, name, help, label string) Argument {
	f := *timeline.KindOf(kind).Field(name)
	f.Help = help
	return Argument{Field: f, Label: label, read: func(_ *timeline.Plan, text string) (field.Value, error) {
		v := field.Value{Text: text}
		err := f.Set(timeline.KindOf(kind).New(""), v)
		var bad *timeline.ValueError
		if errors.As(err, &bad) {
			bad.Kind = kind
		}
		return v, err
	}}
}

func addRuleSet() *Operation {
	type A = timeline.RuleSet
	of := func(name, help, label string) Argument { return recordField("ruleset", name, help, label) }
	return does(Operation{Verb: "ruleset", Name: "add", Menu: "New rule set…", Title: "Rule set of the show's own", Button: "Add",
		Tip:  "writes down the rules of a place that are not published with the program",
		Help: "one of the show's own: --place --edition --date --read --superseded-by --source --mark --wind, --id",
		Args: []Argument{
			{Field: field.Text("name", "what it is called", func(r *A) *string { return &r.Name }), Word: "NAME", Label: "Name"},
			{Field: id("id", "its id (default: from its name)", func(r *A) *timeline.ID { return &r.ID }), Label: "Id", Hint: "from its name"},
			of("place", "where it applies", "Place"),
			of("edition", "which edition", "Edition"),
			of("date", "of the edition", "Date"),
			of("read", "the day on which it was read", "Read on"),
			of("superseded-by", "the edition that took its place", "Superseded by"),
			of("mark", "how well its numbers are known: S, M, C, J, D, measured, label, invented", "Known by"),
			of("source", "where the numbers come from", "Source"),
			of("wind", "m/s above which nothing may be fired", "Wind"),
		}},
		func(at At, r *A) (timeline.Edit, error) {
			set := *r
			if set.ID == "" {
				if set.ID = timeline.ID(timeline.SlugOf(set.Name)); set.ID == "" || at.Show.RuleSet(set.ID) != nil {
					set.ID = at.NewID("ruleset", "")
				}
			}
			return rule.AddRuleSet(set), nil
		},
		func(_ *timeline.Show, r *A) string {
			return "add rule set " + strconv.Quote(cmp.Or(r.Name, string(r.ID)))
		})
}

func copyRuleSet() *Operation {
	type A = Chosen
	set := ruleSet("Rule set", func(a *A) *timeline.ID { return &a.ID })
	return does(Operation{Verb: "ruleset", Name: "copy", Menu: "Copy rule set…", Title: "Copy a rule set into the show", Button: "Copy",
		Tip:  "copies a published rule set into the show, to be changed there",
		Help: "a published one into the show, to be changed there",
		Args: []Argument{set}},
		func(at At, a *A) (timeline.Edit, error) {
			set, err := rule.FindRuleSet(at.Show, string(a.ID))
			if err != nil {
				return nil, err
			}
			return rule.AddRuleSet(*set), nil
		},
		func(s *timeline.Show, a *A) string { return "copy rule set " + ruleSetNamed(s, a.ID) })
}

// RuleSetDistance is a distance that a rule set asks for.
type RuleSetDistance struct {
	ID timeline.ID
	timeline.Distance
}

func ruleSetDistance() *Operation {
	type A = RuleSetDistance
	at := func(a *A) *timeline.Distance { return &a.Distance }
	args := append([]Argument{ruleSet("Rule set", func(a *A) *timeline.ID { return &a.ID })}, distanceArgs(at)...)
	return does(Operation{Verb: "ruleset", Name: "distance", Menu: "Rule set's distance…", Title: "Distance a rule set asks for", Button: "Enter",
		Tip:  "enters a distance into a rule set of the show's own",
		Help: "a distance into one of\nthe show's own, --clause; 2x is two fallout radii",
		Args: append(args, clause("clause", "where it is written", func(a *A) *string { return &a.Clause }))},
		func(_ At, a *A) (timeline.Edit, error) {
			if err := asksNothing(&a.Distance); err != nil {
				return nil, err
			}
			return rule.AskInRuleSet(a.ID, a.Distance), nil
		},
		func(s *timeline.Show, a *A) string {
			return s.DistanceAsked(a.Distance) + ", in rule set " + ruleSetNamed(s, a.ID)
		})
}
