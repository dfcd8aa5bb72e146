package app

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"emberbeat/shows/sheet"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// severities are the choices of a rule's severity; the first keeps the rule's own.
var severities = []string{"", "error", "warning", "note"}

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
	d := &asking{title: "Tune " + r.Name, verb: "Tune", caution: sheet.Caution}
	names := []string{string(r.Severity) + ", as it comes", "error", "warning", "note"}
	d.fields = []*ask{
		{name: "off", label: "Checked", hint: "the rule is checked", flag: true, on: !now.Off},
		{name: "severity", label: "Severity", names: names, at: max(slices.Index(severities, now.Severity), 0)},
	}
	for _, n := range r.Settings {
		if n.Field == "" {
			d.fields = append(d.fields, &ask{name: n.Name, label: label(n.Name), text: rule.OwnNumber(&now, n.Name), hint: n.Default, unit: n.Unit,
				help: fmt.Sprintf("%s. As it comes: %s (%s, %s)", upper(n.Help), strings.TrimSpace(n.Default+" "+n.Unit), n.Mark, n.Source)})
		}
	}
	d.fields = append(d.fields,
		&ask{name: "scope", label: "Only where", text: strings.Join(now.Scope, "; "), hint: "everywhere", help: "song=…, family=… or placed=…, with semicolons between"},
		&ask{name: "reason", label: "Reason", text: now.Reason, hint: "why it is otherwise here"})
	d.work = func(a *App, d *asking) outcome { return d.tuned(a, r) }
	d.show(a)
}

// tuned is what the dialog's values come to: the setting, and the findings that come and go with it.
func (d *asking) tuned(a *App, r rule.Rule) outcome {
	out := outcome{head: []string{"Finding", "Rule", ""}, lines: []string{upper(r.Reason)}}
	for _, n := range r.Settings {
		if n.Field != "" {
			out.lines = append(out.lines, fmt.Sprintf("%s: %s; it stands in %s.", upper(n.Name), n.Help, n.Field))
		}
	}
	edits := d.tuning(r)
	next, err := a.work.s.Show().Edit(edits...)
	if err != nil {
		out.err = err
		return out
	}
	out.change = change{"tune " + r.Name, edits}
	d.addForecast(a, &out, "tune "+r.Name+" "+settingKey(next.Setting(r.Name)), edits...)
	return out
}

// tuning gives the edits that make the rule work as the dialog says. Off and severity come first: what is left with neither them nor a
// number of its own has no setting that could hold the rest.
func (d *asking) tuning(r rule.Rule) []timeline.Edit {
	reason := strings.TrimSpace(d.field("reason").text)
	edits := []timeline.Edit{rule.Switch(r.Name, d.field("off").on, reason), rule.SetSeverity(r.Name, rule.Severity(severities[d.field("severity").at]))}
	for _, n := range r.Settings {
		if n.Field == "" {
			edits = append(edits, rule.SetNumber(r.Name, n.Name, strings.TrimSpace(d.field(n.Name).text)))
		}
	}
	var scope []string
	for _, item := range strings.Split(d.field("scope").text, ";") {
		if item = strings.TrimSpace(item); item != "" {
			scope = append(scope, item)
		}
	}
	return append(edits, rule.LimitTo(r.Name, scope...), rule.GiveReason(r.Name, reason))
}

func settingKey(s *timeline.Setting) string {
	if s == nil {
		return ""
	}
	return strconv.FormatBool(s.Off) + s.Severity + strings.Join(s.Values, ";") + "|" + strings.Join(s.Scope, ";")
}

// addForecast shows in an outcome which findings would come and go, as soon as that is known.
func (d *asking) addForecast(a *App, out *outcome, key string, edits ...timeline.Edit) {
	f := a.foresee(key, edits...)
	if f == nil || f.key != key || !f.done {
		d.stale = true
		out.lines = append(out.lines, "Looking what this would change…")
		return
	}
	out.lines = append(out.lines, upper(f.text()))
	for _, row := range diffRows(f.Findings) {
		out.rows = append(out.rows, []string{row.line.Text, row.line.Rule, row.word})
	}
}
