package rule

import (
	"fmt"

	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:    "loaded-unused",
	Summary: "a single-use effect stands there, is wired, and no cue of the set commands it",
	Reason: "What is loaded and never fired is live when the crew comes back to take it down. A spare is declared as one and not counted; what is out of the night's rig neither. " +
		"One note for each article.",
	Scope:    WholeSet,
	Severity: Note,
	Settings: []Setting{
		{Name: "single-use", Field: "article single-use", Mark: timeline.CommonPractice, Source: "the article's own mark and source", Help: "the article can be commanded once per show"},
	},
	set: checkLoadedUnused,
})

var _ = enter(Rule{
	Name:    "over-stock",
	Summary: "more of an article stand in the rig than there are in stock",
	Reason: "Every placed effect needs an article of its own, spares as well; what is out of the night's rig is not counted, and a night's swaps are. What is used up and asked " +
		"for where something else stands is needed as well. Where an article gives no stock count, nothing is compared.",
	Scope:    WholeSet,
	Severity: Error,
	Settings: []Setting{
		{Name: "stock", Field: "article stock", Mark: timeline.Measured, Source: "counted by the crew", Help: "how many there are; 0 = not given"},
	},
	set: checkOverStock,
})

var _ = enter(Rule{
	Name:    "expiry",
	Summary: "an article's approval or shelf life ends before the night",
	Reason: "The date of the night is compared with the last day on which the article may be used. Without a date of the night, or of the article, nothing is compared. " +
		"Licences of persons are compared by licence-expiry.",
	Scope:    WholeSet,
	Severity: Error,
	Settings: []Setting{
		{Name: "expires", Field: "article expires", Mark: timeline.Label, Source: "the label or the approval", Help: "last day of use; empty = not given"},
	},
	rig: checkExpiry,
})

func checkLoadedUnused(r *setRun) {
	for i, uses := range r.merged {
		u := r.plan.Units.All[i]
		if len(uses) > 0 || u.Out || u.Placed.Spare || u.Article == nil || !u.Article.SingleUse || !r.units[i].live {
			continue
		}
		f := Finding{Ref: rigRef("article", u.Article.ID), Others: []timeline.Ref{rigRef("placed", u.Placed.ID)}}
		f.Text = r.name(u.Article) + " is wired, and nothing in the set commands it"
		f.Values = []Value{word("article", string(u.Article.ID))}
		f.Grounds = []Ground{ofArticle(u.Article, "single-use", "true")}
		f.Help = "do not load it, or mark it as a spare"
		r.add(r.settings.at(nil, u, u.Article), -1, u.Name, f)
	}
}

// standing lists the units of each article that stand in tonight's rig, in the
// order of units.
func (r *rigRun) standing(do func(a *timeline.Article, units []*timeline.Unit)) {
	units := map[*timeline.Article][]*timeline.Unit{}
	var order []*timeline.Article
	for _, u := range r.plan.Units.All {
		if u.Article == nil || u.Out {
			continue
		}
		if units[u.Article] == nil {
			order = append(order, u.Article)
		}
		units[u.Article] = append(units[u.Article], u)
	}
	for _, a := range order {
		do(a, units[a])
	}
}

func checkOverStock(r *setRun) {
	for i := range r.onSite().Articles {
		on := &r.onSite().Articles[i]
		a, need := on.Article, on.Needed()
		left, given := r.plan.Show.OnHand(a, r.plan.Night)
		if !given || need <= left {
			continue
		}
		f := Finding{Ref: rigRef("article", a.ID)}
		f.Text = fmt.Sprintf("%s: %d stand in the rig, and %d are in stock", r.name(a), on.Standing, left)
		if left != a.Stock {
			f.Text += fmt.Sprintf(" after what earlier nights used of %d", a.Stock)
		}
		if on.Spares > 0 {
			f.Text += "; " + timeline.Counted(on.Spares, "spare") + " among them"
		}
		if more := need - on.Standing; more > 0 {
			f.Text += fmt.Sprintf("; %d more asked for elsewhere", more)
		}
		f.Values = []Value{count("placed", need), count("spares", on.Spares), count("stock", left)}
		f.Grounds = []Ground{ofArticle(a, "stock", fmt.Sprint(a.Stock))}
		f.Help = fmt.Sprintf("get %d more, or place no more than %d", need-left, max(0, left))
		r.add(r.settings.at(nil, nil, a), -1, "", f)
	}
}

func checkExpiry(r *rigRun) {
	n := r.plan.Night
	if n == nil || n.Date == "" {
		return
	}
	r.standing(func(a *timeline.Article, units []*timeline.Unit) {
		if a.Expires == "" || a.Expires >= n.Date { // dates are written year first
			return
		}
		f := Finding{Ref: rigRef("article", a.ID), Others: []timeline.Ref{rigRef("night", n.ID)}}
		f.Text = fmt.Sprintf("%s may be used until %s, and the night is on %s; %s in the rig", r.name(a), a.Expires, n.Date, timeline.Counted(len(units), "unit"))
		f.Values = []Value{word("expires", a.Expires), word("night", n.Date), count("units", len(units))}
		f.Grounds = []Ground{ofArticle(a, "expires", a.Expires), ofRecord(rigRef("night", n.ID), "date", n.Date, "")}
		f.Help = "use stock that is still in date, have the approval renewed, or swap the article for the night"
		r.add(r.tune(nil, a), "", f)
	})
}
