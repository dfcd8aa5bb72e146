package merged

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"emberbeat/shows/report"
	"emberbeat/shows/report/changed"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
	"emberbeat/timeline/merge"
	"emberbeat/timeline/rule"
)

// Report is what a merge comes to. Its JSON keys are relied on: they only grow.
type Report struct {
	Base      string     `json:"base"` // as it was named
	Ours      string     `json:"ours"`
	Theirs    string     `json:"theirs"`
	OursDid   []string   `json:"ours_did"` // since the base, in the words of the trade
	TheirsDid []string   `json:"theirs_did"`
	Conflicts []Conflict `json:"conflicts"` // that nobody has settled
	Settled   []Settled  `json:"settled"`
	Notes     []string   `json:"notes"`
	// Made are the findings about the merged show that neither of the two has: both
	// loaded one output, say.
	Made []report.FindingLine `json:"findings_made"`
}

// Conflict is one that is not settled.
type Conflict struct {
	Number  int      `json:"number"` // from 1
	Key     string   `json:"key"`
	Record  string   `json:"record"`
	Kind    string   `json:"kind"`
	Name    string   `json:"name,omitempty"`
	Why     string   `json:"why"`
	What    string   `json:"what"` // a sentence
	Fields  []string `json:"fields"`
	Base    string   `json:"base"`
	Ours    string   `json:"ours"`
	Theirs  string   `json:"theirs"`
	Held    string   `json:"held"`
	Choices []string `json:"choices"`

	of *merge.Conflict
}

// Settled is a conflict for which a side was chosen.
type Settled struct {
	Key  string `json:"key"`
	Side string `json:"side"`
}

// NewConflicts numbers conflicts and says what they are about.
func NewConflicts(list []merge.Conflict) []Conflict {
	out := []Conflict{}
	for i := range list {
		c := &list[i]
		line := Conflict{Number: i + 1, Key: c.Key(), Record: c.Ref.String(), Kind: c.Ref.Kind, Name: c.Name, Why: string(c.Why), What: c.Said(), Fields: append([]string{}, c.Fields...),
			Base: c.Says[merge.Base], Ours: c.Says[merge.Ours], Theirs: c.Says[merge.Theirs], Held: string(c.Held), of: c}
		for _, s := range c.Choices() {
			line.Choices = append(line.Choices, string(s))
		}
		out = append(out, line)
	}
	return out
}

// Shown says what a side has, for people: what it removed is gone.
func Shown(c *merge.Conflict, s merge.Side) string {
	switch {
	case c.Says[s] != "":
		return c.Says[s]
	case s != merge.Base && (c.Why == merge.Removed || c.Why == merge.Used) && s != c.Held:
		return "gone"
	}
	return "–"
}

// Made gives the findings that a merged show has and neither of the two: of the
// tour, and of each night that the merge concerns.
func Made(base, ours, theirs, is *timeline.Show) []report.FindingLine {
	list := []report.FindingLine{}
	seen := map[string]bool{}
	for _, c := range concerns(base, is) {
		plan, found := checked(is, c)
		var plans []*timeline.Plan
		var before [][]rule.Finding
		for _, s := range []*timeline.Show{ours, theirs} {
			p, f := checked(s, c)
			plans, before = append(plans, p), append(before, f)
		}
		for _, f := range changed.NewOnNeither(plan, found, plans, before) {
			// What is wrong with the tour is wrong on its nights as well.
			if key := f.Rule + f.Record + f.Text; !seen[key] && f.Rule != "undecided" { // those are listed as conflicts
				seen[key] = true
				if c != "" {
					f.Night = is.Night(c).Name
				}
				list = append(list, f)
			}
		}
	}
	return list
}

// concerns lists the tour, as "", and the nights that a merge touches.
func concerns(base, is *timeline.Show) []timeline.ID {
	cs := timeline.Diff(base, is)
	list := []timeline.ID{""}
	for _, c := range timeline.Concerned(base, is, cs) {
		if c.Is != nil && is.Night(c.Is.ID) != nil {
			list = append(list, c.Is.ID)
		}
	}
	return list
}

func checked(s *timeline.Show, night timeline.ID) (*timeline.Plan, []rule.Finding) {
	p := timeline.Compile(s, s.Night(night))
	return p, rule.Check(p, rule.Facts{})
}

// Did says what an edit did, in the words of the trade.
func Did(base, is *timeline.Show) []string { return changed.NewDiff(base, is).Summary }

// Open reports whether anything is left to be looked at.
func (r *Report) Open() bool { return len(r.Conflicts)+len(r.Made) > 0 }

// WriteJSON writes the report as one JSON object.
func (r *Report) WriteJSON(w io.Writer) error { return wording.WriteJSON(w, r) }

// WriteText writes it for people.
func (r *Report) WriteText(w io.Writer) error {
	out := bufio.NewWriter(w)
	did := func(who, name string, list []string) {
		if name == "" {
			return
		}
		fmt.Fprintf(out, "%s (%s):\n", who, name)
		for _, s := range list {
			fmt.Fprintf(out, "  %s\n", s)
		}
		if len(list) == 0 {
			fmt.Fprintln(out, "  changed nothing that a difference tells")
		}
	}
	did("ours", r.Ours, r.OursDid)
	did("theirs", r.Theirs, r.TheirsDid)
	for _, s := range r.Notes {
		fmt.Fprintf(out, "note: %s\n", s)
	}
	for _, s := range r.Settled {
		fmt.Fprintf(out, "settled: %s: %s\n", s.Key, s.Side)
	}
	WriteConflicts(out, r.Conflicts)
	if len(r.Made) > 0 {
		fmt.Fprintf(out, "findings made by the merge, which neither of the two had: %d\n", len(r.Made))
	}
	for i := range r.Made {
		r.Made[i].WriteLine(out, "made")
	}
	return out.Flush()
}

// WriteConflicts writes conflicts side by side, for people.
func WriteConflicts(out io.Writer, list []Conflict) {
	if len(list) > 0 {
		fmt.Fprintf(out, "conflicts: %d\n", len(list))
	}
	for _, c := range list {
		fmt.Fprintf(out, "  %d  %s\n", c.Number, c.What)
		for _, s := range []merge.Side{merge.Base, merge.Ours, merge.Theirs} {
			held := ""
			if s == c.of.Held {
				held = " (held now)"
			}
			fmt.Fprintf(out, "     %-7s %s%s\n", s, Shown(c.of, s), held)
		}
		fmt.Fprintf(out, "     choose  %s\n", strings.Join(c.Choices, ", "))
	}
}

// Fill says what a merge came to: choices were made in the conflicts of what was
// joined, and some are left.
func (r *Report) Fill(base, ours, theirs, is *timeline.Show, joined *merge.Result, choices []merge.Choice, left []merge.Conflict) {
	r.OursDid, r.TheirsDid = Did(base, ours), Did(base, theirs)
	r.Notes = append([]string{}, joined.Notes...)
	r.resolved(joined.Conflicts, choices, left)
	r.Made = Made(base, ours, theirs, is)
}

func (r *Report) resolved(list []merge.Conflict, choices []merge.Choice, left []merge.Conflict) {
	r.Conflicts, r.Settled = NewConflicts(left), []Settled{}
	for _, c := range choices {
		r.Settled = append(r.Settled, Settled{list[c.At].Key(), string(c.Side)})
	}
}

// NewResolved says which conflicts of a show were settled, and which are left.
func NewResolved(list []merge.Conflict, choices []merge.Choice, left []merge.Conflict) *Report {
	r := &Report{OursDid: []string{}, TheirsDid: []string{}, Notes: []string{}, Made: []report.FindingLine{}}
	r.resolved(list, choices, left)
	return r
}

// Lost says which references lead nowhere in a merged show and led somewhere on
// the side that made them: one removed what the other came to use.
func Lost(ours, theirs, is *timeline.Show) []string {
	var list []string
	for _, l := range merge.Lost(ours, theirs, is) {
		list = append(list, fmt.Sprintf("%s names %s, which one removed and the other came to use", l.By, l.Target))
	}
	return list
}
