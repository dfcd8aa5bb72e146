package rule

import (
	"fmt"
	"strconv"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/units"
)

// number is the value of a setting: as a time where its unit is seconds, and
// as a plain number elsewhere.
type number struct {
	time  timeline.Time
	plain float64
	text  string
	own   bool // given by the show, not by the rule
}

// parseNumber reads the value of a setting.
func (s *Setting) parseNumber(text string) (number, error) {
	if s.Unit == "s" {
		t, err := timeline.ParseTime(text)
		if err != nil || t < 0 {
			return number{}, fmt.Errorf("%s must be a length of time in seconds, 0 or more", s.Name)
		}
		return number{time: t, text: text}, nil
	}
	x, err := strconv.ParseFloat(text, 64)
	if err != nil || !(x >= 0 && x <= 1e9) {
		return number{}, fmt.Errorf("%s must be a number, 0 or more", s.Name)
	}
	return number{plain: x, text: text}, nil
}

// tuning is how a rule works in one place: as the rule has it, or as the show
// sets it.
type tuning struct {
	off      bool
	severity Severity
	numbers  []number // by place in Rule.Settings; those with a Field stay zero
	places   []int16  // where the numbers stand, by Named
	told     units.System
}

// said writes one of the numbers with its unit: as it was given, where it is shown in
// the unit it was given in.
func (t *tuning) said(i int, unit string) string {
	n := t.numbers[i]
	switch {
	case t.told.Unit(unit) != unit:
		return t.told.Say(unit, n.plain, -1)
	case unit == "":
		return n.text
	}
	return n.text + " " + unit
}

// settings is a rule's tuning in a show: where the show's setting applies, and
// elsewhere.
type settings struct {
	base, set tuning
	scope     timeline.RuleScope
	has       bool // the show has a setting for the rule
}

// at gives the tuning for an article at a unit in a song.
func (s *settings) at(song *timeline.Song, unit *timeline.Unit, article *timeline.Article) *tuning {
	if s.has && (s.scope.Everywhere() || s.scope.Covers(song, unit, article)) {
		return &s.set
	}
	return &s.base
}

// settingsOf reads the show's setting of a rule. What cannot be read is left as
// the rule has it; the rule unknown-setting tells.
func settingsOf(r *Rule, s *timeline.Setting, told units.System) settings {
	k := settings{base: tuning{severity: r.Severity, numbers: make([]number, len(r.Settings)), places: places[r.Name], told: told}}
	for i := range r.Settings {
		if r.Settings[i].Field != "" {
			continue
		}
		n, err := r.Settings[i].parseNumber(r.Settings[i].Default)
		if err != nil {
			panic("rule " + r.Name + ": " + err.Error())
		}
		k.base.numbers[i] = n
	}
	if s == nil {
		return k
	}
	var errs []error
	k.scope, errs = timeline.ParseScope(s.Scope)
	k.has = len(errs) == 0 // a scope that cannot be read must not widen the setting
	k.set = tuning{off: s.Off, severity: r.Severity, numbers: append([]number(nil), k.base.numbers...), places: k.base.places, told: told}
	if s.Severity != "" {
		k.set.severity = Severity(s.Severity)
	}
	for _, pair := range s.Values {
		if i, n, err := r.readValue(pair); err == nil {
			n.own = true
			k.set.numbers[i] = n
		}
	}
	return k
}

// readValue reads name=value for one of the rule's own settings.
func (r *Rule) readValue(pair string) (index int, n number, err error) {
	name, text, ok := strings.Cut(pair, "=")
	if !ok {
		return 0, n, fmt.Errorf("%q must be written name=value", pair)
	}
	for i := range r.Settings {
		s := &r.Settings[i]
		if s.Name != name {
			continue
		}
		if s.Field != "" {
			return 0, n, fmt.Errorf("%s is no value of the rule: it stands in %s", name, s.Field)
		}
		n, err = s.parseNumber(text)
		return i, n, err
	}
	return 0, n, fmt.Errorf("%s has no setting %q; %s", r.Name, name, r.settingNames())
}

func (r *Rule) settingNames() string {
	var names []string
	for i := range r.Settings {
		if r.Settings[i].Field == "" {
			names = append(names, r.Settings[i].Name)
		}
	}
	if len(names) == 0 {
		return "it has none of its own"
	}
	return "its settings are " + strings.Join(names, ", ")
}

// most gives the larger of the two times a setting has in the show.
func (s *settings) most(n Named) timeline.Time {
	if !s.has {
		return s.base.of(n).time
	}
	return max(s.base.of(n).time, s.set.of(n).time)
}
