package app

import (
	"cmp"
	"fmt"
	"strings"

	"emberbeat/shows/report"
	"emberbeat/timeline"
	"emberbeat/timeline/field"
	"emberbeat/timeline/operation"
	"emberbeat/timeline/rule"
)

// askRule asks how a rule is to work in this show.
func (a *App) askRule(on timeline.Ref) {
	r, ok := rule.Lookup(string(on.ID))
	if !ok {
		return
	}
	var now timeline.Setting
	if s := a.work.shown.Setting(r.Name); s != nil {
		now = *s
	}
	numbers := []*ask{}
	lines := []string{upper(r.Reason)}
	for _, n := range r.Settings {
		if n.Field != "" {
			lines = append(lines, fmt.Sprintf("%s: %s; it stands in %s.", upper(n.Name), n.Help, n.Field))
			continue
		}
		numbers = append(numbers, &ask{name: n.Name, label: label(n.Name), text: rule.OwnNumber(&now, n.Name), hint: n.Default, unit: n.Unit,
			help: fmt.Sprintf("%s. As it comes: %s (%s, %s)", upper(n.Help), strings.TrimSpace(n.Default+" "+n.Unit), n.Mark, n.Source)})
	}
	severity := now.Severity
	if severity == "" {
		severity = operation.OwnSeverity
	}
	off := map[string]func(any) string{}
	if r.OfSheet() {
		nothing := func(any) string { return "a sheet finds nothing: it has numbers alone" }
		off["checked"], off["severity"] = nothing, nothing
	}
	o := operation.Find("rule", "")
	a.askOperation(o, timeline.Ref{}, formSpec{title: o.Title + " " + r.Name, caution: report.Caution, lines: lines, off: off,
		begin: func(args any) { args.(*rule.Tuning).Rule = r.Name },
		given: map[string]string{"checked": fmt.Sprint(!now.Off), "severity": severity, "scope": field.Join(now.Scope), "reason": now.Reason},
		parts: map[string][]*ask{"numbers": numbers},
		choices: map[string]func(*App) []formValue{"severity": func(*App) []formValue {
			list := []formValue{{operation.OwnSeverity, cmp.Or(string(r.Severity), "none") + ", as it comes"}}
			for _, s := range []rule.Severity{rule.Error, rule.Warning, rule.Note} {
				list = append(list, formValue{string(s), string(s)})
			}
			return list
		}}})
}
