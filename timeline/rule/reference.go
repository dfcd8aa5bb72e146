package rule

import (
	"fmt"
	"strings"

	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:     "lost-reference",
	Summary:  "a record of stock, rig, sets, venues or nights names another that is gone",
	Reason:   "A show with lost references still opens, so that nothing is lost; but what they meant is not planned. Cues have a rule of their own, lost-cue.",
	Scope:    WholeSet,
	Severity: Error,
	rig: func(r *rigRun) {
		eachLost(r.plan.Show, func(p timeline.Part) bool { return p == timeline.StockPart || p == timeline.RigPart }, func(f Finding) {
			r.add(r.tune(nil, nil), "", f)
		})
	},
	set: func(r *setRun) {
		eachLost(r.plan.Show, func(p timeline.Part) bool {
			return p != timeline.StockPart && p != timeline.RigPart && p != timeline.SongPart
		}, func(f Finding) {
			r.add(r.settings.at(nil, nil, nil), -1, "", f)
		})
	},
})

// eachLost goes through the table of fields for the kinds that are stored in
// some parts of the show, and gives a finding for each lost reference.
func eachLost(s *timeline.Show, in func(timeline.Part) bool, report func(Finding)) {
	for _, k := range timeline.Kinds() {
		if !in(k.Part) {
			continue
		}
		for i := range k.Fields {
			if f := &k.Fields[i]; len(f.Ref) > 0 {
				for _, rec := range k.List(s, "") {
					lostReferences(s, k, f, rec, report)
				}
			}
		}
	}
}

func lostReferences(s *timeline.Show, k *timeline.Kind, field *timeline.Field, rec timeline.Record, report func(Finding)) {
	value := field.Get(rec)
	items := value.Items
	if field.Type != timeline.ListField && value.Text != "" {
		items = []string{value.Text}
	}
	for _, item := range items {
		id, _, _ := strings.Cut(item, " ")
		if exists(s, field.Ref, timeline.ID(id)) {
			continue
		}
		f := Finding{Ref: rigRef(k.Name, rec.RecordID())}
		f.Text = fmt.Sprintf("%s: %s names %s, and there is no such %s", s.NamedRef(f.Ref), field.Name, id, strings.Join(field.Ref, " or "))
		f.Values = []Value{word("field", field.Name), word("missing", id)}
		f.Help = "name one that exists, or bring it back"
		report(f)
	}
}

func exists(s *timeline.Show, kinds []string, id timeline.ID) bool {
	for _, name := range kinds {
		if timeline.KindOf(name).Find(s, "", id) != nil {
			return true
		}
	}
	return false
}
