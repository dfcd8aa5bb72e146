package sheet

import (
	"fmt"
	"io"
	"regexp"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// FindingsDiff is which findings come and go between two plans.
type FindingsDiff struct {
	New  []FindingLine `json:"new"` // there were none of them before
	Gone []FindingLine `json:"gone"`
	Stay int           `json:"same"`
}

// NewFindingsDiff compares the findings about two plans. A finding that says the
// same about the same record is the same, even where its song now stands at
// another place in the running order or in timecode.
func NewFindingsDiff(was, is *timeline.Plan, before, after []rule.Finding) *FindingsDiff {
	old := NewFindings(was, rule.Facts{}, before, nil, Filter{}).List
	now := NewFindings(is, rule.Facts{}, after, nil, Filter{}).List
	d := &FindingsDiff{New: unmatched(now, old), Gone: unmatched(old, now)}
	d.Stay = len(now) - len(d.New)
	return d
}

// NewEditFindings says which findings come and go with a change of a show, on
// everything that it concerns (timeline.Concerned). Where that is more than one
// plan, each finding names its night.
func NewEditFindings(was, is *timeline.Show, on []timeline.Concern, facts rule.Facts) *FindingsDiff {
	d := &FindingsDiff{New: []FindingLine{}, Gone: []FindingLine{}}
	before, after := timeline.NewCompiler(), timeline.NewCompiler()
	for _, c := range on {
		old, now := before.Compile(was, c.Was), after.Compile(is, c.Is)
		one := NewFindingsDiff(old, now, rule.Check(old, facts), rule.Check(now, facts))
		if c.Is != nil && len(on) > 1 {
			one.of(c.Is.Name)
		}
		d.New, d.Gone, d.Stay = append(d.New, one.New...), append(d.Gone, one.Gone...), d.Stay+one.Stay
	}
	return d
}

// of names the night of every finding.
func (d *FindingsDiff) of(night string) {
	for _, list := range [][]FindingLine{d.New, d.Gone} {
		for i := range list {
			list[i].Night = night
		}
	}
}

// unmatched gives the findings of a list that another does not hold.
func unmatched(list, other []FindingLine) []FindingLine {
	count := map[string]int{}
	for i := range other {
		count[sameFinding(&other[i])]++
	}
	rest := []FindingLine{}
	for i := range list {
		if text := sameFinding(&list[i]); count[text] > 0 {
			count[text]--
		} else {
			rest = append(rest, list[i])
		}
	}
	return rest
}

var songNumber = regexp.MustCompile(`song \d+ "`)

// sameFinding gives a text that two findings share when they say the same about
// the same record, as grave and as accepted: where it now stands in the set or in
// timecode makes no other finding of it.
func sameFinding(f *FindingLine) string {
	accepted := ""
	if f.Accepted != nil {
		accepted = f.Accepted.By + ": " + f.Accepted.Reason
	}
	return strings.Join([]string{f.Rule, string(f.Severity), f.Record, songNumber.ReplaceAllString(f.Text, `song "`), accepted}, "\n")
}

// write writes the difference for people; nil is nothing.
func (d *FindingsDiff) write(out io.Writer) {
	if d == nil {
		return
	}
	fmt.Fprintf(out, "findings: %d new, %d gone, %d as before\n", len(d.New), len(d.Gone), d.Stay)
	for i := range d.New {
		d.New[i].write(out, "new")
	}
	for i := range d.Gone {
		d.Gone[i].write(out, "gone")
	}
}

// write writes a finding that has come or gone.
func (f *FindingLine) write(out io.Writer, word string) {
	night := ""
	if f.Night != "" {
		night = fmt.Sprintf("on %q: ", f.Night)
	}
	fmt.Fprintf(out, "  %s: %s%s\n", word, night, f.Short())
}
