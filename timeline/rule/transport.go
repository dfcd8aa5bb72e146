package rule

import (
	"fmt"
	"slices"
	"strings"

	"emberbeat/timeline"
)

var transportRule = enter(Rule{
	Name:    "transport-points",
	Summary: "what is on site comes to more transport points than one vehicle may carry under the small-load limit, or cannot be counted",
	Reason: "ADR 1.1.3.6: net explosive mass and full cylinders in kg, times the factor of their transport category, added up as if all came in one vehicle. Spares and full cylinders that " +
		"wait count. Above the limit the full rules for dangerous goods apply; below it most of them do not. Category 0 is never freed, and what has no category cannot be counted: both are " +
		"named, and left out of the sum. Fluids and paper have no category unless the supply gives one. Nothing is said of air, sea or other countries' rules.",
	Scope:    WholeSet,
	Severity: Note,
	Settings: []Setting{
		{Name: "limit", Default: "1000", Mark: timeline.Published, Source: "ADR 1.1.3.6", Help: "points up to which a vehicle's load is freed from most of the rules"},
		{Name: "factor-1", Default: "50", Mark: timeline.Published, Source: "ADR 1.1.3.6", Help: "points of a kilogram in transport category 1"},
		{Name: "factor-2", Default: "3", Mark: timeline.Published, Source: "ADR 1.1.3.6", Help: "in category 2"},
		{Name: "factor-3", Default: "1", Mark: timeline.Published, Source: "ADR 1.1.3.6", Help: "in category 3"},
		{Name: "factor-4", Default: "0", Mark: timeline.Published, Source: "ADR 1.1.3.6", Help: "in category 4"},
		{Name: "article category", Field: "article transport", Mark: timeline.FromMemory, Source: "by the hazard division, from memory of ADR 1.1.3.6.3, where the article gives none", Help: "transport category"},
		{Name: "supply category", Field: "supply transport", Mark: timeline.FromMemory, Source: "by the medium, from memory of ADR 3.2, where the supply gives none", Help: "transport category"},
	},
	set: checkTransport,
})

var transportLimit = setting("limit", "transport-points")

// categoryFactors gives the setting for each transport category.
var categoryFactors = map[string]Named{"1": setting("factor-1", "transport-points"), "2": setting("factor-2", "transport-points"),
	"3": setting("factor-3", "transport-points"), "4": setting("factor-4", "transport-points")}

// factors reads the factors of the transport categories.
func (t *tuning) factors() timeline.TransportFactors {
	f := timeline.TransportFactors{}
	for category, n := range categoryFactors {
		f[category] = t.of(n).plain
	}
	return f
}

// TransportOf adds up the transport points of what is on site, with the
// factors of the show's settings, and gives the limit to compare them with.
func TransportOf(p *timeline.Plan) (sum timeline.Transport, limit float64) {
	k := settingsOf(&transportRule, p.Show.Setting(transportRule.Name), p.Show.Told())
	t := k.at(nil, nil, nil)
	return p.Transport(t.factors()), t.of(transportLimit).plain
}

func checkTransport(r *setRun) {
	t := r.settings.at(nil, nil, nil)
	sum := r.plan.TransportOf(r.onSite(), t.factors())
	var lines []string
	for _, l := range sum.Lines {
		lines = append(lines, fmt.Sprintf("%s %s", points(l.Kg)+" kg", l.What))
	}
	if limit := t.of(transportLimit).plain; sum.Points > limit {
		f := Finding{Ref: timeline.Ref{Kind: "show", ID: r.plan.Show.Head.ID}}
		f.Text = fmt.Sprintf("%s come to %s transport points, more than %s", strings.Join(lines, ", "), points(sum.Points), points(limit))
		f.Values = []Value{measure("points", sum.Points, ""), measure("limit", limit, "")}
		f.Grounds = []Ground{r.rule.fromSetting(transportLimit, t)}
		f.Help = "share it out over vehicles or days, or carry it under the full rules; the label and the carrier's adviser come first"
		r.add(t, -1, "", f)
	}
	r.openTransport(t, sum.Open)
}

// openTransport names what has no category, or one that is never freed.
func (r *setRun) openTransport(t *tuning, open []timeline.TransportLine) {
	for i := range r.onSite().Articles {
		a := r.onSite().Articles[i].Article
		c := a.TransportCategory()
		if a.NEC == 0 || r.onSite().Articles[i].Pieces == 0 || !slices.ContainsFunc(open, func(l timeline.TransportLine) bool { return l.Category == c }) {
			continue
		}
		f := Finding{Ref: rigRef("article", a.ID), Values: []Value{word("category", c), word("division", a.Division)}}
		if c == "0" {
			f.Text = r.name(a) + " is in transport category 0, which no small-load limit frees"
			f.Help = "carry it under the full rules"
		} else {
			f.Text = fmt.Sprintf("%s holds explosive, and its hazard division %q has no transport category: the points leave it out", r.name(a), a.Division)
			f.Help = "give its hazard division with its letter, such as 1.4G, or its transport category"
		}
		f.Grounds = []Ground{ofArticle(a, "division", a.Division)}
		r.add(t, -1, "", f)
	}
	for _, s := range r.plan.Show.Rig.Supplies {
		if s.TransportCategory() == "0" && r.plan.SupplyOnSite(s) > 0 {
			f := Finding{Ref: rigRef("supply", s.ID), Values: []Value{word("category", "0")}, Text: r.name(s) + " is in transport category 0, which no small-load limit frees"}
			f.Help = "carry it under the full rules"
			f.Grounds = []Ground{ofRecord(f.Ref, "transport", "0", "")}
			r.add(t, -1, "", f)
		}
	}
}

func points(x float64) string { return trimZeros(fmt.Sprintf("%.3f", x)) }
