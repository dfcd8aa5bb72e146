package rules

import (
	"cmp"
	"fmt"

	"emberbeat/render/desk/page"
	"emberbeat/shows/report"
	"emberbeat/timeline"
	"emberbeat/timeline/field"
	"emberbeat/timeline/operation"
	"emberbeat/timeline/rule"
)

// tune asks how the chosen rule is to work in this show.
func (p *rules) tune() {
	r, ok := p.chosen()
	if !ok {
		return
	}
	var now timeline.Setting
	if s := p.h.Show().Setting(r.Name); s != nil {
		now = *s
	}
	told := p.h.Show().Told()
	numbers := []page.Part{}
	lines := []string{page.Upper(r.Reason)}
	for _, n := range r.Settings {
		if n.Field != "" {
			lines = append(lines, fmt.Sprintf("%s: %s; it stands in %s.", page.Upper(n.Name), n.Help, n.Field))
			continue
		}
		own, in := rule.OwnNumber(&now, n.Name), ""
		if told.Unit(n.Unit) != n.Unit {
			in = told.Unit(n.Unit)
		}
		numbers = append(numbers, page.Part{Name: n.Name, Label: page.Label(n.Name), Text: told.Shown(n.Unit, own), Kept: own, Hint: told.Shown(n.Unit, n.Default), Unit: told.Unit(n.Unit), In: in,
			Help: fmt.Sprintf("%s. As it comes: %s (%s, %s)", page.Upper(n.Help), n.Said(told, n.Default), n.Mark, n.Source)})
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
	p.h.AskFor(o, timeline.Ref{}, page.Form{Title: o.Title + " " + r.Name, Caution: report.Caution, Lines: lines, Off: off, Parts: map[string][]page.Part{"numbers": numbers},
		Begin: func(args any) { args.(*rule.Tuning).Rule = r.Name },
		Given: map[string]string{"checked": fmt.Sprint(!now.Off), "severity": severity, "scope": field.Join(now.Scope), "reason": now.Reason},
		Choices: map[string]func() []page.Choice{"severity": func() []page.Choice {
			list := []page.Choice{{Value: operation.OwnSeverity, Name: cmp.Or(string(r.Severity), "none") + ", as it comes"}}
			for _, s := range []rule.Severity{rule.Error, rule.Warning, rule.Note} {
				list = append(list, page.Choice{Value: string(s), Name: string(s)})
			}
			return list
		}}})
}
