package changed

import (
	"bufio"
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"emberbeat/shows/report"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// List is what differs between two shows, record by record.
type List struct {
	Changes      []Line        `json:"changes"`
	Consequences *Consequences `json:"consequences,omitempty"` // of a change of the stock
	Moved        []MovedCue    `json:"moved,omitempty"`        // where a night moves a song
	Findings     *FindingsDiff `json:"findings,omitempty"`     // of a change of anything else
	Plan         *PlanDiff     `json:"plan,omitempty"`         // of what makes another plan: what is told beside findings
}

// Line is what happened to one record.
type Line struct {
	Change string        `json:"change"` // "added", "removed" or "changed"
	Record string        `json:"record"` // kind:id or kind:song/id
	Kind   string        `json:"kind"`
	Song   string        `json:"song,omitempty"`
	ID     string        `json:"id"`
	Name   string        `json:"name,omitempty"`
	Fields []FieldChange `json:"fields"`

	named string // as the crew calls it, with its kind
}

// FieldChange is one field before and after, in the texts that edit takes; a
// list's items are joined by "; ".
type FieldChange struct {
	Field  string `json:"field"`
	Before string `json:"before"`
	After  string `json:"after"`

	was, is string // the same with records called by their names
}

// NewList gives the changes between two shows in the order of the model, what
// stands at a place of a song by its place.
func NewList(was, is *timeline.Show, cs timeline.Changes) *List {
	l := &List{Changes: []Line{}}
	before, after := was.Names(), is.Names()
	for _, c := range byPlace(cs) {
		line := Line{Change: "changed", Record: c.Ref.String(), Kind: c.Ref.Kind, Song: string(c.Ref.Song), ID: string(c.Ref.ID), Fields: []FieldChange{}}
		shown, k, called := c.After, timeline.KindOf(c.Ref.Kind), after
		switch {
		case c.Before == nil:
			line.Change = "added"
		case c.After == nil:
			line.Change, shown, called = "removed", c.Before, before
		}
		line.Name, line.named = k.NameOf(shown), called.NamedRef(c.Ref)
		in := c.Ref.Song
		if k.Name == "song" {
			in = c.Ref.ID
		}
		for _, f := range c.Fields() {
			said := k.Field(f.Field)
			line.Fields = append(line.Fields, FieldChange{f.Field, f.Before.String(), f.After.String(), before.Said(said, in, f.Before), after.Said(said, in, f.After)})
		}
		l.Changes = append(l.Changes, line)
	}
	return l
}

// byPlace sorts the changes of one kind in one song, which follow each other,
// by where their records stand; bars come before times.
func byPlace(cs timeline.Changes) timeline.Changes {
	sorted := slices.Clone(cs)
	for from := 0; from < len(sorted); {
		to := from + 1
		for to < len(sorted) && sorted[to].Ref.Kind == sorted[from].Ref.Kind && sorted[to].Ref.Song == sorted[from].Ref.Song {
			to++
		}
		slices.SortStableFunc(sorted[from:to], comparePlaces)
		from = to
	}
	return sorted
}

func comparePlaces(a, b timeline.Change) int {
	x, y := placeOf(a), placeOf(b)
	switch {
	case x.OnBeat && !y.OnBeat:
		return -1
	case y.OnBeat && !x.OnBeat:
		return 1
	}
	return cmp.Or(x.Bar.Cmp(y.Bar), cmp.Compare(x.Time, y.Time))
}

// placeOf gives where a changed record stands; those that stand nowhere are
// all alike.
func placeOf(c timeline.Change) timeline.Moment {
	for _, r := range []timeline.Record{c.After, c.Before} {
		if r != nil {
			if at := report.MomentOf(r); at != nil {
				return *at
			}
			break
		}
	}
	return timeline.Moment{}
}

// WriteText writes a line for each record: what happened to it, then its
// fields as edit would take them, with an arrow from before to after.
func (l *List) WriteText(w io.Writer) error {
	out := bufio.NewWriter(w)
	for _, c := range l.Changes {
		fmt.Fprintf(out, "%s %s", c.Change, c.named)
		if c.Change != "removed" {
			c.writeFields(out)
		}
		fmt.Fprintln(out)
	}
	l.Consequences.write(out)
	writeMoved(out, l.Moved)
	l.Findings.write(out)
	l.Plan.write(out)
	return out.Flush()
}

func (c *Line) writeFields(out io.Writer) {
	for _, f := range c.Fields {
		if c.Change == "added" {
			fmt.Fprintf(out, " %s=%s", f.Field, quoted(f.is))
		} else {
			fmt.Fprintf(out, " %s=%s→%s", f.Field, quoted(f.was), quoted(f.is))
		}
	}
}

// quoted puts text in quotes where it would otherwise run into its neighbours.
func quoted(s string) string {
	if s == "" || strings.ContainsAny(s, " \"→=;") {
		return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(s) + `"`
	}
	return s
}

// wording.WriteJSON writes the difference as one JSON object.
func (l *List) WriteJSON(w io.Writer) error { return wording.WriteJSON(w, l) }
