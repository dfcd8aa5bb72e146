package rule

import (
	"emberbeat/timeline"
	joined "emberbeat/timeline/merge"
)

var _ = enter(Rule{
	Name:    "undecided",
	Summary: "two people's edits were joined, and what both did in two ways is not decided yet",
	Reason: "The show holds one of the two until somebody chooses. All that is planned, checked and printed until then follows what is held, and not what the other wrote. " +
		"A conflict of which the table cannot be read is named as well.",
	Scope:    WholeSet,
	Severity: Error,
	set:      checkUndecided,
})

func checkUndecided(r *setRun) {
	list, err := joined.Open(r.plan.Show)
	t := r.settings.at(nil, nil, nil)
	help := "choose on the page Conflicts, or with emberbeat merge SHOW --resolve"
	for i := range list {
		c := &list[i]
		f := Finding{Ref: r.holder(c.Ref), Text: "not decided after a merge: " + c.Said(), Help: help}
		f.Values = []Value{word("ours", c.Says[joined.Ours]), word("theirs", c.Says[joined.Theirs])}
		r.add(t, -1, "", f)
	}
	if err != nil {
		r.add(t, -1, "", Finding{Ref: timeline.Ref{Kind: "show", ID: r.plan.Show.Head.ID}, Text: "not decided after a merge, and not to be read: " + err.Error(), Help: help})
	}
}

// holder gives the record that a conflict is about, or the show where that is not
// there.
func (r *setRun) holder(ref timeline.Ref) timeline.Ref {
	if k := timeline.KindOf(ref.Kind); k != nil && k.Find(r.plan.Show, ref.Song, ref.ID) != nil {
		return ref
	}
	return timeline.Ref{Kind: "show", ID: r.plan.Show.Head.ID}
}
