package app

import (
	"fmt"
	"image"
	"slices"
	"strconv"
	"strings"

	"emberbeat/shows/sheet"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// rulePages are the pages of what is checked.
func rulePages() []page {
	spec := &ledgerSpec{id: "rules", list: rulesListed, columns: ruleColumns(), buttons: []string{"rule-tune", "rule-findings"},
		note: "Numbers marked C, M or J are unverified. A rule that finds nothing has looked only at what it was given; label, permit and authority come first."}
	return []page{{id: "rules", name: "Rules", part: "Checks", help: "what is checked, with which numbers, and what it finds now; Enter tunes a rule",
		acts: map[string]act{"edit-values": {needRule, (*App).askRule}},
		draw: func(a *App, r image.Rectangle) {
			if a.ledger(r, spec) >= 0 {
				a.askRule()
			}
		}}}
}

func ruleCommands() []command {
	return []command{
		{id: "rule-tune", name: "Tune rule…", help: "turns the chosen rule off or on, changes its severity and numbers, and says which findings come and go", group: "Book", off: needRule, run: (*App).askRule},
		{id: "rule-findings", name: "Findings of the rule", help: "opens the list of findings and goes to the first one of the chosen rule", group: "Book", off: needRuleFinding, run: (*App).goRule},
	}
}

// rulesListed gives a row for each rule.
func rulesListed(a *App) []entry {
	var rows []entry
	for _, r := range rule.Rules() {
		e := entry{key: r.Name, ref: timeline.Ref{Kind: "setting", ID: timeline.ID(r.Name)}, more: r}
		if s := a.work.shown.Setting(r.Name); s != nil {
			e.rec = s
		}
		rows = append(rows, e)
	}
	return rows
}

func ruleColumns() []column {
	of := func(text func(a *App, r *rule.Rule, s *timeline.Setting) string) func(*App, *entry) string {
		return func(a *App, e *entry) string {
			r := e.more.(rule.Rule)
			s, _ := e.rec.(*timeline.Setting)
			return text(a, &r, s)
		}
	}
	return []column{
		{title: "Rule", width: 168, text: of(func(_ *App, r *rule.Rule, _ *timeline.Setting) string { return r.Name })},
		{title: "Finds now", width: 86, right: true, text: of(func(a *App, r *rule.Rule, _ *timeline.Setting) string { return blankZero(len(a.findingsOf(r.Name))) })},
		{title: "Severity", width: 82, text: of(severityText)},
		{title: "Numbers", width: 250, text: of(numbersText)},
		{title: "What it finds", text: of(func(_ *App, r *rule.Rule, _ *timeline.Setting) string { return upper(r.Summary) })},
		{title: "Looks at", width: 100, text: of(func(_ *App, r *rule.Rule, _ *timeline.Setting) string { return string(r.Scope) })},
		{title: "Known by", width: 110, text: of(marksText)},
		{title: "Why changed", width: 160, text: of(func(_ *App, _ *rule.Rule, s *timeline.Setting) string {
			if s == nil {
				return ""
			}
			return s.Reason
		})},
	}
}

// severityText says how grave a finding of the rule is in this show.
func severityText(_ *App, r *rule.Rule, s *timeline.Setting) string {
	switch {
	case s != nil && s.Off:
		return "off"
	case s != nil && s.Severity != "":
		return s.Severity + ", own"
	}
	return string(r.Severity)
}

// numbersText lists the rule's own numbers as they are in this show.
func numbersText(_ *App, r *rule.Rule, s *timeline.Setting) string {
	var parts []string
	for _, n := range r.Settings {
		if n.Field != "" {
			continue
		}
		value, own := n.Default, ""
		if v := ownNumber(s, n.Name); v != "" {
			value, own = v, ", own"
		}
		parts = append(parts, strings.TrimSpace(n.Name+" "+value+" "+n.Unit)+own)
	}
	return strings.Join(parts, "; ")
}

// ownNumber gives the show's own value for one of a rule's numbers, or "". There may be no setting at all.
func ownNumber(s *timeline.Setting, name string) string {
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

// marksText lists how well the rule's numbers are known.
func marksText(_ *App, r *rule.Rule, _ *timeline.Setting) string {
	var marks []string
	for _, n := range r.Settings {
		if m := string(n.Mark); m != "" && !slices.Contains(marks, m) {
			marks = append(marks, m)
		}
	}
	return strings.Join(marks, ", ")
}

// findingsOf gives the places of a rule's findings in the list of findings.
func (a *App) findingsOf(name string) []int {
	var at []int
	for i := range a.work.findings {
		if a.work.findings[i].Rule == name {
			at = append(at, i)
		}
	}
	return at
}

// chosenRule gives the rule of the row chosen on the page of rules.
func (a *App) chosenRule() (rule.Rule, bool) {
	if a.work == nil || a.book.at != "rules" {
		return rule.Rule{}, false
	}
	rows := a.ledgerOf("rules").chosen()
	if len(rows) != 1 {
		return rule.Rule{}, false
	}
	return rule.Lookup(rows[0].key)
}

func needRule(a *App) string {
	if why := needEdit(a); why != "" {
		return why
	}
	if _, ok := a.chosenRule(); !ok {
		return "choose one rule on the page Rules first"
	}
	return ""
}

func needRuleFinding(a *App) string {
	r, ok := a.chosenRule()
	switch {
	case !ok:
		return "choose one rule on the page Rules first"
	case len(a.findingsOf(r.Name)) == 0:
		return r.Name + " finds nothing now"
	}
	return ""
}

// goRule goes to the first finding of the chosen rule.
func (a *App) goRule() {
	r, _ := a.chosenRule()
	a.panel.list = true
	a.goFinding(a.findingsOf(r.Name)[0])
}

// severities are the choices of a rule's severity; the first keeps the rule's own.
var severities = []string{"", "error", "warning", "note"}

// askRule asks how the chosen rule is to work in this show.
func (a *App) askRule() {
	r, ok := a.chosenRule()
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
			d.fields = append(d.fields, &ask{name: n.Name, label: label(n.Name), text: ownNumber(&now, n.Name), hint: n.Default, unit: n.Unit,
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
