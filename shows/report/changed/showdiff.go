package changed

import (
	"bufio"
	"fmt"
	"io"
	"slices"
	"strings"

	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
	"emberbeat/timeline/units"
)

// Diff is what differs between two shows, in the words of the trade and
// record by record. Its JSON keys are relied on: they only grow.
type Diff struct {
	Old     string   `json:"old"` // titles
	New     string   `json:"new"`
	Summary []string `json:"summary"`
	*List
}

// NewDiff compares two shows: the show itself, songs and their cues, what
// is loaded where, then all other records.
func NewDiff(a, b *timeline.Show) *Diff {
	cs := timeline.Diff(a, b)
	d := &Diff{Old: a.Head.Title, New: b.Head.Title, Summary: []string{}, List: NewList(a, b, cs)}
	d.records(a, b, cs, "show")
	d.songs(a, b, cs)
	d.loads(a, b)
	d.wires(a, b, cs)
	for _, k := range timeline.Kinds() {
		switch {
		case k.InSong, k.Name == "show", k.Name == "song", k.Name == "wire", k.Name == "placed":
		default:
			d.records(a, b, cs, k.Name)
		}
	}
	return d
}

// Same reports whether the shows hold the same.
func (d *Diff) Same() bool { return len(d.Changes) == 0 && len(d.Summary) == 0 }

func (d *Diff) say(format string, args ...any) {
	d.Summary = append(d.Summary, fmt.Sprintf(format, args...))
}

// records says what happened to the records of one kind, by name and field.
func (d *Diff) records(a, b *timeline.Show, cs timeline.Changes, kind string) {
	for _, c := range cs {
		if c.Ref.Kind != kind {
			continue
		}
		switch {
		case c.Before == nil:
			d.say("%s added", b.NamedRef(c.Ref))
		case c.After == nil:
			d.say("%s removed", a.NamedRef(c.Ref))
		case kind == "set":
			d.running(a, b, c)
		case kind == "night":
			d.night(a, b, c)
		default:
			if words := fieldWords(a, b, c); words != "" {
				d.say("%s: %s", b.NamedRef(c.Ref), words)
			}
		}
	}
}

// night says what has become of a night: what it says in the words of its
// operations, and the rest field by field.
func (d *Diff) night(a, b *timeline.Show, c timeline.Change) {
	before, after := c.Before.(*timeline.Night), c.After.(*timeline.Night)
	was, is := operation.NightItems(a, before), operation.NightItems(b, after)
	said := map[string]bool{}
	var words []string
	for _, i := range apart(was, is) {
		words = append(words, "no more "+i)
	}
	words = append(words, apart(is, was)...)
	for _, i := range append(was, is...) {
		said[i.List] = true
	}
	rest := c
	if len(words) > 0 {
		rest = timeline.Change{Ref: c.Ref, Before: c.Before, After: withLists(after, before, said)}
	}
	if text := fieldWords(a, b, rest); text != "" {
		words = append(words, text)
	}
	if len(words) > 0 {
		d.say("%s: %s", b.NamedRef(c.Ref), strings.Join(words, "; "))
	}
}

// apart gives the texts of items that another list has not, with their reasons.
func apart(items, than []operation.Item) []string {
	var list []string
	for _, i := range items {
		if !slices.ContainsFunc(than, func(o operation.Item) bool { return o.List == i.List && o.Text == i.Text && o.Why == i.Why }) {
			text := i.Text
			if i.Why != "" {
				text += " (" + i.Why + ")"
			}
			list = append(list, text)
		}
	}
	return list
}

// withLists gives a night with some of its lists as another one has them.
func withLists(n, from *timeline.Night, lists map[string]bool) *timeline.Night {
	k := timeline.KindOf("night")
	c := k.Clone(n)
	for name := range lists {
		f := k.Field(name)
		_ = f.Set(c, f.Get(from)) // a value that the field gave
	}
	return c.(*timeline.Night)
}

// fieldWords says what became of a record's fields: values before and after, of
// lists what came and went.
func fieldWords(a, b *timeline.Show, c timeline.Change) string {
	k := timeline.KindOf(c.Ref.Kind)
	var parts []string
	for _, f := range c.Fields() {
		if k.Field(f.Field).Type == timeline.ListField {
			parts = append(parts, listSaid(a, b, c.Ref.Kind, f.Field, f.Before.Items, f.After.Items))
			continue
		}
		text := fmt.Sprintf("%s %s → %s", f.Field, named(b.Told(), a, k.Field(f.Field), f.Before), named(b.Told(), b, k.Field(f.Field), f.After))
		if unit := k.Field(f.Field).Unit; unit != "" {
			text += " " + b.Told().Unit(unit)
		}
		parts = append(parts, text)
	}
	return strings.Join(parts, ", ")
}

// named is shown of a field that may name another record.
func named(told units.System, s *timeline.Show, f *timeline.Field, v timeline.Value) string {
	if len(f.Ref) > 0 && v.Text != "" {
		return s.CalledBy(timeline.ID(v.Text), f.Ref...)
	}
	return told.Shown(f.Unit, shown(v))
}

func shown(v timeline.Value) string {
	if v.Text == "" {
		return "none"
	}
	return v.Text
}

// listWords says which items a list has gained and lost; the same items in
// another order are said to be so.
func listWords(before, after []string) string {
	count := map[string]int{}
	for _, s := range before {
		count[s]--
	}
	for _, s := range after {
		count[s]++
	}
	var words string
	for _, s := range before {
		if count[s] < 0 {
			count[s]++
			words += " −(" + s + ")"
		}
	}
	for _, s := range after {
		if count[s] > 0 {
			count[s]--
			words += " +(" + s + ")"
		}
	}
	if words == "" {
		return " in another order"
	}
	return words
}

// running says how a set's running order has changed.
func (d *Diff) running(a, b *timeline.Show, c timeline.Change) {
	before, after := c.Before.(*timeline.Set), c.After.(*timeline.Set)
	was, is := orderWords(a, before), orderWords(b, after)
	if was != is {
		d.say("%s: now plays %s (was %s)", b.NamedRef(c.Ref), is, was)
	}
	var rest []string
	for _, f := range c.Fields() {
		if f.Field == "entries" {
			if was == is {
				rest = append(rest, "gaps, talk or encores changed")
			}
			continue
		}
		rest = append(rest, fmt.Sprintf("%s %s → %s", f.Field, shown(f.Before), shown(f.After)))
	}
	if len(rest) > 0 {
		d.say("%s: %s", b.NamedRef(c.Ref), strings.Join(rest, ", "))
	}
}

func orderWords(s *timeline.Show, set *timeline.Set) string {
	var names []string
	for _, e := range set.Order() {
		names = append(names, s.CalledBy(e.Song, "song"))
	}
	if len(names) == 0 {
		return "nothing"
	}
	return strings.Join(names, ", ")
}

// WriteText writes the difference for people.
func (d *Diff) WriteText(w io.Writer) error {
	out := bufio.NewWriter(w)
	for _, s := range d.Summary {
		fmt.Fprintln(out, s)
	}
	d.Findings.write(out)
	return out.Flush()
}

// wording.WriteJSON writes it as one JSON object.
func (d *Diff) WriteJSON(w io.Writer) error { return wording.WriteJSON(w, d) }
