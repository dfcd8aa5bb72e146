package rule

import (
	"fmt"
	"slices"
	"strings"

	"emberbeat/timeline"
)

// OwnNumber gives a show's own value for one of a rule's numbers, as it was
// written, or "". There may be no setting at all.
func OwnNumber(s *timeline.Setting, name string) string {
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

// SetNumber gives the edit that sets one number of a rule in a show. Text "" takes
// the show's own number away, so that the rule's counts again. A number that
// stands in a record of the show is not set here; the error says where it stands.
func SetNumber(rule, name, text string) timeline.Edit {
	return editSetting(rule, func(r *Rule, s *timeline.Setting) error {
		i := slices.IndexFunc(r.Settings, func(x Setting) bool { return x.Name == name })
		if i < 0 {
			return fmt.Errorf("%s has no setting %q; %s", r.Name, name, r.settingNames())
		}
		pair := name + "=" + text
		if text != "" {
			if _, _, err := r.readValue(pair); err != nil {
				return &timeline.ValueError{Kind: r.Name, Field: name, Value: text, Want: strings.TrimPrefix(err.Error(), name+" ")}
			}
		}
		at := slices.IndexFunc(s.Values, func(v string) bool { return strings.HasPrefix(v, name+"=") })
		switch {
		case text == "" && at >= 0:
			s.Values = slices.Delete(s.Values, at, at+1)
		case text == "":
		case at >= 0:
			s.Values[at] = pair
		default:
			s.Values = append(s.Values, pair)
		}
		return nil
	})
}

// SetSeverity gives the edit that makes a rule's findings errors, warnings or
// notes in a show; "" is the rule's own severity.
func SetSeverity(rule string, severity Severity) timeline.Edit {
	return editSetting(rule, func(_ *Rule, s *timeline.Setting) error {
		s.Severity = string(severity)
		return nil
	})
}

// Switch gives the edit that checks a rule in a show, or does not. A rule that is
// not checked needs a reason.
func Switch(rule string, on bool, reason string) timeline.Edit {
	return editSetting(rule, func(r *Rule, s *timeline.Setting) error {
		if s.Off = !on; s.Off && strings.TrimSpace(reason) == "" {
			return &timeline.ValueError{Kind: r.Name, Field: "reason", Want: "is empty; say why the rule is not checked"}
		}
		s.Reason = reason
		return nil
	})
}

// GiveReason gives the edit that keeps why a rule works as it does in a show.
func GiveReason(rule, reason string) timeline.Edit {
	return editSetting(rule, func(_ *Rule, s *timeline.Setting) error {
		s.Reason = reason
		return nil
	})
}

// LimitTo gives the edit that limits the show's setting of a rule to songs,
// families and placed effects: song=…, family=…, placed=…; none is everywhere.
func LimitTo(rule string, scope ...string) timeline.Edit {
	return editSetting(rule, func(r *Rule, s *timeline.Setting) error {
		if _, errs := timeline.ParseScope(scope); len(errs) > 0 {
			return errs[0]
		}
		s.Scope = scope
		return nil
	})
}

// editSetting changes the show's setting of a rule. One that is left with
// nothing to say is taken out.
func editSetting(name string, change func(*Rule, *timeline.Setting) error) timeline.Edit {
	return func(d *timeline.Draft) error {
		r, known := Lookup(name)
		if !known {
			return fmt.Errorf("there is no rule %q; emberbeat explain lists them", name)
		}
		s := &timeline.Setting{Base: timeline.Base{ID: timeline.ID(name)}}
		old := d.Show().Setting(name)
		if old != nil {
			c := *old
			c.Values, c.Scope = slices.Clone(c.Values), slices.Clone(c.Scope)
			s = &c
		}
		if err := change(&r, s); err != nil {
			return err
		}
		for i := range timeline.KindOf("setting").Fields {
			f := &timeline.KindOf("setting").Fields[i]
			if err := f.Set(s, f.Get(s)); err != nil {
				return err
			}
		}
		if s.Off || s.Severity != "" || len(s.Values) > 0 || timeline.KeptOf(s) != nil {
			d.Put("", s)
			return nil
		}
		if old == nil {
			return nil
		}
		return d.Remove(timeline.Ref{Kind: "setting", ID: s.ID})
	}
}
