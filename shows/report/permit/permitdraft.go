package permit

import (
	"cmp"
	"slices"
	"strings"

	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// Unverified is what one record says of distances, heights and fallouts without
// a label, a measurement or a source that was read behind it.
type Unverified struct {
	Record  string   `json:"record"` // kind:id
	Name    string   `json:"name"`
	Numbers []string `json:"numbers"` // "height 12 m"
	Mark    string   `json:"mark"`
	Source  string   `json:"source"`
}

// unverified lists such numbers of all that is on site, and of the rule set
// that applies. Each mark of an article has a line.
func unverified(p *timeline.Plan, site *timeline.OnSite) []Unverified {
	list := []Unverified{}
	for _, on := range site.Articles {
		a := on.Article
		at := map[timeline.Mark]int{}
		for _, f := range []struct {
			name, field string
			metres      float64
		}{{"height", "height", a.Height}, {"fallout", "fallout", a.Fallout}, {"label distance", "separation", a.Separation}, {"clear zone", "clear", a.Clear}} {
			mark := a.MarkOf(f.field)
			if f.metres == 0 || mark.Known() {
				continue
			}
			i, ok := at[mark]
			if !ok {
				i = len(list)
				at[mark], list = i, append(list, Unverified{Record: "article:" + string(a.ID), Name: p.Called(a), Mark: string(mark), Source: a.Source})
			}
			list[i].Numbers = append(list[i].Numbers, f.name+" "+wording.Length(p.Show.Told(), f.metres))
		}
	}
	slices.SortStableFunc(list, func(a, b Unverified) int {
		return cmp.Or(strings.Compare(a.Name, b.Name), strings.Compare(a.Record, b.Record))
	})
	if set := rule.RuleSetOf(p.Show, p.Venue); set != nil && len(set.Distances) > 0 && !cmp.Or(set.Mark, timeline.CommonPractice).Known() {
		list = append(list, Unverified{Record: "ruleset:" + string(set.ID), Name: p.Called(set), Numbers: []string{timeline.Counted(len(set.Distances), "distance")},
			Mark: string(cmp.Or(set.Mark, timeline.CommonPractice)), Source: set.Source})
	}
	return list
}

// Stamp is the bar of a draft; "" where nothing is left to verify.
func (k *Pack) Stamp() string {
	n := 0
	for _, u := range k.Draft {
		n += len(u.Numbers)
	}
	if n == 0 {
		return ""
	}
	verb := "are"
	if n == 1 {
		verb = "is"
	}
	return "DRAFT    " + timeline.Counted(n, "number") + " of distance, height or fallout " + verb + " not verified: see the list under “Not verified”"
}
