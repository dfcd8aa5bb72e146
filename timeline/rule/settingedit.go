package rule

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/units"
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

// Tuning says how a rule is to work in a show. What is not given stays as it is.
type Tuning struct {
	Rule     string
	Off, On  bool      // whether it is checked; neither leaves that as it is
	Numbers  []string  // number=value; number= gives the rule's own back
	Severity *string   // error, warning or note; "" is the rule's own
	Scope    *[]string // song=…, family=… or placed=… that the setting is limited to; none is everywhere
	Reason   *string   // why it works otherwise here; a rule that is not checked needs one
	By       *string   // who says so
}

// Tune gives the edit that has a rule work as a tuning says. A number that
// stands in a record of the show is not set here; the error says where it stands.
func Tune(t Tuning) timeline.Edit {
	return editSetting(t.Rule, func(r *Rule, s *timeline.Setting) error {
		if r.sheet && (t.Off || t.Severity != nil && *t.Severity != "") {
			return &timeline.ValueError{Kind: r.Name, Field: map[bool]string{true: "off", false: "severity"}[t.Off], Want: "has no meaning here: a sheet finds nothing; set one of its numbers"}
		}
		for _, pair := range t.Numbers {
			name, text, _ := strings.Cut(pair, "=")
			if err := r.setNumber(s, name, text); err != nil {
				return err
			}
		}
		if t.Severity != nil {
			s.Severity = *t.Severity
		}
		if t.Scope != nil {
			if _, errs := timeline.ParseScope(*t.Scope); len(errs) > 0 {
				return errs[0]
			}
			s.Scope = *t.Scope
		}
		if t.By != nil {
			s.By = *t.By
		}
		reason := ""
		if t.Reason != nil {
			reason = *t.Reason
		}
		switch {
		case t.Off && strings.TrimSpace(reason) == "":
			return &timeline.ValueError{Kind: r.Name, Field: "reason", Want: "is empty; say why the rule is not checked"}
		case t.Off || t.On:
			s.Off, s.Reason = t.Off, reason
		case t.Reason != nil:
			s.Reason = reason
		}
		return nil
	})
}

// setNumber sets one number of the rule; text "" takes the show's own away, so
// that the rule's counts again.
func (r *Rule) setNumber(s *timeline.Setting, name, text string) error {
	i := slices.IndexFunc(r.Settings, func(x Setting) bool { return x.Name == name })
	if i < 0 {
		return fmt.Errorf("%s has no setting %q; %s", r.Name, name, r.settingNames())
	}
	// Settings stand in files in the rule's own unit, whatever unit they are typed in.
	if x, err := units.Metres.Read(r.Settings[i].Unit, text); err == nil && r.Settings[i].Unit != "s" {
		if _, err := strconv.ParseFloat(text, 64); err != nil {
			text = strconv.FormatFloat(x, 'f', -1, 64)
		}
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
