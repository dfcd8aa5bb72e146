package changed

import (
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"

	"emberbeat/shows/report"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// FindingsDiff is which findings come and go between two plans.
type FindingsDiff struct {
	New  []report.FindingLine `json:"new"` // there were none of them before
	Gone []report.FindingLine `json:"gone"`
	Stay int                  `json:"same"`
}

// NewFindingsDiff compares the findings about two plans. A finding that says the
// same about the same record is the same, even where its song now stands at
// another place in the running order or in timecode.
func NewFindingsDiff(was, is *timeline.Plan, before, after []rule.Finding) *FindingsDiff {
	lost, come := withoutShared(before, after)
	old := report.NewFindings(was, rule.Facts{}, lost, nil, report.Filter{}).List
	now := report.NewFindings(is, rule.Facts{}, come, nil, report.Filter{}).List
	d := &FindingsDiff{New: unmatched(now, old), Gone: unmatched(old, now)}
	d.Stay = len(after) - len(d.New)
	return d
}

// withoutShared leaves out of two lists of findings, each in their order, what says
// the very same in both: after an edit that is nearly all of them, and putting a
// finding into a line costs more than finding it. What differs in its song's number
// alone is left in.
func withoutShared(a, b []rule.Finding) (onlyA, onlyB []rule.Finding) {
	for len(a) > 0 && len(b) > 0 && said(&a[0]) == said(&b[0]) {
		a, b = a[1:], b[1:]
	}
	for len(a) > 0 && len(b) > 0 && said(&a[len(a)-1]) == said(&b[len(b)-1]) {
		a, b = a[:len(a)-1], b[:len(b)-1]
	}
	count := make(map[saying]int, len(b))
	for i := range b {
		count[said(&b[i])]++
	}
	shared := map[saying]int{}
	for i := range a {
		if k := said(&a[i]); count[k] > 0 {
			count[k]--
			shared[k]++
		} else {
			onlyA = append(onlyA, a[i])
		}
	}
	for i := range b {
		if k := said(&b[i]); shared[k] > 0 {
			shared[k]--
		} else {
			onlyB = append(onlyB, b[i])
		}
	}
	return onlyA, onlyB
}

// saying is what sameFinding goes by, as it stands.
type saying struct {
	rule, text, by, reason string
	severity               rule.Severity
	about                  timeline.Ref
}

func said(f *rule.Finding) saying {
	k := saying{rule: f.Rule, text: f.Text, severity: f.Severity, about: f.Ref}
	if f.Accepted != nil {
		k.by, k.reason = f.Accepted.By, f.Accepted.Reason
	}
	return k
}

// FindingsOn puts what comes and goes on several nights or the tour together.
// Where there is more than one, each finding names its night.
func FindingsOn(on []timeline.Concern, each []*Forecast) *FindingsDiff {
	d := &FindingsDiff{New: []report.FindingLine{}, Gone: []report.FindingLine{}}
	for i, c := range on {
		one := *each[i].Findings
		if c.Is != nil && len(on) > 1 {
			one.New, one.Gone = namingNight(c.Is.Name, one.New), namingNight(c.Is.Name, one.Gone)
		}
		d.New, d.Gone, d.Stay = append(d.New, one.New...), append(d.Gone, one.Gone...), d.Stay+one.Stay
	}
	return d
}

// FindingsBeside is FindingsOn for one change that counts on all of them: of each but the
// first it has what does not come or go on the first as well, and what stays is the first's.
func FindingsBeside(on []timeline.Concern, each []*Forecast) *FindingsDiff {
	first := each[0].Findings
	rest := make([]*Forecast, len(each))
	for i, f := range each {
		one := *f.Findings
		if i > 0 {
			one = FindingsDiff{New: unmatched(one.New, first.New), Gone: unmatched(one.Gone, first.Gone)}
		}
		rest[i] = &Forecast{Findings: &one}
	}
	return FindingsOn(on, rest)
}

// namingNight gives findings that name their night.
func namingNight(night string, list []report.FindingLine) []report.FindingLine {
	list = slices.Clone(list)
	for i := range list {
		list[i].Night = night
	}
	return list
}

// unmatched gives the findings of a list that another does not hold.
func unmatched(list, other []report.FindingLine) []report.FindingLine {
	count := map[string]int{}
	for i := range other {
		count[sameFinding(&other[i])]++
	}
	rest := []report.FindingLine{}
	for i := range list {
		if text := sameFinding(&list[i]); count[text] > 0 {
			count[text]--
		} else {
			rest = append(rest, list[i])
		}
	}
	return rest
}

// NewOnNeither gives the findings about a plan that none of some others has: what
// came about only when these were joined. What each of them has on the same record,
// and that only counts more now, is none.
func NewOnNeither(is *timeline.Plan, found []rule.Finding, plans []*timeline.Plan, before [][]rule.Finding) []report.FindingLine {
	list := report.NewFindings(is, rule.Facts{}, found, nil, report.Filter{}).List
	known := map[string]int{} // by which plans, a bit each
	for i, p := range plans {
		was := report.NewFindings(p, rule.Facts{}, before[i], nil, report.Filter{}).List
		list = unmatched(list, was)
		for k := range was {
			known[uncounted(&was[k])] |= 1 << i
		}
	}
	return slices.DeleteFunc(list, func(f report.FindingLine) bool { return known[uncounted(&f)] == 1<<len(plans)-1 })
}

var number = regexp.MustCompile(`[0-9]+`)

// uncounted gives a text that findings of one rule about one record share which
// differ in numbers alone; notes about what is loaded or left over name more or
// less as well.
func uncounted(f *report.FindingLine) string {
	if f.Severity == rule.Note {
		return f.Rule + " " + f.Record
	}
	return f.Rule + " " + f.Record + " " + number.ReplaceAllString(f.Text, "")
}

var songNumber = regexp.MustCompile(`song \d+ "`)

// sameFinding gives a text that two findings share when they say the same about
// the same record, as grave and as accepted: where it now stands in the set or in
// timecode makes no other finding of it.
func sameFinding(f *report.FindingLine) string {
	accepted := ""
	if f.Accepted != nil {
		accepted = f.Accepted.By + ": " + f.Accepted.Reason
	}
	return strings.Join([]string{f.Rule, string(f.Severity), f.Record, songNumber.ReplaceAllString(f.Text, `song "`), accepted}, "\n")
}

// WriteText writes the difference for people.
func (d *FindingsDiff) WriteText(w io.Writer) error {
	var b strings.Builder
	d.write(&b)
	_, err := io.WriteString(w, b.String())
	return err
}

// write writes the difference for people; nil is nothing.
func (d *FindingsDiff) write(out io.Writer) {
	if d == nil {
		return
	}
	fmt.Fprintf(out, "findings: %d new, %d gone, %d as before\n", len(d.New), len(d.Gone), d.Stay)
	for i := range d.New {
		d.New[i].WriteLine(out, "new")
	}
	for i := range d.Gone {
		d.Gone[i].WriteLine(out, "gone")
	}
}
