package timeline

import "emberbeat/timeline/field"

// RuleSet is what the rules of a place ask for, as far as numbers go. A venue
// names the one that applies by its id; none applies by itself.
type RuleSet struct {
	Base
	Name      string
	Place     string
	Edition   string
	Date      string // of the edition, as far as known
	Read      string // the day on which it was read, as far as known
	Newer     string // the edition that took its place; "" = none that is known
	Distances []Distance
	Wind      float64  // m/s above which nothing may be fired; 0 = none given
	Notice    Notice   // how long before a night the authority must be told
	FireWatch float64  // minutes after the last effect; 0 = none given
	Pyro      []Family // that it counts as pyrotechnic, whatever an article says of itself
	Mark      Mark
	Source    string
	Note      string   // what it asks for beyond these numbers
	LeftOut   []string // what it says and the numbers here do not
}

func init() {
	register("ruleset", "rulesets", "the rules of a place: distances and wind", rulePart,
		func(s *Show, _ ID) []*RuleSet { return s.RuleSets },
		func(d *Draft, _ ID) *[]*RuleSet { return &d.show.RuleSets },
		field.Text("name", "what it is called", func(r *RuleSet) *string { return &r.Name }),
		field.Text("place", "where it applies", func(r *RuleSet) *string { return &r.Place }),
		field.Text("edition", "which edition", func(r *RuleSet) *string { return &r.Edition }),
		field.Text("date", "of the edition", func(r *RuleSet) *string { return &r.Date }),
		field.Text("read", "the day on which it was read", func(r *RuleSet) *string { return &r.Read }),
		field.Text("superseded-by", "the edition that took its place; empty = none that is known", func(r *RuleSet) *string { return &r.Newer }),
		field.List("distances", "distances to people: "+distanceWords, func(r *RuleSet) *[]Distance { return &r.Distances }, Distance.String, ParseDistance),
		field.Number("wind", "m/s", "nothing may be fired above it; 0 = none given", 0, 100, func(r *RuleSet) *float64 { return &r.Wind }),
		field.Whole("notice", "days before a night by which the authority must be told; 0 = none given", 0, 1000, func(r *RuleSet) *int { return &r.Notice.Days }),
		field.Choice("notice-kind", "how they are counted; business = clear business days", func(r *RuleSet) *NoticeKind { return &r.Notice.Kind }, noticeKinds),
		field.Number("fire-watch", "min", "kept after the last effect; 0 = none given", 0, 1440, func(r *RuleSet) *float64 { return &r.FireWatch }),
		field.List("pyrotechnic", "families that it counts as pyrotechnic, whatever an article says of itself", func(r *RuleSet) *[]Family { return &r.Pyro },
			func(f Family) string { return string(f) }, parseFamily),
		field.Choice("mark", "how well its numbers are known", func(r *RuleSet) *Mark { return &r.Mark },
			[]Mark{"", Published, FromMemory, CommonPractice, Judgement, Derived, Measured, Label, Invented}),
		field.Text("source", "where the numbers come from", func(r *RuleSet) *string { return &r.Source }),
		field.Text("note", "what it asks for beyond these numbers", func(r *RuleSet) *string { return &r.Note }),
		field.TextList("left-out", "what it says and the numbers here do not", func(r *RuleSet) *[]string { return &r.LeftOut }),
	)
}

// RuleSet finds a rule set of the show by id, or nil.
func (s *Show) RuleSet(id ID) *RuleSet { return findRecord(s.RuleSets, id) }
