package rule

import (
	"fmt"

	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:    "notice-missed",
	Summary: "the authority was told later than it must be, or can no longer be told in time",
	Reason: "The venue, or its rule set, says how long before a night the authority must be told; the one that asks earlier governs. It is compared with the day on which the night says it was told, " +
		"and where it says none, with today, if today is given. Clear business days are Mondays to Fridays between the notice and the night; public holidays are not known, so give notice earlier around them.",
	Scope:    WholeSet,
	Severity: Error,
	Settings: []Setting{
		{Name: "venue notice", Field: "venue notice", Mark: timeline.Typed, Source: "the venue's own, as somebody typed it", Help: "days; with notice-kind"},
		{Name: "rule set notice", Field: "ruleset notice", Mark: timeline.Typed, Source: "the rule set's own mark and source", Help: "days; with notice-kind"},
	},
	set: func(r *setRun) { r.checkNotice(true) },
})

var _ = enter(Rule{
	Name:     "notice-due",
	Summary:  "the authority must be told soon, and the night does not say that it was",
	Reason:   "Computed as for notice-missed; found from so many days before the last day of notice. Without a day given as today nothing is compared.",
	Scope:    WholeSet,
	Severity: Warning,
	Settings: []Setting{
		{Name: "days", Default: "14", Unit: "days", Mark: timeline.Judgement, Source: "our judgement", Help: "before the last day of notice"},
		inRecord("venue notice, or ruleset notice", "", "days; with notice-kind"),
	},
	set: func(r *setRun) { r.checkNotice(false) },
})

var noticeDays = setting("days", "notice-due")

// deadline is the last day on which an authority can be told of a night in
// time, and what asks for it.
type deadline struct {
	last   timeline.Day
	notice timeline.Notice
	ground Ground
}

// NoticeDeadline gives the last day on which notice of the plan's night can be
// given in time, and the notice that governs; false where no date or no notice
// is given.
func NoticeDeadline(p *timeline.Plan) (last timeline.Day, notice timeline.Notice, ok bool) {
	d, ok := deadlineOf(p)
	return d.last, d.notice, ok
}

func deadlineOf(p *timeline.Plan) (d deadline, ok bool) {
	if p.Night == nil || p.Venue == nil {
		return d, false
	}
	night, dated := timeline.ParseDay(p.Night.Date)
	if !dated {
		return d, false
	}
	take := func(n timeline.Notice, g Ground) {
		if n.Days > 0 && (!ok || n.LastDay(night) < d.last) {
			d, ok = deadline{n.LastDay(night), n, g}, true
		}
	}
	v := p.Venue
	take(v.Notice, ofRecord(rigRef("venue", v.ID), "notice", v.Notice.String(), ""))
	if set := RuleSetOf(p.Show, v); set != nil {
		g := ofRecord(rigRef("ruleset", set.ID), "notice", set.Notice.String(), set.Mark)
		g.Source = set.Source
		take(set.Notice, g)
	}
	return d, ok
}

func (r *setRun) checkNotice(missed bool) {
	d, ok := deadlineOf(r.plan)
	if !ok {
		return
	}
	n := r.plan.Night
	t := r.settings.at(nil, nil, nil)
	f := Finding{Ref: rigRef("night", n.ID), Others: []timeline.Ref{rigRef("venue", r.plan.Venue.ID)}}
	f.Values = []Value{word("last day", d.last.String()), word("night", n.Date), word("told", n.Notified)}
	f.Grounds = []Ground{d.ground, ofRecord(f.Ref, "date", n.Date, "")}
	told, wasTold := timeline.ParseDay(n.Notified)
	today, isToday := timeline.ParseDay(r.facts.Today)
	want := fmt.Sprintf("%s of notice must be given by %s", d.notice, d.last)
	switch {
	case wasTold && missed && told > d.last:
		f.Text = fmt.Sprintf("%s, and it was given on %s", want, n.Notified)
		f.Help = "ask the authority whether it agrees, and write that down as a condition" + deferral
	case !wasTold && isToday && missed && today > d.last:
		f.Text = fmt.Sprintf("%s, and on %s it is not", want, r.facts.Today)
		f.Help = "tell the authority at once and ask whether it agrees" + deferral
	case !wasTold && isToday && !missed && today <= d.last && float64(d.last-today) <= t.of(noticeDays).plain:
		f.Text = fmt.Sprintf("%s: %s left", want, timeline.Counted(int(d.last-today), "day"))
		f.Grounds = append(f.Grounds, r.rule.fromSetting(noticeDays, t))
		f.Help = "tell the authority, and write down the day in the night's notified"
	default:
		return
	}
	r.add(t, -1, "", f)
}
