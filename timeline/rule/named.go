package rule

import "fmt"

// Named is a setting that rules read by its name. It is declared beside the rule
// (var extra = setting("extra", "recovery")), and t.of(extra) is its number in a
// tuning of that rule. Names are looked up once, when the table is built.
type Named int

// declared holds what has been declared, by Named.
var declared []declaration

type declaration struct {
	name  string
	rules []string
}

// setting declares a setting that the rules of these names have and read. A name
// that none of their tables holds stops the program before anything else runs.
func setting(name string, rules ...string) Named {
	declared = append(declared, declaration{name, rules})
	return Named(len(declared) - 1)
}

func (n Named) String() string { return declared[n].name }

// places says for each rule where in Rule.Settings, and so in a tuning's
// numbers, each declared setting stands; -1 = the rule does not have it.
var places = map[string][]int16{}

// resolve finds every declared setting in the table of rules.
func resolve() {
	for i := range table {
		list := make([]int16, len(declared))
		for n := range list {
			list[n] = -1
		}
		places[table[i].Name] = list
	}
	for n, d := range declared {
		for _, rule := range d.rules {
			i := indexOf(rule)
			if i < 0 {
				panic(fmt.Sprintf("setting %q: there is no rule %q", d.name, rule))
			}
			at := table[i].place(d.name)
			if at < 0 {
				panic(fmt.Sprintf("rule %s has no number of its own that is called %q", rule, d.name))
			}
			places[rule][n] = int16(at)
		}
	}
}

// place gives the place of a setting of the rule's own; -1 = it has none of that
// name.
func (r *Rule) place(name string) int {
	for i := range r.Settings {
		if r.Settings[i].Name == name && r.Settings[i].Field == "" {
			return i
		}
	}
	return -1
}

// of gives the number of a setting. Asking for one that the rule does not have
// is a mistake in the program, and panics.
func (t *tuning) of(n Named) *number { return &t.numbers[t.places[n]] }
