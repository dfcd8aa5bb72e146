package rule

import (
	"slices"
	"strings"

	"emberbeat/timeline"
)

// Rule is one check: a permanent name in plain words, what it looks for, why,
// and the numbers it compares with.
type Rule struct {
	Name     string
	Summary  string // what it finds, one sentence
	Reason   string // why it matters and how it is computed
	Scope    Scope
	Severity Severity // unless a setting of the show changes it
	Settings []Setting
	NoData   bool // what it finds is not given, and was compared with nothing

	song func(*songRun) // what can be seen in one song
	set  func(*setRun)  // what it takes the set, or given facts, to see
	rig  func(*rigRun)  // what depends on rig, stock, venue and night alone

	sheet bool
}

// OfSheet reports whether the entry holds the numbers that a sheet goes by. It
// looks for nothing, so that it has no severity, cannot be switched off and is
// not counted among the rules.
func (r *Rule) OfSheet() bool { return r.sheet }

// Setting is one number a rule compares with. Where Field is given, the number
// stands in a record of the show ("article recovery") and is changed there;
// all others are changed by a setting record of the show, name=value.
type Setting struct {
	Name    string
	Default string
	Unit    string // "s", "m" …; "" for counts and shares
	Mark    timeline.Mark
	Source  string
	Help    string
	Field   string
}

// inRecord is a number that a rule takes from a field of a record ("article
// height"), and that is changed there.
func inRecord(field, unit, help string) Setting {
	_, name, _ := strings.Cut(field, " ")
	name, _, _ = strings.Cut(name, ",")
	return Setting{Name: name, Field: field, Unit: unit, Mark: timeline.Typed, Source: "the record's own, or as somebody typed it", Help: help}
}

// Rules gives the table of rules in the order of their names.
func Rules() []Rule { return slices.Clone(table[:len(table)-sheets]) }

// AskedOf gives how many rules are asked about a show: all but those that it has
// switched off everywhere, which it names.
func AskedOf(s *timeline.Show) (n int, off []string) {
	for _, r := range Rules() {
		if set := s.Setting(r.Name); set != nil && set.Off && len(set.Scope) == 0 {
			off = append(off, r.Name)
		} else {
			n++
		}
	}
	return n, off
}

// Tunable gives the rules, and after them the sheets that have numbers of their
// own: all that a show can have a setting for.
func Tunable() []Rule { return slices.Clone(table) }

// Lookup finds a rule, or a sheet with numbers of its own, by its name.
func Lookup(name string) (Rule, bool) {
	if i := indexOf(name); i >= 0 {
		return table[i], true
	}
	return Rule{}, false
}

func ruleOf(name string) *Rule { return &table[indexOf(name)] }

// TellsNoData reports whether the findings of a rule say that something is not
// given and was compared with nothing.
func TellsNoData(name string) bool {
	r, _ := Lookup(name)
	return r.NoData
}

func indexOf(name string) int {
	return slices.IndexFunc(table, func(r Rule) bool { return r.Name == name })
}

// table holds every rule, sorted by name, and after them the sheets. It is filled
// by the rules themselves while the package's variables are set, and put in order
// before anything else runs.
var (
	table  []Rule
	sheets int // how many of the table
)

// enter puts a rule into the table. A rule is entered where it is written; there
// is no other list of them.
func enter(r Rule) Rule {
	table = append(table, r)
	return r
}

// enterSheet puts the numbers of a sheet into the table. What they are and why
// they matter is said as of a rule's.
func enterSheet(r Rule) Rule {
	r.sheet, sheets = true, sheets+1
	return enter(r)
}

func init() {
	slices.SortFunc(table, func(a, b Rule) int {
		if a.sheet != b.sheet {
			return map[bool]int{true: 1, false: -1}[a.sheet]
		}
		return strings.Compare(a.Name, b.Name)
	})
	for i := range table[1:] {
		if table[i].Name == table[i+1].Name {
			panic("two rules are called " + table[i].Name)
		}
	}
	resolve()
}
