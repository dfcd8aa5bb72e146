package rule

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"

	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:    "open-misfire",
	Summary: "a misfire of an earlier night has not been cleared",
	Reason: "What was commanded and did not work as it should may still be live. It stays open until somebody has cleared it and has signed for that with a name. One finding for each, on " +
		"every later night, and on the tour.",
	Scope:    WholeSet,
	Severity: Error,
	set:      checkOpenMisfires,
})

var _ = enter(Rule{
	Name:    "still-loaded",
	Summary: "an earlier night left a load where tonight wants another, or none",
	Reason: "What was not fired stays on its output as the next night's load. Where the next night asks for another article there, or for none, it must be taken out and brought back to " +
		"stock: enter it as taken out. For nights alone.",
	Scope:    WholeSet,
	Severity: Warning,
	set:      checkStillLoaded,
})

func checkOpenMisfires(r *setRun) {
	_, misfires := r.plan.Show.LeftBefore(r.plan.Night)
	for _, m := range misfires {
		f := r.leftBy(m)
		f.Text = fmt.Sprintf("%s at %s misfired on %s, and nobody has cleared it", r.articleName(m.Article), r.where(m), dayOf(m.Night))
		f.Help = fmt.Sprintf("have it cleared, then enter who did: aftershow SHOW --night %s --cleared %s --by NAME", dayOf(m.Night), typed(r.where(m)))
		r.add(r.settings.at(nil, r.plan.Units.Of(m.Placed), r.plan.Show.Stock.Article(m.Article)), -1, "", f)
	}
}

func checkStillLoaded(r *setRun) {
	if r.plan.Night == nil {
		return
	}
	loaded, _ := r.plan.Show.LeftBefore(r.plan.Night)
	for _, l := range loaded {
		why := r.notWanted(l)
		if why == "" {
			continue
		}
		f := r.leftBy(l)
		f.Text = fmt.Sprintf("%s stands loaded at %s, not fired on %s, and %s", r.articleName(l.Article), r.where(l), dayOf(l.Night), why)
		f.Help = fmt.Sprintf("take it out, then enter it: aftershow SHOW --night %s --taken-out %s", dayOf(l.Night), typed(r.where(l)))
		r.add(r.settings.at(nil, r.plan.Units.Of(l.Placed), r.plan.Show.Stock.Article(l.Article)), -1, "", f)
	}
}

// notWanted says why tonight has no use for a load that is left, or "".
func (r *setRun) notWanted(l timeline.Left) string {
	u := r.plan.Units.Of(l.Placed)
	switch {
	case u == nil:
		return "the rig has no such place any more"
	case u.Out:
		return "the place is out of tonight's rig"
	}
	for _, load := range r.onSite().Loads {
		switch {
		case load.Unit != u || load.Article == nil || load.Article.ID != l.Article:
		case load.Unused():
			return "nothing is meant to fire it tonight"
		default:
			return ""
		}
	}
	return "tonight wants another article there"
}

// leftBy starts a finding about what a night has left.
func (r *setRun) leftBy(l timeline.Left) Finding {
	f := Finding{Ref: rigRef("night", l.Night.ID), Others: []timeline.Ref{rigRef("placed", l.Placed), rigRef("article", l.Article)}}
	f.Values = []Value{word("output", l.Where()), word("placed", string(l.Placed)), word("article", string(l.Article)), count("pieces", l.Pieces)}
	f.Grounds = []Ground{ofRecord(f.Ref, "outcomes", l.Outcome.String(), timeline.Measured)}
	return f
}

func (r *setRun) articleName(id timeline.ID) string {
	return r.plan.Show.CalledBy(id, "article")
}

// where names the output of what is left, as a user writes it.
func (r *setRun) where(l timeline.Left) string {
	return r.plan.Show.CalledOutput(timeline.OutputRef{Driver: l.Driver, Output: l.Output})
}

// typed writes a word as it is typed on a command line.
func typed(text string) string {
	if strings.ContainsAny(text, " \"'()&;") {
		return strconv.Quote(text)
	}
	return text
}

// dayOf names a night by its date, or by its file where it has none.
func dayOf(n *timeline.Night) string { return cmp.Or(n.Date, n.Slug) }
