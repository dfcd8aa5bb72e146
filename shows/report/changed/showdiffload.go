package changed

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"emberbeat/shows/report"
	"emberbeat/timeline"
)

// loads says what has changed about what stands where: placed effects with
// article, position and outputs, then what each output of a bank now drives.
func (d *Diff) loads(a, b *timeline.Show) {
	was, is := timeline.Compile(a, nil).Units, timeline.Compile(b, nil).Units
	for _, u := range is.All {
		old := was.Of(u.Placed.ID)
		if old == nil {
			d.say("placed effect %q added: %s on %s", u.Name, report.ArticleName(u), u.OutputsText())
			continue
		}
		if words := unitWords(a, b, old, u); len(words) > 0 {
			d.say("placed effect %q: %s", u.Name, strings.Join(words, ", "))
		}
	}
	for _, u := range was.All {
		if is.Of(u.Placed.ID) == nil {
			d.say("placed effect %q removed from %s", u.Name, u.OutputsText())
		}
	}
	d.outputs(was, is)
}

func unitWords(a, b *timeline.Show, was, is *timeline.Unit) []string {
	var words []string
	differs := func(what, before, after string) {
		if before != after {
			words = append(words, fmt.Sprintf("%s %s → %s", what, before, after))
		}
	}
	differs("name", was.Name, is.Name)
	differs("article", report.ArticleName(was), report.ArticleName(is))
	differs("position", report.PositionName(was), report.PositionName(is))
	differs("output", was.OutputsText(), is.OutputsText())
	if len(words) == 0 && !timeline.KindOf("placed").Equal(was.Placed, is.Placed) {
		words = append(words, fieldWords(a, b, timeline.Change{Ref: timeline.Ref{Kind: "placed", ID: is.Placed.ID}, Before: was.Placed, After: is.Placed}))
	}
	return words
}

// outputKey is an output of a bank, told by the ids that both shows share.
type outputKey struct {
	bank   timeline.ID
	output int
}

// outputs says which outputs of banks now drive something else: what whoever
// wires and loads goes by.
func (d *Diff) outputs(was, is *timeline.Units) {
	before, after := drivenBy(was), drivenBy(is)
	var keys []outputKey
	for _, m := range []map[outputKey][]string{before, after} {
		for k := range m {
			if !slices.Contains(keys, k) {
				keys = append(keys, k)
			}
		}
	}
	slices.SortFunc(keys, func(a, b outputKey) int {
		return cmp.Or(strings.Compare(string(a.bank), string(b.bank)), cmp.Compare(a.output, b.output))
	})
	names := bankNames(was, is)
	for _, k := range keys {
		if old, now := effects(before[k]), effects(after[k]); old != now {
			d.say("%s output %d now %s (was %s)", names[k.bank], k.output, now, old)
		}
	}
}

func effects(names []string) string {
	if len(names) == 0 {
		return "nothing"
	}
	return strings.Join(names, " + ")
}

// drivenBy gives what hangs on each output of a bank: placed effect and article.
func drivenBy(units *timeline.Units) map[outputKey][]string {
	m := map[outputKey][]string{}
	for _, u := range units.All {
		for _, w := range u.Drives {
			if w.Bank != nil {
				k := outputKey{w.Bank.ID, w.Wire.Output}
				m[k] = append(m[k], u.Name+" ("+report.ArticleName(u)+")")
			}
		}
	}
	return m
}

// bankNames gives the banks' names, the later show's where both have one.
func bankNames(shows ...*timeline.Units) map[timeline.ID]string {
	names := map[timeline.ID]string{}
	for _, units := range shows {
		for _, u := range units.All {
			for _, w := range u.Drives {
				if w.Bank != nil {
					names[w.Bank.ID] = w.Name
				}
			}
		}
	}
	return names
}

// wires says what has changed about wires that still join the same things: what
// outputs drive is said by the outputs.
func (d *Diff) wires(a, b *timeline.Show, cs timeline.Changes) {
	for _, c := range cs {
		if c.Ref.Kind != "wire" || c.Before == nil || c.After == nil {
			continue
		}
		was, is := c.Before.(*timeline.Wire), c.After.(*timeline.Wire)
		if was.Placed == is.Placed && was.Driver == is.Driver && was.Output == is.Output {
			d.say("wire of placed effect %s to %s output %d: %s", b.Named("placed", is.Placed), b.CalledBy(is.Driver, "bank", "device"), is.Output, fieldWords(a, b, c))
		}
	}
}
