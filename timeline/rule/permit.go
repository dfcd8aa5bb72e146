package rule

import (
	"fmt"

	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:     "permit-expiry",
	Summary:  "a permit or an insurance ends before the night",
	Reason:   "The date of the night is compared with the last day of every permit of the night and its venue, and of the company's insurance. Without a date nothing is compared.",
	Scope:    WholeSet,
	Severity: Error,
	Settings: []Setting{
		{Name: "until", Field: "night permits", Mark: timeline.Label, Source: "the permit", Help: "until= of each; also of the venue's permits and the show's insurance"},
	},
	set: checkPermits,
})

var _ = enter(Rule{
	Name:    "ends-soon",
	Summary: "a licence, permit, insurance or approval ends on the night or soon after",
	Reason: "A night that is put off, or the next one of the tour, needs what still holds then. One note for each that ends within so many days of the night; what ended before it is found by " +
		"licence-expiry, permit-expiry and expiry.",
	Scope:    WholeSet,
	Severity: Note,
	Settings: []Setting{
		{Name: "days", Default: "30", Unit: "days", Mark: timeline.Judgement, Source: "our judgement", Help: "from the night on; 0 = only what ends on the night itself"},
	},
	set: checkEndsSoon,
})

var soonDays = setting("days", "ends-soon")

// paper is something that holds until a day.
type paper struct {
	ref   timeline.Ref
	field string
	name  string // what it is, as it stands in a sentence
	until string
}

// permits lists the permits of the night and its venue, and the insurance.
func (r *setRun) permits() []paper {
	var list []paper
	add := func(ref timeline.Ref, field, what string, all []timeline.Permit) {
		for _, p := range all {
			list = append(list, paper{ref, field, what + " " + p.Name, p.Until})
		}
	}
	head := r.plan.Show.Head
	add(timeline.Ref{Kind: "show", ID: head.ID}, "insurance", "the insurance", head.Insurance)
	if v := r.plan.Venue; v != nil {
		add(rigRef("venue", v.ID), "permits", "the venue's permit", v.Permits)
	}
	if n := r.plan.Night; n != nil {
		add(rigRef("night", n.ID), "permits", "the night's permit", n.Permits)
	}
	return list
}

func checkPermits(r *setRun) {
	n := r.plan.Night
	if n == nil || n.Date == "" {
		return
	}
	for _, p := range r.permits() {
		if p.until == "" || p.until >= n.Date {
			continue
		}
		f := Finding{Ref: p.ref, Text: fmt.Sprintf("%s ended on %s, and the night is on %s", p.name, p.until, n.Date)}
		f.Values = []Value{word("until", p.until), word("night", n.Date)}
		f.Grounds = []Ground{ofRecord(p.ref, p.field, p.until, timeline.Label), ofRecord(rigRef("night", n.ID), "date", n.Date, "")}
		f.Help = "have it renewed and write down its new last day"
		r.add(r.settings.at(nil, nil, nil), -1, "", f)
	}
}

func checkEndsSoon(r *setRun) {
	n := r.plan.Night
	if n == nil {
		return
	}
	night, ok := timeline.ParseDay(n.Date)
	if !ok {
		return
	}
	all := r.permits()
	for _, p := range r.plan.Crew() {
		all = append(all, paper{rigRef("person", p.ID), "expires", fmt.Sprintf("the licence of %s (%s)", r.name(p), p.Role), p.Expires})
	}
	for i := range r.onSite().Articles {
		a := r.onSite().Articles[i].Article
		all = append(all, paper{rigRef("article", a.ID), "expires", "the approval or shelf life of " + a.Name, a.Expires})
	}
	t := r.settings.at(nil, nil, nil)
	for _, p := range all {
		day, ok := timeline.ParseDay(p.until)
		if left := float64(day - night); !ok || left < 0 || left > t.of(soonDays).plain {
			continue
		}
		f := Finding{Ref: p.ref, Text: fmt.Sprintf("%s ends on %s, %s", p.name, p.until, after(int(day-night)))}
		f.Values = []Value{word("until", p.until), word("night", n.Date)}
		f.Grounds = []Ground{ofRecord(p.ref, p.field, p.until, timeline.Label), r.rule.fromSetting(soonDays, t)}
		f.Help = "have it renewed in time"
		r.add(t, -1, "", f)
	}
}

// after says how long after the night a day is.
func after(days int) string {
	if days == 0 {
		return "the day of the night"
	}
	return timeline.Counted(days, "day") + " after the night"
}
