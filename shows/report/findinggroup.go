package report

import (
	"bufio"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// FindingGroup is findings of one cause in words.
type FindingGroup struct {
	rule.Group
	Title string    // what is wrong: of one finding its own text, of more what their rule looks for
	Where string    // how often, and in which songs: "12 in songs 1, 2, 8"
	Cause string    // the number that they rest on, and where it stands; "" where there is none
	Fix   *rule.Fix // one change for all of them that nobody has accepted; nil where none is offered
}

// GroupFindings gathers findings by their cause, worst first, and puts each group into words. Window and verbs show the same groups.
func GroupFindings(p *timeline.Plan, found []rule.Finding) []FindingGroup {
	groups, names := rule.Groups(found), p.Show.Names()
	list := make([]FindingGroup, len(groups))
	for i := range groups {
		g := &list[i]
		g.Group = groups[i]
		first := &found[g.Found[0]]
		if g.Title = first.Text; len(g.Found) > 1 {
			r, _ := rule.Lookup(g.Rule)
			g.Title = r.Summary
		}
		g.Where = whereOf(g.Found, found)
		if len(first.Grounds) > 0 {
			x := ground(names, p, first.Grounds[0], nil)
			if first.Grounds[0].Ref.Kind == "setting" {
				x.named, x.Field = "the setting "+x.Field, "of "+string(first.Grounds[0].Ref.ID)
			}
			g.Cause = x.named + " " + x.Field + " is " + x.Value
			for _, at := range g.Found[1:] {
				if other := found[at].Grounds[0]; other.Field != first.Grounds[0].Field || other.Text != x.Value {
					g.Cause = x.named
					break
				}
			}
		}
		g.Fix = g.FixAll(found)
	}
	return list
}

// mostNamed bounds how many songs are named by number.
const mostNamed = 6

// whereOf says how often, and in which songs.
func whereOf(places []int, found []rule.Finding) string {
	var numbers []int
	for _, i := range places {
		if n := found[i].Number; n > 0 && !slices.Contains(numbers, n) {
			numbers = append(numbers, n)
		}
	}
	text := strconv.Itoa(len(places))
	switch n := len(numbers); {
	case n == 0:
		return text
	case n == 1:
		return text + " in song " + strconv.Itoa(numbers[0])
	case n > mostNamed:
		return fmt.Sprintf("%s in %d songs", text, n)
	}
	slices.Sort(numbers)
	names := make([]string, len(numbers))
	for i, n := range numbers {
		names[i] = strconv.Itoa(n)
	}
	return text + " in songs " + strings.Join(names, ", ")
}

// shownOfGroup is how many findings of a group have a line of their own where findings are grouped: a fourth says no more than that there is one.
const shownOfGroup = 3

// WriteGrouped writes findings for people, group by group and worst first: of each the first few in a line as WriteShort has them, and of those
// left how many there are, where, and what they rest on; one alone is written. Then the caution.
func (l *Findings) WriteGrouped(w io.Writer) error {
	out := bufio.NewWriter(w)
	found := make([]rule.Finding, len(l.List))
	for i, at := range l.places {
		found[i] = l.found[at]
	}
	groups := GroupFindings(l.plan, found)
	for i := range groups {
		g := &groups[i]
		for k, at := range g.Found {
			if k == shownOfGroup && len(g.Found) > shownOfGroup+1 {
				l.rest(out, g)
				break
			}
			fmt.Fprintln(out, l.List[at].Short())
		}
	}
	if len(l.List) == 0 {
		fmt.Fprintln(out, l.Checked.String())
	}
	fmt.Fprintln(out, CautionLine)
	return out.Flush()
}

// rest says in a line what a group holds beyond what was written of it.
func (l *Findings) rest(out io.Writer, g *FindingGroup) {
	text := fmt.Sprintf("  %d more of %s: %s %s", len(g.Found)-shownOfGroup, g.Where, g.Severity, g.Rule)
	if g.Cause != "" {
		text += "; " + g.Cause
	}
	if g.Fix != nil {
		text += "; fix: " + g.Fix.Label
	}
	fmt.Fprintln(out, text+" (--each: a line for each)")
}
