package held

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"emberbeat/shows/intake"
	"emberbeat/timeline"
)

// What a column of a list can say.
const (
	SongField     = "song"     // title, folder, id or number
	CodeField     = "timecode" // 01:00:42:12, the last part in frames
	ClockField    = "clock"    // 01:00:42.480, from timecode midnight
	SecondsField  = "seconds"  // from the start of the song's audio: 62.5, 1:02.5
	AddressField  = "address"  // IGN 1:7, 1.45
	BankField     = "bank"     // with output
	OutputField   = "output"
	UniverseField = "universe" // with slot
	SlotField     = "slot"
	ActionField   = "action" // hit, arm up …
	NumberField   = "number" // place in the order of the list
)

// Fields lists what a column can say.
func Fields() []string {
	return []string{SongField, CodeField, ClockField, SecondsField, AddressField, BankField, OutputField, UniverseField, SlotField, ActionField, NumberField}
}

// leftOut is what an action of a list can mean beside those of the plan.
const leftOut = "left out"

// Reading says how a list is read.
type Reading struct {
	mapping intake.Mapping
	means   []meaning
	only    []timeline.DeskWord
	hits    bool // the times are those of hits
	table   intake.TableOptions
}

// NewReading reads what a user says of a list, or a show remembers. Its errors say
// what would be right.
func NewReading(words []timeline.DeskWord) (*Reading, error) {
	r := &Reading{}
	var maps []string
	for _, w := range words {
		var err error
		switch w.What {
		case timeline.DeskMap:
			maps = append(maps, w.Name+"="+w.Text)
		case timeline.DeskMeans:
			var m meaning
			m, err = newMeaning(w)
			r.means = append(r.means, m)
		case timeline.DeskOnly:
			r.only = append(r.only, w)
		case timeline.DeskTimes:
			if r.hits = w.Text == TimesOfHits; !r.hits && w.Text != TimesOfCommands {
				err = fmt.Errorf("times %q: write %s or %s", w.Text, TimesOfCommands, TimesOfHits)
			}
		case timeline.DeskSeparator:
			r.table.Comma, err = intake.ParseSeparator(w.Text)
		case timeline.DeskNamesLine:
			if r.table.Names, err = strconv.Atoi(w.Text); err != nil || r.table.Names < 1 {
				err = fmt.Errorf("names-line %q: write the number of a line, from 1", w.Text)
			}
		}
		if err != nil {
			return nil, err
		}
	}
	var err error
	if r.mapping, err = intake.ParseMappingTo(Fields(), "a row of a list", maps); err != nil {
		return nil, err
	}
	for _, f := range Fields() {
		if r.mapping[f] != "" {
			r.table.Look = append(r.table.Look, r.mapping[f])
		}
	}
	r.table.Any = append(Fields(), ownAddress)
	return r, nil
}

// What the times of a list are of.
const (
	TimesOfCommands = "commands"
	TimesOfHits     = "hits"
)

// Over puts what is said now over what is remembered: the same field, name or
// column has what is said now.
func Over(remembered, now []timeline.DeskWord) []timeline.DeskWord {
	list := slices.Clone(remembered)
	for _, w := range now {
		same := func(x timeline.DeskWord) bool { return x.What == w.What && strings.EqualFold(x.Name, w.Name) }
		if i := slices.IndexFunc(list, same); i >= 0 {
			list[i] = w
			continue
		}
		list = append(list, w)
	}
	return list
}

// RateOf gives the timecode rate that the words say the list has; "" is the show's.
func RateOf(words []timeline.DeskWord) string {
	for _, w := range words {
		if w.What == timeline.DeskRate {
			return w.Text
		}
	}
	return ""
}

// meaning says what a name of the list is in the show: one name, or all that have
// a pattern.
type meaning struct {
	name    string
	pattern *regexp.Regexp // nil = the name alone
	parts   []string       // names of what stands in braces, in order
	text    string
}

var braces = regexp.MustCompile(`\{[a-z]+\}`)

// newMeaning reads a meaning. {n}, one letter, stands for a number, whose zeros at
// its head do not count; {name}, several letters, for any text.
func newMeaning(w timeline.DeskWord) (meaning, error) {
	m := meaning{name: w.Name, text: w.Text}
	found := braces.FindAllStringIndex(w.Name, -1)
	expr, at := "(?i)^", 0
	for _, f := range found {
		part := w.Name[f[0]:f[1]]
		if slices.Contains(m.parts, part) {
			return m, fmt.Errorf("means %q: %s stands twice in it", w.Name, part)
		}
		m.parts = append(m.parts, part)
		expr += regexp.QuoteMeta(w.Name[at:f[0]])
		if at = f[1]; len(part) == len("{n}") {
			expr += `0*([0-9]+)`
		} else {
			expr += `(.+?)`
		}
	}
	for _, part := range braces.FindAllString(w.Text, -1) {
		if !slices.Contains(m.parts, part) {
			return m, fmt.Errorf("means %q: %s stands in %q alone", w.Name, part, w.Text)
		}
	}
	if len(found) == 0 {
		return m, nil
	}
	var err error
	m.pattern, err = regexp.Compile(expr + regexp.QuoteMeta(w.Name[at:]) + "$")
	return m, err
}

// meant gives what a name of the list is in the show: as a meaning of that very
// name says, else the first whose pattern it has, else as it is.
func (r *Reading) meant(name string) string {
	for i := range r.means {
		if m := &r.means[i]; m.pattern == nil && strings.EqualFold(m.name, name) {
			return m.text
		}
	}
	for i := range r.means {
		m := &r.means[i]
		if m.pattern == nil {
			continue
		}
		found := m.pattern.FindStringSubmatch(name)
		if found == nil {
			continue
		}
		pairs := make([]string, 0, 2*len(m.parts))
		for k, part := range m.parts {
			pairs = append(pairs, part, found[k+1])
		}
		return strings.NewReplacer(pairs...).Replace(m.text)
	}
	return name
}
