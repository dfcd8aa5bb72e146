package sheet

import (
	"fmt"
	"io"
	"regexp"

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
// same about the same record is the same, even where its song now has another
// number in the running order.
func NewFindingsDiff(was, is *timeline.Plan, before, after []rule.Finding) *FindingsDiff {
	old := NewFindings(was, rule.Facts{}, before, nil, Filter{}).List
	now := NewFindings(is, rule.Facts{}, after, nil, Filter{}).List
	d := &FindingsDiff{New: unmatched(now, old), Gone: unmatched(old, now)}
	d.Stay = len(now) - len(d.New)
	return d
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

// sameFinding gives a text that two findings share when they say the same: all
// of it but numbers of songs.
func sameFinding(f *FindingLine) string {
	return f.Record + songNumber.ReplaceAllString(f.Short(), `song "`)
}

// write writes the difference for people; nil is nothing.
func (d *FindingsDiff) write(out io.Writer) {
	if d == nil {
		return
	}
	fmt.Fprintf(out, "findings: %d new, %d gone, %d as before\n", len(d.New), len(d.Gone), d.Stay)
	for i := range d.New {
		fmt.Fprintf(out, "  new: %s\n", d.New[i].Short())
	}
	for i := range d.Gone {
		fmt.Fprintf(out, "  gone: %s\n", d.Gone[i].Short())
	}
}
