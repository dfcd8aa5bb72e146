package rules

import (
	"image"
	"slices"
	"strings"

	"emberbeat/render/desk/page"
	"emberbeat/render/desk/page/table"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
	"emberbeat/timeline/rule"
	"emberbeat/timeline/units"
)

// ID is that of the page.
const ID = "rules"

// rules is the page with what it remembers.
type rules struct {
	h page.Host
	t *table.Table
}

// New gives the page of rules and its commands.
func New(h page.Host) page.Family {
	p := &rules{h: h}
	p.t = table.New(h, table.Spec{List: p.listed, Columns: p.columns, Buttons: []string{"rule-tune", "rule-findings"},
		Note: "Numbers marked C, M or J are unverified. A rule that finds nothing has looked only at what it was given; label, permit and authority come first."})
	tune := page.Does(operation.Find("rule", ""), page.Command{ID: "rule-tune", Off: p.needRule, Run: p.tune})
	return page.Family{
		Pages: []page.Page{{ID: ID, Name: "Rules", Part: "Checks", Help: "what is checked, with which numbers, and what it finds now; Enter tunes a rule",
			Draw: p.draw, Rows: p.t, Acts: map[string]page.Act{"edit-values": tune.Act()}}},
		Commands: []page.Command{tune,
			{ID: "rule-findings", Name: "Findings of the rule", Help: "opens the list of findings and goes to the first one of the chosen rule", Off: p.needFinding, Run: p.goFinding}},
	}
}

func (p *rules) draw(r image.Rectangle) {
	if p.t.Draw(r) >= 0 {
		p.tune()
	}
}

// listed gives a row for each rule, and after them for each sheet with numbers of its own.
func (p *rules) listed() []table.Row {
	var rows []table.Row
	for _, r := range rule.Tunable() {
		e := table.Row{Key: r.Name, Ref: timeline.Ref{Kind: "setting", ID: timeline.ID(r.Name)}, More: r}
		if s := p.h.Show().Setting(r.Name); s != nil {
			e.Record = s
		}
		rows = append(rows, e)
	}
	return rows
}

func (p *rules) columns() []table.Column {
	of := func(text func(r *rule.Rule, s *timeline.Setting) string) func(*table.Row) string {
		return func(e *table.Row) string {
			r := e.More.(rule.Rule)
			s, _ := e.Record.(*timeline.Setting)
			return text(&r, s)
		}
	}
	return []table.Column{
		{Title: "Rule", Width: 168, Text: of(func(r *rule.Rule, _ *timeline.Setting) string { return r.Name })},
		{Title: "Finds now", Width: 86, Right: true, Text: of(func(r *rule.Rule, _ *timeline.Setting) string { return page.BlankZero(len(p.findingsOf(r.Name))) })},
		{Title: "Severity", Width: 82, Text: of(severityText)},
		{Title: "Numbers", Width: 250, Text: of(func(r *rule.Rule, s *timeline.Setting) string { return numbersText(p.h.Show().Told(), r, s) })},
		{Title: "What it finds", Text: of(func(r *rule.Rule, _ *timeline.Setting) string { return page.Upper(r.Summary) })},
		{Title: "Looks at", Width: 100, Text: of(func(r *rule.Rule, _ *timeline.Setting) string { return string(r.Scope) })},
		{Title: "Known by", Width: 110, Text: of(marksText)},
		{Title: "Why changed", Width: 160, Text: of(func(_ *rule.Rule, s *timeline.Setting) string {
			if s == nil {
				return ""
			}
			return s.Reason
		})},
	}
}

// severityText says how grave a finding of the rule is in this show.
func severityText(r *rule.Rule, s *timeline.Setting) string {
	switch {
	case r.OfSheet():
		return "sheet"
	case s != nil && s.Off:
		return "off"
	case s != nil && s.Severity != "":
		return s.Severity + ", own"
	}
	return string(r.Severity)
}

// numbersText lists the rule's own numbers as they are in this show.
func numbersText(told units.System, r *rule.Rule, s *timeline.Setting) string {
	var parts []string
	for _, n := range r.Settings {
		if n.Field != "" {
			continue
		}
		value, own := n.Default, ""
		if v := rule.OwnNumber(s, n.Name); v != "" {
			value, own = v, ", own"
		}
		parts = append(parts, strings.TrimSpace(n.Name+" "+n.Said(told, value))+own)
	}
	return strings.Join(parts, "; ")
}

// marksText lists how well the rule's numbers are known.
func marksText(r *rule.Rule, _ *timeline.Setting) string {
	var marks []string
	for _, n := range r.Settings {
		if m := string(n.Mark); m != "" && !slices.Contains(marks, m) {
			marks = append(marks, m)
		}
	}
	return strings.Join(marks, ", ")
}

// findingsOf gives the places of a rule's findings in the list of findings.
func (p *rules) findingsOf(name string) []int {
	var at []int
	for i, f := range p.h.Findings() {
		if f.Rule == name {
			at = append(at, i)
		}
	}
	return at
}

// chosen gives the rule of the row that is chosen.
func (p *rules) chosen() (rule.Rule, bool) {
	if p.h.Show() == nil || p.h.InView() != ID {
		return rule.Rule{}, false
	}
	rows := p.t.Chosen()
	if len(rows) != 1 {
		return rule.Rule{}, false
	}
	return rule.Lookup(rows[0].Key)
}

// chooseFirst is what to do where no rule is chosen.
const chooseFirst = "choose one rule on the page Rules first"

func (p *rules) needRule() string {
	if why := page.NeedEdit(p.h); why != "" {
		return why
	}
	if _, ok := p.chosen(); !ok {
		return chooseFirst
	}
	return ""
}

func (p *rules) needFinding() string {
	r, ok := p.chosen()
	switch {
	case !ok:
		return chooseFirst
	case len(p.findingsOf(r.Name)) == 0:
		return r.Name + " finds nothing now"
	}
	return ""
}

// goFinding goes to the first finding of the chosen rule.
func (p *rules) goFinding() {
	r, _ := p.chosen()
	p.h.GoFinding(p.findingsOf(r.Name)[0])
}
