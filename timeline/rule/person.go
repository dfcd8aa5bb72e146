package rule

import (
	"fmt"
	"slices"
	"strings"

	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:    "licence-expiry",
	Summary: "a licence of somebody who works the night ends before it",
	Reason: "The date of the night is compared with the last day of the licence of everybody the night names. Where the night has no date, or a licence no last day, nothing is compared: " +
		"see not-checked.",
	Scope:    WholeSet,
	Severity: Error,
	Settings: []Setting{
		{Name: "expires", Field: "person expires", Mark: timeline.Label, Source: "the licence", Help: "its last day; empty = not given"},
	},
	set: checkLicences,
})

var _ = enter(Rule{
	Name:    "age",
	Summary: "somebody who works the night with effects is younger than the category of an article asks",
	Reason: "Operators and assistants handle what is on site, spares included. Categories F4, T2 and P2 ask for special knowledge besides: see specialist. " +
		"Where no age is given, nothing is compared: see not-checked.",
	Scope:    WholeSet,
	Severity: Error,
	Settings: []Setting{
		{Name: "f1", Default: "12", Unit: "years", Mark: timeline.Published, Source: "Directive 2013/29/EU, article 7", Help: "least age for category F1"},
		{Name: "f2", Default: "16", Unit: "years", Mark: timeline.Published, Source: "Directive 2013/29/EU, article 7", Help: "for F2"},
		{Name: "f3", Default: "18", Unit: "years", Mark: timeline.Published, Source: "Directive 2013/29/EU, article 7", Help: "for F3"},
		{Name: "t1", Default: "18", Unit: "years", Mark: timeline.Published, Source: "Directive 2013/29/EU, article 7", Help: "for T1"},
		{Name: "p1", Default: "18", Unit: "years", Mark: timeline.Published, Source: "Directive 2013/29/EU, article 7", Help: "for P1"},
		{Name: "specialist", Default: "18", Unit: "years", Mark: timeline.CommonPractice, Source: "common practice, no source", Help: "for F4, T2 and P2"},
		{Name: "age", Field: "person age", Mark: timeline.Measured, Source: "the person", Help: "years; 0 = not given"},
	},
	set: checkAges,
})

var _ = enter(Rule{
	Name:    "specialist",
	Summary: "articles for persons with special knowledge are on site, and no operator of the night has a licence",
	Reason: "In the European Union categories F4, T2 and P2 are for persons with special knowledge alone. Whether a licence covers the article is not known: look at its kind. " +
		"Compared where a night names who works it.",
	Scope:    WholeSet,
	Severity: Error,
	Settings: []Setting{
		{Name: "category", Field: "article category", Mark: timeline.Label, Source: "the label", Help: "F4, T2 and P2 are for specialists"},
		{Name: "licence", Field: "person licence", Mark: timeline.Label, Source: "the licence", Help: "its number; empty = none given"},
	},
	set: checkSpecialists,
})

func checkLicences(r *setRun) {
	n := r.plan.Night
	if n == nil || n.Date == "" {
		return
	}
	for _, p := range r.plan.Crew() {
		if p.Expires == "" || p.Expires >= n.Date { // dates are written year first
			continue
		}
		f := Finding{Ref: rigRef("person", p.ID), Others: []timeline.Ref{rigRef("night", n.ID)}}
		f.Text = fmt.Sprintf("the licence of %s (%s) ended on %s, and the night is on %s", r.name(p), p.Role, p.Expires, n.Date)
		f.Values = []Value{word("expires", p.Expires), word("night", n.Date)}
		f.Grounds = []Ground{ofRecord(f.Ref, "expires", p.Expires, timeline.Label), ofRecord(rigRef("night", n.ID), "date", n.Date, "")}
		f.Help = "have it renewed, or let somebody else work the night"
		r.add(r.settings.at(nil, nil, nil), -1, "", f)
	}
}

// handles reports whether a person handles effects on a night.
func handles(p *timeline.Person) bool {
	return p.Role == timeline.Operator || p.Role == timeline.Assistant
}

// specialists is the setting of rule age for the categories of specialists.
var specialists = setting("specialist", "age")

// ageSettings gives the setting of rule age for each category.
var ageSettings = map[string]Named{"F1": setting("f1", "age"), "F2": setting("f2", "age"), "F3": setting("f3", "age"), "T1": setting("t1", "age"),
	"P1": setting("p1", "age"), "F4": specialists, "T2": specialists, "P2": specialists}

// categorySetting gives the setting of rule age for a category; false where it
// asks for no age.
func categorySetting(category string) (Named, bool) {
	k, ok := ageSettings[strings.ToUpper(strings.TrimSpace(category))]
	return k, ok
}

func checkAges(r *setRun) {
	for _, p := range r.plan.Crew() {
		if p.Age == 0 || !handles(p) {
			continue
		}
		for i := range r.onSite().Articles {
			a := r.onSite().Articles[i].Article
			t := r.settings.at(nil, nil, a)
			k, asks := categorySetting(a.Category)
			if !asks || float64(p.Age) >= t.of(k).plain {
				continue
			}
			f := Finding{Ref: rigRef("person", p.ID), Others: []timeline.Ref{rigRef("article", a.ID)}}
			f.Text = fmt.Sprintf("%s (%s) is %d, and category %s asks for %s years", r.name(p), p.Role, p.Age, a.Category, t.of(k).text)
			f.Values = []Value{count("age", p.Age), {Name: "least", Text: t.of(k).text, Unit: "years", Number: true}}
			f.Grounds = []Ground{ofArticle(a, "category", a.Category), r.rule.fromSetting(k, t)}
			f.Help = "let somebody older work the night, or give the person a role that handles no effects"
			r.add(t, -1, r.name(a), f)
		}
	}
}

func checkSpecialists(r *setRun) {
	crew := r.plan.Crew()
	if len(crew) == 0 || slices.ContainsFunc(crew, func(p *timeline.Person) bool { return p.Role == timeline.Operator && p.Licence != "" }) {
		return
	}
	for i := range r.onSite().Articles {
		a := r.onSite().Articles[i].Article
		if k, ok := categorySetting(a.Category); !ok || k != specialists {
			continue
		}
		f := Finding{Ref: rigRef("night", r.plan.Night.ID), Others: []timeline.Ref{rigRef("article", a.ID)}}
		f.Text = "for persons with special knowledge alone, and no operator of the night has a licence"
		f.Values = []Value{word("category", a.Category)}
		f.Grounds = []Ground{ofArticle(a, "category", a.Category)}
		f.Help = "name an operator with the licence, or write down its number"
		r.add(r.settings.at(nil, nil, a), -1, r.name(a)+" ("+a.Category+")", f)
	}
}
