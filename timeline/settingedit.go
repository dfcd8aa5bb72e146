package timeline

import (
	"slices"
	"strings"
)

// TuneRule gives the edit that makes a rule work in the show as a setting says;
// the setting's id is the rule's name. A setting that changes nothing, whatever
// its reason, is taken out: the rule then works as it comes.
func TuneRule(s Setting) Edit {
	return func(d *Draft) error {
		if !s.Off && s.Severity == "" && len(s.Values) == 0 {
			if d.show.Setting(string(s.ID)) == nil {
				return nil
			}
			return d.Remove(Ref{Kind: "setting", ID: s.ID})
		}
		next := s
		if err := KindOf("setting").Field("severity").Set(&next, Value{Text: s.Severity}); err != nil {
			return err
		}
		d.Put("", &next)
		return nil
	}
}

// WithValue gives the setting with another value for one of the rule's numbers;
// "" leaves the number as the rule has it. The setting itself stays as it is.
func (s Setting) WithValue(name, value string) Setting {
	values := slices.DeleteFunc(slices.Clone(s.Values), func(pair string) bool { return strings.HasPrefix(pair, name+"=") })
	if value != "" {
		values = append(values, name+"="+value)
	}
	s.Values = values
	return s
}

// Value gives the show's own value for one of the rule's numbers, or "". There
// may be no setting at all.
func (s *Setting) Value(name string) string {
	if s == nil {
		return ""
	}
	for _, pair := range s.Values {
		if key, value, _ := strings.Cut(pair, "="); key == name {
			return value
		}
	}
	return ""
}
