package report

import (
	"bufio"
	"fmt"
	"io"
	"strconv"
	"strings"

	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
	"emberbeat/timeline/units"
)

// RuleSetList is the rule sets that a venue of a show can name. Its JSON keys
// are relied on: they only grow.
type RuleSetList struct {
	RuleSets []RuleSetLine `json:"rulesets"`
	Caution  string        `json:"caution"`

	told units.System
}

// RuleSetLine is one rule set with where it comes from.
type RuleSetLine struct {
	ID        string   `json:"id"`
	Name      string   `json:"name"`
	Place     string   `json:"place"`
	Edition   string   `json:"edition"`
	Date      string   `json:"date"`
	Read      string   `json:"read"` // the day it was read
	Newer     string   `json:"superseded_by"`
	LeftOut   []string `json:"left_out"` // what it says, and the numbers here do not
	Mark      string   `json:"mark"`
	Source    string   `json:"source"`
	Own       bool     `json:"own"`  // it stands in the show
	Used      []string `json:"used"` // names of venues
	Distances []string `json:"distances"`
	Wind      float64  `json:"wind"` // m/s; 0 = none given
	Note      string   `json:"note"`

	told units.System
}

// NewRuleSetList lists the published rule sets and the show's own.
func NewRuleSetList(s *timeline.Show) *RuleSetList {
	l := &RuleSetList{RuleSets: []RuleSetLine{}, Caution: Caution, told: s.Told()}
	for _, set := range rule.RuleSets(s) {
		l.RuleSets = append(l.RuleSets, lineOfRuleSet(s, set))
	}
	return l
}

func lineOfRuleSet(s *timeline.Show, set *timeline.RuleSet) RuleSetLine {
	line := RuleSetLine{told: s.Told(), ID: string(set.ID), Name: set.Name, Place: set.Place, Edition: set.Edition, Date: set.Date, Read: set.Read, Newer: set.Newer, LeftOut: append([]string{}, set.LeftOut...), Mark: string(set.Mark), Source: set.Source,
		Own: s.RuleSet(set.ID) != nil, Used: []string{}, Distances: []string{}, Wind: set.Wind, Note: set.Note}
	for _, d := range set.Distances {
		line.Distances = append(line.Distances, d.String())
	}
	for _, v := range s.Venues {
		if in := rule.RuleSetOf(s, v); in != nil && in.ID == set.ID {
			line.Used = append(line.Used, s.Called(v))
		}
	}
	return line
}

// Find gives the line of a rule set by its id.
func (l *RuleSetList) Find(id timeline.ID) *RuleSetLine {
	for i := range l.RuleSets {
		if l.RuleSets[i].ID == string(id) {
			return &l.RuleSets[i]
		}
	}
	return nil
}

// WriteText writes the list for people. None of them applies until a venue names
// it.
func (l *RuleSetList) WriteText(w io.Writer) error {
	out := bufio.NewWriter(w)
	t := &wording.Table{Columns: []wording.Column{{Name: "id", Right: false}, {Name: "name", Right: false}, {Name: "place", Right: false}, {Name: "edition", Right: false}, {Name: "date", Right: false}, {Name: "distances", Right: true}, {Name: "wind " + l.told.Unit("m/s"), Right: true}, {Name: "mark", Right: false}, {Name: "from", Right: false}, {Name: "applies at", Right: false}}}
	for _, r := range l.RuleSets {
		from := "published"
		if r.Own {
			from = "own"
		}
		t.Rows = append(t.Rows, []string{r.ID, r.Name, wording.Given(r.Place), wording.Given(r.Edition), wording.Given(r.Date), strconv.Itoa(len(r.Distances)), windLimit(l.told, r.Wind), wording.Given(r.Mark), from, strings.Join(r.Used, ", ")})
	}
	if err := t.Write(out); err != nil {
		return err
	}
	fmt.Fprintf(out, "\nNone applies until a venue names it. Read the edition that is in force before you rely on one.\n%s\n", l.Caution)
	return out.Flush()
}

func windLimit(told units.System, x float64) string {
	if x == 0 {
		return ""
	}
	return told.Number("m/s", x, -1)
}

// WriteText writes one rule set with all it asks for.
func (r *RuleSetLine) WriteText(w io.Writer) error {
	out := bufio.NewWriter(w)
	for _, f := range [][2]string{{"id", r.ID}, {"name", r.Name}, {"place", r.Place}, {"edition", r.Edition}, {"date", r.Date}, {"read on", r.Read}, {"newer", r.Newer}, {"mark", markName(r.Mark)}, {"source", r.Source},
		{"wind " + r.told.Unit("m/s"), windLimit(r.told, r.Wind)}, {"applies at", strings.Join(r.Used, ", ")}, {"note", r.Note}} {
		fmt.Fprintf(out, "%-11s %s\n", f[0], wording.Given(f[1]))
	}
	for _, d := range r.Distances {
		fmt.Fprintf(out, "%-11s %s\n", "distance", d)
	}
	for _, text := range r.LeftOut {
		fmt.Fprintf(out, "%-11s %s\n", "left out", text)
	}
	fmt.Fprintf(out, "\n%s\n", Caution)
	return out.Flush()
}
