package app

import (
	"cmp"
	"fmt"
	"strings"

	"emberbeat/render/desk/page"
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
	numbers := []*formField{}
	lines := []string{upper(r.Reason)}
	for _, n := range r.Settings {
		if n.Field != "" {
			lines = append(lines, fmt.Sprintf("%s: %s; it stands in %s.", upper(n.Name), n.Help, n.Field))
			continue
		}
		numbers = append(numbers, &formField{name: n.Name, label: label(n.Name), text: rule.OwnNumber(&now, n.Name), hint: n.Default, unit: n.Unit,
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
	a.askOperation(o, timeline.Ref{}, formSpec{lines: lines, parts: map[string][]*formField{"numbers": numbers}, Form: page.Form{Title: o.Title + " " + r.Name, Caution: report.Caution, Off: off,
		Begin: func(args any) { args.(*rule.Tuning).Rule = r.Name },
		Given: map[string]string{"checked": fmt.Sprint(!now.Off), "severity": severity, "scope": field.Join(now.Scope), "reason": now.Reason},
		Choices: map[string]func() []page.Choice{"severity": func() []page.Choice {
			list := []page.Choice{{Value: operation.OwnSeverity, Name: cmp.Or(string(r.Severity), "none") + ", as it comes"}}
			for _, s := range []rule.Severity{rule.Error, rule.Warning, rule.Note} {
				list = append(list, page.Choice{Value: string(s), Name: string(s)})
			}
			return list
		}}}})
}
