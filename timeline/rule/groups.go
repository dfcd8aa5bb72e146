package rule

import (
	"cmp"
	"fmt"
	"slices"

	"emberbeat/timeline"
)

// Group is findings of one cause: one rule found them, they rest on the same
// record, and the same field of whatever they are about would be changed.
type Group struct {
	Rule     string
	Severity Severity     // of all of them
	Cause    timeline.Ref // record of their first ground; none where they rest on nothing that is written down
	Changes  string       // kind and field that the offered fixes change ("cue at"); "" = none is offered
	Found    []int        // places in the list they were gathered from, in its order
	Accepted int          // of them
}

// Key tells a group apart from others, also when the plan was checked again.
func (g *Group) Key() string {
	return fmt.Sprintf("%s %s %s %s", g.Rule, g.Severity, g.Cause, g.Changes)
}

// Open is how many of them nobody has accepted.
func (g *Group) Open() int { return len(g.Found) - g.Accepted }

// Groups gathers findings by their cause: gravest first, then the group with the
// most that nobody has accepted, then the one whose first stands before.
func Groups(found []Finding) []Group {
	type key struct {
		rule     string
		severity Severity
		cause    timeline.Ref
		changes  string
	}
	var list []Group
	at := map[key]int{}
	for i := range found {
		f := &found[i]
		k := key{rule: f.Rule, severity: f.Severity, changes: f.Fix.changes()}
		if len(f.Grounds) > 0 {
			k.cause = f.Grounds[0].Ref
		}
		n, known := at[k]
		if !known {
			n = len(list)
			at[k] = n
			list = append(list, Group{Rule: k.rule, Severity: k.severity, Cause: k.cause, Changes: k.changes})
		}
		list[n].Found = append(list[n].Found, i)
		list[n].Accepted += b2i(f.Accepted != nil)
	}
	slices.SortStableFunc(list, func(a, b Group) int {
		return cmp.Or(cmp.Compare(b2i(a.Open() == 0), b2i(b.Open() == 0)), cmp.Compare(a.Severity.rank(), b.Severity.rank()), cmp.Compare(b.Open(), a.Open()))
	})
	return list
}

// changes names what a fix changes, by kind of record and field.
func (f *Fix) changes() string {
	switch {
	case f == nil:
		return ""
	case f.Field == "":
		return f.On.Kind
	}
	return f.On.Kind + " " + f.Field
}

// unfixed are rules of which nothing is solved in bulk: how far, how high and
// where people are is decided by looking at it, and arms are laid by emberbeat
// arms, which looks at all that they serve.
var unfixed = []string{"separation", "performers", "reach", "paper-reach", "roof", "low-roof", "heat", "circuit", "circuit-count", "bank-power", "arm-in-clear-zone", "arm-up", "condition-off", "arm-left-up"}

// Fixes reports whether what a rule finds may be solved for many at once.
func Fixes(name string) bool { return !slices.Contains(unfixed, name) }

// FixAll gives one fix for all of a group that nobody has accepted; nil where none
// is offered, or where two of them would write the same field, for each was worked
// out as if it were made alone.
func (g *Group) FixAll(found []Finding) *Fix {
	if !Fixes(g.Rule) {
		return nil
	}
	all := &Fix{}
	type place struct {
		on    timeline.Ref
		field string
	}
	texts := map[place]string{}
	for _, i := range g.Found {
		f := &found[i]
		if f.Accepted != nil {
			continue
		}
		if f.Fix == nil {
			return nil
		}
		at := place{f.Fix.On, f.Fix.Field}
		if text, written := texts[at]; written {
			if text == "" || text != f.Fix.Text {
				return nil
			}
			continue
		}
		texts[at] = f.Fix.Text
		if all.On.Kind == "" {
			*all = Fix{Label: f.Fix.Label, On: f.Fix.On, Field: f.Fix.Field, Text: f.Fix.Text}
		}
		all.Edits = append(all.Edits, f.Fix.Edits...)
	}
	switch n := len(texts); {
	case n == 0:
		return nil
	case n > 1:
		all.Label = g.label(n)
	}
	return all
}

// orders are what is done to several records at once, by what is changed of them.
var orders = map[string]string{
	"cue at": "move %d cues", "cue open": "give %d cues another open time", "cue disabled": "disable %d cues", "cue without": "leave %d cues out of this version", "song pre-roll": "give %d songs a longer pre-roll",
	"song start": "start %d songs elsewhere", "bank address": "give %d banks another address", "placed article": "place another article at %d places",
	"handcue key": "give %d keys another number", "handcue presses": "set presses of %d keys to 1", "device starts": "start %d devices elsewhere",
	"device slot-changes": "change the slots of %d devices", "setting": "take %d settings out",
}

// label says what a fix of n records does.
func (g *Group) label(n int) string {
	if order := orders[g.Changes]; order != "" {
		return fmt.Sprintf(order, n)
	}
	return fmt.Sprintf("change %s of %d records", g.Changes, n)
}

// NothingFound says what it means that a list of findings is empty: how many rules were asked of a show, and what was compared with nothing, for
// findings tell that it is not given. Found is all that was found, of which the list may be a part.
func NothingFound(s *timeline.Show, found []Finding) string {
	asked, off := AskedOf(s)
	without := 0
	for i := range found {
		without += b2i(TellsNoData(found[i].Rule))
	}
	return fmt.Sprintf("%s asked, %d switched off, %d without data; those asked found nothing", timeline.Counted(asked, "rule"), len(off), without)
}
